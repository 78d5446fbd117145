"""How many failures a unit has had by an age, on average, when it is repaired each time."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy import sparse

from scoring.learning.given_values import group_numbers
from scoring.learning.weighted_gram import Floats


@dataclass(frozen=True)
class MeanFailures:
    """Mean number of failures a unit, at each age of a failure.

    Attributes
    ----------
    age : ndarray, shape (n_ages,)
        Rising. [unit of the ages]
    at_risk : ndarray, shape (n_ages,)
        Units in sight. [-]
    mean : ndarray, shape (n_ages,)
        Failures a unit up to then. [-]
    variance : ndarray, shape (n_ages,)
        Of the mean, from how units really differ. [-]
    """

    age: Floats
    at_risk: Floats
    mean: Floats
    variance: Floats


def mean_failures(
    failure_unit: ArrayLike, failure_age: ArrayLike, unit: ArrayLike, end: ArrayLike
) -> MeanFailures:
    """Add up failures over the units in sight.

    Parameters
    ----------
    failure_unit : array_like, shape (n_failures,)
        Unit of each failure.
    failure_age : array_like, shape (n_failures,)
        Its age then, not above its ``end``. [any unit of age]
    unit : array_like, shape (n_units,)
        Every unit, once.
    end : array_like, shape (n_units,)
        Age up to which it was in sight, from 0. [same]

    Returns
    -------
    MeanFailures

    Raises
    ------
    ValueError
        If a failure is of no unit, or later than its unit was in sight.

    Notes
    -----
    The mean steps up by failures over units in sight; its variance is the sum over units of the
    square of what each adds to it, ``sum of (d_i - d / n) / n``. Method of the mean cumulative
    function, textbook (Nelson 2003, from memory).

    Examples
    --------
    >>> by_age = mean_failures(["a", "a", "b"], [1.0, 3.0, 3.0], ["a", "b"], [5.0, 4.0])
    >>> by_age.mean, by_age.variance
    (array([0.5, 1.5]), array([0.125, 0.125]))
    """
    names, ends = np.asarray(unit), np.asarray(end, dtype=np.float64)
    ages = np.asarray(failure_age, dtype=np.float64)
    numbers = group_numbers(
        np.concatenate([names, np.asarray(failure_unit)]), len(names) + len(ages)
    )
    of_failure = numbers[len(names) :]
    if (numbers[: len(names)] != np.arange(len(names))).any():
        raise ValueError("a unit is given twice")
    if (of_failure >= len(names)).any() or (ages > ends[of_failure % len(names)]).any():
        raise ValueError("a failure is of no unit, or later than its unit was in sight")
    age, where = np.unique(ages, return_inverse=True)
    at_risk = len(ends) - np.searchsorted(np.sort(ends), age, side="left").astype(np.float64)
    rate = np.bincount(where, minlength=len(age)) / at_risk
    share = np.cumsum(rate / at_risk)  # what a unit in sight is expected to add, up to each age
    failing, row = np.unique(of_failure, return_inverse=True)
    own = sparse.csr_array(
        (1 / at_risk[where], (row, where)), shape=(len(failing), len(age))
    ).toarray()
    own = np.cumsum(own, axis=1) - _share_up_to(ends[failing], age, share)
    variance = (own**2).sum(axis=0) + _squares_of_the_quiet(np.delete(ends, failing), age, share)
    return MeanFailures(age, at_risk, np.cumsum(rate), variance)


def _share_up_to(ends: Floats, age: Floats, share: Floats) -> Floats:
    """Return the share of each unit at each age, which stops growing at the unit's end."""
    last = np.searchsorted(age, ends, side="right")
    stopped = np.concatenate([[0.0], share])[last]
    return np.asarray(np.minimum(share, stopped[:, None]))


def _squares_of_the_quiet(ends: Floats, age: Floats, share: Floats) -> Floats:
    """Sum the squared shares of units without a failure, without a row for each."""
    last = np.searchsorted(age, ends, side="right")
    stopped = np.bincount(last, minlength=len(age) + 1)
    gone = np.concatenate([[0], np.cumsum(stopped)[:-1]])[1:]  # ended before the age
    squares = np.concatenate([[0.0], share]) ** 2
    of_the_gone = np.cumsum(stopped * squares)[: len(age)]
    return np.asarray(of_the_gone + (len(ends) - gone) * share**2)
