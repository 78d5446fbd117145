"""What failed when, at daily resolution, and how long leaks and slips that were seen stood."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract.events import JOINT_SLIP, MODES, SEAL_LEAK
from scoring.timeline import Timeline
from scoring.timeline.order import number_of_unit_day
from scoring.timeline.unit_days import NEVER, UnitDays

Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]
Days = NDArray[np.datetime64]


@dataclass(frozen=True)
class Standing:
    """Failures that a walkdown saw, and that stood for a time; sorted by unit and day.

    Attributes
    ----------
    unit : ndarray of int, shape (n_failures,)
        The unit.
    since, until : ndarray of datetime64[D], shape (n_failures,)
        When it was first seen, and when it was put right; from the day after the first until and
        with the last it cannot happen again. Standing still: a day after all others.
    """

    unit: Ints
    since: Days
    until: Days

    @classmethod
    def of(cls, seen: pd.DataFrame, ended: str) -> "Standing":
        """Take what ``Timeline`` says, with the name of its column of ends."""
        unit = seen["unit"].to_numpy(dtype=np.int64)
        since, until = (seen[name].to_numpy().astype("datetime64[D]") for name in ("day", ended))
        return cls(unit, since, np.where(np.isnat(until), NEVER, until))

    def none_after(self, from_on: UnitDays) -> Flags:
        """Tell at which units nothing stands on the day after each moment."""
        last = from_on.last(self.unit, self.since)
        until = np.append(self.until, np.datetime64("0001-01-01", "D"))
        sound: Flags = until[last] <= from_on.day
        return sound


@dataclass(frozen=True)
class Failures:
    """Failures, as recorded by a day.

    Attributes
    ----------
    of_mode : dict of str to UnitDays
        For each mode, units and days of its failures. What is written down twice for one unit
        and day is one failure.
    standing : dict of str to Standing
        For leaks and slips, those that a walkdown saw.
    """

    of_mode: dict[str, UnitDays]
    standing: dict[str, Standing]

    def at_risk(self, mode: str, from_on: UnitDays) -> Flags:
        """Tell at which units no such failure stands on the day after each moment."""
        if mode not in self.standing:
            return np.ones(len(from_on.unit), dtype=bool)
        return self.standing[mode].none_after(from_on)


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
    A seal seen dripping has failed on that day, and a joint whose witness mark was seen moved.
    Where an event tells of the same failure later, it stood from the day it was seen, and the event
    adds none.
    """
    records, events = timeline.records, timeline.fleet.events
    part = records.of_table["events"]
    known = records.known_from[part] <= np.datetime64(as_of.date(), "D")
    standing = {
        SEAL_LEAK: Standing.of(timeline.leaks_seen(as_of), "renewed_on"),
        JOINT_SLIP: Standing.of(timeline.slips_seen(as_of), "ended_on"),
    }
    of_mode = {}
    for mode in MODES:
        here = known & (events["mode"] == mode).to_numpy()
        unit, day = records.unit[part][here], records.day[part][here]
        if mode in standing:
            seen = standing[mode]
            unit, day = np.concatenate([unit, seen.unit]), np.concatenate([day, seen.since])
        _, once = np.unique(number_of_unit_day(unit, day), return_index=True)
        of_mode[mode] = UnitDays(unit[once], day[once])
    return Failures(of_mode, standing)
