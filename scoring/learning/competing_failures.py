"""How often each of several failures comes first."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from scoring.learning.life_tables import life_table
from scoring.learning.lifetimes import Lifetimes
from scoring.learning.weighted_gram import Floats


@dataclass(frozen=True)
class FirstFailures:
    """Fractions that have failed first in each way, at each age of a failure.

    Attributes
    ----------
    age : ndarray, shape (n_ages,)
        Rising. [unit of the ages]
    fraction : dict of str to ndarray, shape (n_ages,)
        By failure. [-]
    survivors : ndarray, shape (n_ages,)
        Fraction left; with the others it makes 1. [-]
    """

    age: Floats
    fraction: dict[str, Floats]
    survivors: Floats


def first_failures(lives: Lifetimes, failure: ArrayLike) -> FirstFailures:
    """Add up, for each failure, who was left to suffer it.

    Parameters
    ----------
    lives : Lifetimes
        What is known of the first failure of each unit.
    failure : array_like of str, shape (n_rows,)
        Which failure it was; not looked at where nothing failed.

    Returns
    -------
    FirstFailures

    Notes
    -----
    ``F_k(t) = sum of S(t-) d_k / n`` with S for any failure; textbook (Aalen and Johansen, from
    memory). One less the product limit of one failure alone would be too large: it counts units
    that had already failed otherwise.

    Examples
    --------
    >>> lives = Lifetimes.of([1.0, 2.0, 3.0, 4.0], [True, True, False, True])
    >>> first = first_failures(lives, ["seal", "bearing", "", "seal"])
    >>> first.fraction["seal"], first.fraction["bearing"]
    (array([0.25, 0.25, 0.75]), array([0.  , 0.25, 0.25]))
    """
    names = np.asarray(failure, dtype=str)
    table = life_table(lives)
    before = np.concatenate([[1.0], table.survivors[:-1]])
    fraction = {}
    for name in np.unique(names[lives.failed]):
        of_it = lives.failed & (names == name)
        where = np.searchsorted(table.age, lives.end[of_it])
        failed = np.bincount(where, lives.count[of_it], minlength=len(table.age))
        fraction[str(name)] = np.cumsum(before * failed / table.at_risk)
    return FirstFailures(table.age, fraction, table.survivors)
