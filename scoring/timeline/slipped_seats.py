"""A joint that slipped: its seat on the shaft counts as worn until somebody has seen it."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract.events import JOINT_SLIP
from scoring.contract.walkdowns import CHECK_BY_NAME
from scoring.records import Fleet
from scoring.timeline.looks import Looks
from scoring.timeline.order import Records

SHAFT_SEAT = "shaft_seat"
WORN = "worn"

Said = NDArray[np.float64] | pd.Categorical
"""Values of a check."""


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


def said_and_slipped(check: str, fleet: Fleet) -> Said:
    """Return what walkdowns said of a check and, of the seat, what slips say; rows as in ``Looks``.

    Parameters
    ----------
    check : str
        Name of the check.
    fleet : Fleet
        Checked tables.

    Returns
    -------
    array of numbers or Categorical, shape (n_walkdowns,) or (n_walkdowns + n_events,)
    """
    said = fleet.walkdowns[check]
    if not isinstance(said.dtype, pd.CategoricalDtype):
        return said.to_numpy(dtype=np.float64)
    words: pd.Categorical = said.array
    if check != SHAFT_SEAT:
        return words
    worn = np.full(len(fleet.events), said.dtype.categories.get_loc(WORN), dtype=np.int8)
    joined: pd.Categorical = pd.Categorical.from_codes(  # type: ignore[assignment]
        np.append(words.codes, worn), dtype=said.dtype
    )
    return joined
