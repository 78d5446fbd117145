"""What failed when, at daily resolution, and while which seals leaked."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract.events import LOW_SPEED_BEARING, SEAL_LEAK
from scoring.timeline import Timeline
from scoring.timeline.order import number_of_unit_day
from scoring.timeline.unit_days import NEVER, UnitDays

Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]
Days = NDArray[np.datetime64]

MODES = (LOW_SPEED_BEARING, SEAL_LEAK)
"""The failures that are explained."""


@dataclass(frozen=True)
class Failures:
    """Failures and leaks, as recorded by a day.

    Attributes
    ----------
    of_mode : dict of str to UnitDays
        For each mode, units and days of its failures. What is written down twice for one unit
        and day is one failure.
    leak_unit : ndarray of int, shape (n_leaks,)
        Units with a leak that a walkdown saw, sorted by unit and day.
    leak_since, leak_until : ndarray of datetime64[D], shape (n_leaks,)
        When it was first seen, and when the seal was renewed; from the day after the first until
        and with the last the seal is not at risk. Still leaking: a day after all others.
    """

    of_mode: dict[str, UnitDays]
    leak_unit: Ints
    leak_since: Days
    leak_until: Days

    def seal_is_at_risk(self, from_on: UnitDays) -> Flags:
        """Tell at which units no leak stands on the day after each moment."""
        leak = from_on.last(self.leak_unit, self.leak_since)
        until = np.append(self.leak_until, np.datetime64("0001-01-01", "D"))
        sound: Flags = until[leak] <= from_on.day
        return sound


def failures_recorded(timeline: Timeline, as_of: pd.Timestamp) -> Failures:
    """Return what failed, as far as it had been recorded by the end of a day.

    Parameters
    ----------
    timeline : Timeline
        The records.
    as_of : Timestamp
        The day.

    Returns
    -------
    Failures

    Notes
    -----
    A seal seen dripping has failed on that day. Where an event tells of the same leak later, the
    leak stood from the day it was seen, and the event adds no failure.
    """
    records, events = timeline.records, timeline.fleet.events
    part = records.of_table["events"]
    known = records.known_from[part] <= np.datetime64(as_of.date(), "D")
    leaks = timeline.leaks_seen(as_of)
    seen, since = leaks["unit"].to_numpy(), leaks["day"].to_numpy().astype("datetime64[D]")
    renewed = leaks["renewed_on"].to_numpy().astype("datetime64[D]")
    of_mode = {}
    for mode in MODES:
        here = known & (events["mode"] == mode).to_numpy()
        unit, day = records.unit[part][here], records.day[part][here]
        if mode == SEAL_LEAK:
            unit, day = np.concatenate([unit, seen]), np.concatenate([day, since])
        _, once = np.unique(number_of_unit_day(unit, day), return_index=True)
        of_mode[mode] = UnitDays(unit[once], day[once])
    return Failures(of_mode, seen, since, np.where(np.isnat(renewed), NEVER, renewed))
