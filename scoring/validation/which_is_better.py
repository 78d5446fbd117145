"""Whether one of two ways to predict failures is worse than chance explains."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.validation.predictions import FLEET, HANDBOOK

Floats = NDArray[np.float64]

MOST_UNITS = 20_000
"""Units of a day whose pairs are looked at; of more, every second, third ... one. Ours."""

PAIRS_AT_ONCE = 4_000_000
"""Pairs looked at in one go, to bound memory. Ours."""

ROUNDING = 1e-9
"""What is gained or lost by less is a rounding of the machine's arithmetic: a level alone moves no
proportion."""

STANDARD_ERRORS = 2.0
"""How much worse the fleet's own failures may make it before the handbook alone is used. [-]"""


@dataclass(frozen=True)
class Gain:
    """What was gained by one way over another.

    Attributes
    ----------
    value : float
        Above 0 for better.
    error : float
        Its standard error; missing where too little happened to tell.
    """

    value: float
    error: float

    @property
    def worse(self) -> bool:
        """Whether it is worse by more than two standard errors."""
        return bool(self.value < -STANDARD_ERRORS * self.error - ROUNDING)


def gain_in_likelihood(table: pd.DataFrame) -> Gain:
    """Compare the logarithms of the likelihood of what came true.

    Parameters
    ----------
    table : DataFrame
        Of one failure, from ``predictions``.

    Returns
    -------
    Gain
        A sum over units; the error is that of a sum of independent units.

    Examples
    --------
    >>> table = pd.DataFrame({
    ...     "place": [0, 1], "failed": [True, False],
    ...     "expected_handbook": [0.1, 0.1], "expected_fleet": [0.2, 0.1],
    ... })
    >>> round(gain_in_likelihood(table).value, 3)  # log(2) - 0.1
    0.593
    """
    before, after = table["expected_handbook"].to_numpy(), table["expected_fleet"].to_numpy()
    failed = table["failed"].to_numpy(dtype=np.float64)
    logs = np.log(np.maximum(after, 1e-300)) - np.log(np.maximum(before, 1e-300))
    of_unit = _by_unit(table["place"].to_numpy(), failed * logs - (after - before))
    return Gain(float(of_unit.sum()), _error_of_sum(of_unit))


def gain_in_proportions(table: pd.DataFrame) -> Gain:
    """Compare how likely it was that these units failed and no others, given how many failed.

    Parameters
    ----------
    table : DataFrame
        Of one failure, from ``predictions``.

    Returns
    -------
    Gain
        As ``gain_in_likelihood``, after what is expected of each day is scaled to the failures that
        followed: a wrong level neither helps nor hurts.

    Examples
    --------
    >>> table = pd.DataFrame({
    ...     "since": 0, "place": [0, 1], "failed": [True, False],
    ...     "expected_handbook": [0.1, 0.1], "expected_fleet": [0.3, 0.1],
    ... })
    >>> round(gain_in_proportions(table).value, 3)  # log(0.75 / 0.5)
    0.405
    """
    scaled = table.copy()
    days = table["since"]
    failed = table["failed"].astype(np.float64).groupby(days).transform("sum")
    for column in ("expected_handbook", "expected_fleet"):
        scaled[column] *= failed / table[column].groupby(days).transform("sum")
    return gain_in_likelihood(scaled[failed > 0])


def gain_in_concordance(table: pd.DataFrame, *, before: str = HANDBOOK, after: str = FLEET) -> Gain:
    """Compare how often, of two units, the one that failed first was predicted more.

    Parameters
    ----------
    table : DataFrame
        Of one failure, from ``predictions``. Pairs are of units of one day.
    before, after : str
        Columns of the two ways, the second of which may gain; by default handbook, and handbook and
        fleet.

    Returns
    -------
    Gain
        Difference of Harrell's indices. The error is that of a ratio of sums over pairs, each pair
        counted at both its units (the projection of a U-statistic, textbook); units that come again
        on another day count as one.
    """
    pairs, gained = 0.0, 0.0
    of_unit = np.zeros((int(table["place"].max()) + 1 if len(table) else 0, 2))
    for _, day in table.groupby("since", sort=True):
        step = -(-len(day) // MOST_UNITS)
        some = day.iloc[::step]
        sums = _gain_of_units(some, before, after)
        np.add.at(of_unit, some["place"].to_numpy(), sums)
        gained += float(sums[:, 0].sum() / 2)
        pairs += float(sums[:, 1].sum() / 2)
    if pairs == 0:
        return Gain(0.0, float("nan"))
    value = gained / pairs
    residual = of_unit[:, 0] - value * of_unit[:, 1]
    return Gain(value, float(np.sqrt((residual**2).sum()) / pairs))


def _gain_of_units(day: pd.DataFrame, old: str, new: str) -> Floats:
    """Return for each unit what its pairs gained, and how many there are, shape (n_units, 2)."""
    years, failed = day["years"].to_numpy(), day["failed"].to_numpy(dtype=bool)
    before, after = day[old].to_numpy(), day[new].to_numpy()
    begins = np.flatnonzero(failed)
    sums = np.zeros((len(day), 2))
    size = max(1, PAIRS_AT_ONCE // max(1, len(day)))
    for start in range(0, len(begins), size):
        first = begins[start : start + size]
        own = years[first, np.newaxis]
        later = (years > own) | ((years == own) & ~failed)
        gain = later * (_won(after, first) - _won(before, first))
        for column, values in enumerate((gain, later.astype(np.float64))):
            sums[:, column] += values.sum(axis=0)
            np.add.at(sums[:, column], first, values.sum(axis=1))
    return sums


def _won(score: Floats, first: NDArray[np.int64]) -> Floats:
    own = score[first, np.newaxis]
    won: Floats = (own > score) + 0.5 * (own == score)
    return won


def _by_unit(place: NDArray[np.int64], values: Floats) -> Floats:
    _, number = np.unique(place, return_inverse=True)
    sums: Floats = np.bincount(number, values).astype(np.float64)
    return sums


def _error_of_sum(values: Floats) -> float:
    if len(values) < 2:
        return float("nan")
    return float(np.sqrt(len(values) * values.var(ddof=1)))
