"""A joint that slipped: its seat on the shaft counts as worn until somebody has seen it."""

import numpy as np
import pandas as pd

from scoring.contract.events import JOINT_SLIP
from scoring.contract.walkdowns import CHECK_BY_NAME
from scoring.records import Fleet
from scoring.timeline.looks import Looks
from scoring.timeline.order import Records

SHAFT_SEAT = "shaft_seat"
WORN = "worn"


def slipped_seats(fleet: Fleet, records: Records) -> Looks:
    """Return each slip on record as if somebody had seen the seat worn that day.

    Parameters
    ----------
    fleet : Fleet
        Checked tables.
    records : Records
        Their order.

    Returns
    -------
    Looks
        At ``shaft_seat``, just before the unit comes off its shaft; rows as in ``Looks``.
    """
    row = np.flatnonzero((fleet.events["mode"] == JOINT_SLIP).to_numpy())
    record = row + records.of_table["events"].start
    order = np.argsort(records.position[record])
    row, record = row[order], record[order]
    worst = float(CHECK_BY_NAME[SHAFT_SEAT].allowed.index(WORN))
    return Looks(
        row=row + len(fleet.walkdowns),
        unit=records.unit[record],
        position=records.position[record],
        day=records.day[record],
        known_from=records.known_from[record],
        exceedance=np.full(len(row), worst),
    )


def said_and_slipped(check: str, fleet: Fleet) -> "pd.Series[float]":
    """Return what walkdowns said of a check and, of the seat, what slips say; rows as in ``Looks``.

    Parameters
    ----------
    check : str
        Name of the check.
    fleet : Fleet
        Checked tables.

    Returns
    -------
    Series, shape (n_walkdowns,) or (n_walkdowns + n_events,)
    """
    said = fleet.walkdowns[check]
    if check != SHAFT_SEAT:
        return said
    worn = pd.Series([WORN] * len(fleet.events), dtype=said.dtype)
    joined: pd.Series[float] = pd.concat([said, worn], ignore_index=True)
    return joined
