"""Slips that a witness mark tells of: one seen moved is a slip of that day.

It stands until somebody has seen the seat of the joint, or the shaft was renewed. A slip on record
is written down with its repair, and so ends it, too.
"""

import numpy as np
import pandas as pd

from scoring.contract.events import JOINT_SLIP
from scoring.records import Fleet
from scoring.timeline.looks import Looks
from scoring.timeline.order import Records, number_of_unit_day
from scoring.timeline.resets import Resets
from scoring.timeline.what_hanging_does import SHAFT_SEAT


def slips_seen(
    fleet: Fleet,
    records: Records,
    resets: Resets,
    looks: tuple[Looks, Looks],
    today: np.datetime64,
) -> pd.DataFrame:
    """Return the slips known by the end of a day that a walkdown saw before any event told of them.

    Parameters
    ----------
    fleet : Fleet
        Checked tables.
    records : Records
        Their order.
    resets : Resets
        What renewed shafts.
    looks : tuple of Looks
        Looks at the witness mark and at the seat on the shaft.
    today : datetime64[D]
        The day.

    Returns
    -------
    DataFrame
        ``unit``: place in ``Fleet.units``; ``day``: when the mark was first seen moved;
        ``ended_on``: when it stood no more, missing where it still does. One row for each slip.
    """
    marks, seats = looks
    marks = marks.where((marks.known_from <= today) & (marks.exceedance > 0))
    seat_at = seats.position[seats.known_from <= today]
    event = np.flatnonzero((fleet.events["mode"] == JOINT_SLIP).to_numpy())
    event += records.of_table["events"].start
    event = event[records.known_from[event] <= today]
    own_day = np.isin(number_of_unit_day(marks.unit, marks.day), records.unit_day[event])
    moved = marks.where(~own_day)

    renewed_at = resets.position[resets.cures[SHAFT_SEAT] & (resets.known_from <= today)]
    end = np.sort(np.concatenate([seat_at, records.position[event], renewed_at])).astype(np.int64)
    following = np.searchsorted(end, moved.position, side="right")
    first = np.ones(len(following), dtype=bool)
    first[1:] = (moved.unit[1:] != moved.unit[:-1]) | (following[1:] != following[:-1])
    ended_on = np.full(len(following), np.datetime64("NaT", "D"))
    ends = following < len(end)
    record = records.record_at[end[following[ends]]]
    ends[ends] = records.unit[record] == moved.unit[ends]
    ended_on[ends] = records.day[records.record_at[end[following[ends]]]]
    slips = {"unit": moved.unit, "day": moved.day, "ended_on": ended_on}
    return pd.DataFrame(slips)[first].reset_index(drop=True)
