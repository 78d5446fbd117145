"""From an outcome to the number or word that a perfect look would give."""

from dataclasses import dataclass

import numpy as np

from demo_data.arrays import Codes, Floats, Whole
from demo_data.fault_arrays import HIGH, IS_NUMBER, LOW, SCALE_AT, WORD_CODE
from demo_data.fault_table import CHECK_NAMES
from scoring.contract.declaration import Kind
from scoring.contract.walkdowns import CHECK_BY_NAME

_WHOLE = np.array([CHECK_BY_NAME[name].kind is Kind.COUNT for name in CHECK_NAMES])


@dataclass(frozen=True)
class Yardsticks:
    """What each unit's measured ranges are multiples of, shape (units, scales)."""

    start: Floats
    span: Floats


def values_of(
    outcome: Codes, position: Floats, mounting: Whole, yardsticks: Yardsticks, rows: Whole
) -> Floats:
    """Return what every check would show to a perfect look.

    Parameters
    ----------
    outcome : int8 array, shape (rows, checks)
        The outcomes.
    position : float array, shape (rows, checks)
        Place within the outcome's range, from 0 to below 1.
    mounting : int array, shape (rows,)
        Place of the mounting in the contract's list.
    yardsticks : Yardsticks
        Of all units.
    rows : int array, shape (rows,)
        The units that are meant.

    Returns
    -------
    float array, shape (rows, checks)
        A number, or the place of a word in the contract's list.
    """
    at = np.arange(len(CHECK_NAMES))[None, :]
    within = LOW[at, outcome] + (HIGH - LOW)[at, outcome] * position
    scale = SCALE_AT[at, outcome]
    number = yardsticks.start[rows[:, None], scale] + within * yardsticks.span[rows[:, None], scale]
    number = np.where(_WHOLE, np.floor(number + 1e-9), number)
    return np.where(IS_NUMBER, number, WORD_CODE[mounting[:, None], at, outcome])
