"""The ranges of a measured check at each unit: what is good, and what is plausible."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import Check, Kind, Worse
from scoring.contract.plausible import Bound
from scoring.limits.exceedance import exceedance_of

Floats = NDArray[np.float64]

_FAR = 2.0**20
"""Beyond every limit, and a power of two, so that little is lost by taking it off again."""

_BELOW_IS_WORSE = (Worse.LESS, Worse.OUTSIDE_RANGE, Worse.AWAY_FROM_SPECIFIED)
_ABOVE_IS_WORSE = (Worse.MORE, Worse.OUTSIDE_RANGE, Worse.AWAY_FROM_SPECIFIED)


@dataclass(frozen=True)
class Ranges:
    """A range at each unit, in the unit of the check.

    Attributes
    ----------
    low, high : ndarray, shape (n_units,)
        Its ends; missing where it is open, or nothing is known.
    """

    low: Floats
    high: Floats


def good_ranges(check: Check, limits: pd.DataFrame) -> Ranges:
    """Return what is good at each unit.

    How bad a measured value is, is how far it lies beyond its limit; so that of a value far out
    tells the limit. Thus the form can never disagree with the rules.

    Parameters
    ----------
    check : Check
        A measured check.
    limits : DataFrame, shape (n_units, n_limits)
        Limits of the units.

    Returns
    -------
    Ranges
    """
    nothing = np.full(len(limits), np.nan)

    def beyond(value: float) -> Floats:
        return exceedance_of(check, np.full(len(limits), value), limits)

    low = np.round(beyond(-_FAR) - _FAR, 9) if check.worse in _BELOW_IS_WORSE else nothing
    high = np.round(_FAR - beyond(_FAR), 9) if check.worse in _ABOVE_IS_WORSE else nothing
    return Ranges(low, high)


def plausible_ranges(check: Check, units: pd.DataFrame, good: Ranges) -> Ranges:
    """Return within what a value is not questioned: never narrower than what is good.

    Parameters
    ----------
    check : Check
        A measured check.
    units : DataFrame, shape (n_units, ...)
        The table ``units``.
    good : Ranges
        What is good.

    Returns
    -------
    Ranges
    """
    low = _bound(check.plausible.low, units)
    high = _bound(check.plausible.high, units)
    low = np.where(np.isnan(low), low, np.fmin(low, good.low))
    high = np.where(np.isnan(high), high, np.fmax(high, good.high))
    if check.kind is Kind.COUNT:
        low, high = np.floor(low), np.ceil(high)
    return Ranges(low, high)


def _bound(bound: Bound, units: pd.DataFrame) -> Floats:
    fixed = np.full(len(units), np.nan if bound.fixed is None else bound.fixed)
    if not bound.of:
        return fixed
    beside = bound.times * units[bound.of].to_numpy(dtype=np.float64) + bound.plus
    return np.where(np.isnan(beside), fixed, beside)
