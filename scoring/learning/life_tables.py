"""Who is left, and how failures add up, without assuming a shape."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from scoring.learning.lifetimes import Lifetimes
from scoring.learning.weighted_gram import Floats


@dataclass(frozen=True)
class LifeTable:
    """One row for each age at which something failed.

    Attributes
    ----------
    age : ndarray, shape (n_ages,)
        Rising. [unit of the ages]
    at_risk : ndarray, shape (n_ages,)
        Units under observation just before. [-]
    failures : ndarray, shape (n_ages,)
        Failures then. [-]
    survivors : ndarray, shape (n_ages,)
        Fraction left after it, by the product limit. [-]
    survivors_error : ndarray, shape (n_ages,)
        Its standard error; missing once nobody is left. [-]
    cumulative_hazard : ndarray, shape (n_ages,)
        Sum of failures over units at risk. [-]
    """

    age: Floats
    at_risk: Floats
    failures: Floats
    survivors: Floats
    survivors_error: Floats
    cumulative_hazard: Floats

    def survivors_at(self, age: ArrayLike, *, just_before: bool = False) -> Floats:
        """Return the fraction left at ages, or just before them.

        Parameters
        ----------
        age : array_like
            [unit of the ages]
        just_before : bool, default False
            Whether failures at the very age are still to come.

        Returns
        -------
        ndarray
            [-]
        """
        steps = np.concatenate([[1.0], self.survivors])
        ages = np.asarray(age, dtype=np.float64)
        passed = np.searchsorted(self.age, ages, side="left" if just_before else "right")
        return np.asarray(steps[passed])


def life_table(lives: Lifetimes) -> LifeTable:
    """Count who was at risk and who failed at each age.

    Parameters
    ----------
    lives : Lifetimes
        What is known.

    Returns
    -------
    LifeTable

    Notes
    -----
    A unit is at risk if entry < age <= end: one that leaves observation at the very age of a
    failure is still counted. Product limit with Greenwood's standard error, and the sum of failures
    over units at risk; textbook (Kaplan and Meier, Nelson and Aalen, from memory).

    Examples
    --------
    >>> table = life_table(Lifetimes.of([2.0, 2.0, 3.0, 5.0], [True, False, True, False]))
    >>> table.age, table.at_risk, table.survivors.round(3)
    (array([2., 3.]), array([4., 2.]), array([0.75 , 0.375]))
    """
    failures = lives.count * lives.failed
    age, where = np.unique(lives.end[failures > 0], return_inverse=True)
    failed = np.asarray(np.bincount(where, failures[failures > 0]), dtype=np.float64)
    at_risk = count_at_risk(lives, age)
    survivors = np.asarray(np.cumprod(1 - failed / at_risk), dtype=np.float64)
    with np.errstate(divide="ignore", invalid="ignore"):  # nobody left: no error to give
        terms = np.cumsum(failed / (at_risk * (at_risk - failed)))
        error = np.asarray(survivors * np.sqrt(terms), dtype=np.float64)
    return LifeTable(age, at_risk, failed, survivors, error, np.cumsum(failed / at_risk))


def count_at_risk(lives: Lifetimes, age: Floats) -> Floats:
    """Count the units under observation just before ages.

    Parameters
    ----------
    lives : Lifetimes
        What is known.
    age : ndarray, shape (n_ages,)
        [unit of the ages]

    Returns
    -------
    ndarray, shape (n_ages,)
        Units with entry < age <= end. [-]

    Examples
    --------
    >>> count_at_risk(Lifetimes.of([3.0, 5.0], True, entry=[0.0, 2.0]), np.array([2.0, 3.0, 5.0]))
    array([1., 2., 1.])
    """
    return _count_below(lives.entry, lives.count, age) - _count_below(lives.end, lives.count, age)


def _count_below(values: Floats, count: Floats, limits: Floats) -> Floats:
    """Return how many units have a value below each limit."""
    order = np.argsort(values, kind="stable")
    running = np.concatenate([[0.0], np.cumsum(count[order])])
    return np.asarray(running[np.searchsorted(values[order], limits, side="left")])
