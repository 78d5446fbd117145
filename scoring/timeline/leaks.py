"""Leaks that walkdowns saw dripping and that no event tells of.

A seal seen dripping has failed that day and leaks until it is renewed. Where the seal is next
renewed by a recorded seal leak, or a seal leak is recorded on the same day, that event is the
failure and the walkdown adds none.
"""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract.events import SEAL_LEAK
from scoring.records import Fleet
from scoring.timeline.looks import Looks
from scoring.timeline.order import Records, number_of_unit_day
from scoring.timeline.resets import Resets
from scoring.timeline.unit_days import NEVER

Days = NDArray[np.datetime64]

DRIPPING = 2.0
"""Exceedance of a dripping seal: its place in the list of words."""


def unrecorded_leaks(
    fleet: Fleet, records: Records, resets: Resets, looks: Looks, today: np.datetime64
) -> pd.DataFrame:
    """Return the leaks known by the end of a day that no event tells of.

    Parameters
    ----------
    fleet : Fleet
        Checked tables.
    records : Records
        Their order.
    resets : Resets
        What renewed seals.
    looks : Looks
        Looks at ``seal_weep``.
    today : datetime64[D]
        The day.

    Returns
    -------
    DataFrame
        ``unit``: place in ``Fleet.units``; ``day``: when it was first seen dripping; ``stands``:
        whether it leaks still. One row for each leak.
    """
    leaks = leaks_seen(fleet, records, resets, looks, today)
    unit, day, renewed_on, by_event = (leaks[name].to_numpy() for name in leaks)
    stands = np.isnat(renewed_on)
    told = {"unit": unit, "day": day, "stands": stands}
    return pd.DataFrame({name: values[~by_event] for name, values in told.items()})


def leaks_seen(
    fleet: Fleet, records: Records, resets: Resets, looks: Looks, today: np.datetime64
) -> pd.DataFrame:
    """Return the leaks known by the end of a day that a walkdown saw before any event told of them.

    Parameters
    ----------
    fleet : Fleet
        Checked tables.
    records : Records
        Their order.
    resets : Resets
        What renewed seals.
    looks : Looks
        Looks at ``seal_weep``.
    today : datetime64[D]
        The day.

    Returns
    -------
    DataFrame
        ``unit`` and ``day`` as above; ``renewed_on``: when the seal was renewed, missing where it
        leaks still; ``by_event``: whether it was renewed by an event that tells of the leak.
    """
    looks = looks.where((looks.known_from <= today) & (looks.exceedance == DRIPPING))
    looks = without_reported(fleet, records, looks, today)

    known = resets.new_seal & (resets.known_from <= today)
    renewal = resets.position[known]
    unit_of_renewal = resets.unit[known]
    following = np.searchsorted(renewal, looks.position, side="right")
    first = np.ones(len(following), dtype=bool)
    first[1:] = (looks.unit[1:] != looks.unit[:-1]) | (following[1:] != following[:-1])

    ends = following < len(renewal)
    ends[ends] = unit_of_renewal[following[ends]] == looks.unit[ends]
    by_event = np.zeros(len(following), dtype=bool)
    by_event[ends] = _is_leak_event(fleet, records)[records.record_at[renewal[following[ends]]]]
    renewed_on = np.full(len(following), np.datetime64("NaT", "D"))
    renewed_on[ends] = resets.day[known][following[ends]]
    leaks = {"unit": looks.unit, "day": looks.day, "renewed_on": renewed_on, "by_event": by_event}
    return pd.DataFrame(leaks)[first].reset_index(drop=True)


def without_reported(fleet: Fleet, records: Records, looks: Looks, today: np.datetime64) -> Looks:
    """Leave out looks that saw on the same day the leak that an event tells of."""
    own_day = _days_with_leak_event(fleet, records, today)
    dripping = np.flatnonzero(looks.exceedance == DRIPPING)
    day = number_of_unit_day(looks.unit[dripping], looks.day[dripping])
    kept = np.ones(len(looks.unit), dtype=bool)
    kept[dripping] = ~np.isin(day, own_day)
    return looks.where(kept)


def reported_from(fleet: Fleet, records: Records, looks: Looks) -> Days:
    """Return from when on an event is known to tell of what a look saw dripping that day.

    Parameters
    ----------
    fleet : Fleet
        Checked tables.
    records : Records
        Their order.
    looks : Looks
        Looks at ``seal_weep``.

    Returns
    -------
    ndarray of datetime64[D], shape (n_looks,)
        A day after all others where no event tells of it.
    """
    event = np.flatnonzero(_is_leak_event(fleet, records))
    event = event[np.lexsort([records.known_from[event], records.unit_day[event]])]
    first_day = np.append(records.known_from[event], NEVER)
    key = records.unit_day[event]
    own = number_of_unit_day(looks.unit, looks.day)
    place = np.searchsorted(key, own)
    reported = (np.append(key, -1)[place] == own) & (looks.exceedance == DRIPPING)
    return np.where(reported, first_day[place], NEVER)


def _is_leak_event(fleet: Fleet, records: Records) -> NDArray[np.bool_]:
    flags = np.zeros(len(records.unit), dtype=bool)
    flags[records.of_table["events"]] = (fleet.events["mode"] == SEAL_LEAK).to_numpy()
    return flags


def _days_with_leak_event(
    fleet: Fleet, records: Records, today: np.datetime64
) -> NDArray[np.int64]:
    record = np.flatnonzero(_is_leak_event(fleet, records) & (records.known_from <= today))
    return records.unit_day[record]
