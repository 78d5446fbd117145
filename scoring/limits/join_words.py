"""Join words for a whole fleet at once."""

from collections.abc import Iterable, Sequence

import numpy as np
import pandas as pd
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Part = tuple[NDArray[np.bool_], str | NDArray[np.object_]]

MOST_COMBINATIONS = 2**31
"""Combinations counted before their numbers are drawn together, so that none runs over. Ours."""


def join_words(
    parts: Iterable[Part],
    size: int,
    *,
    mark: str = "; ",
    most: int | None = None,
) -> NDArray[np.object_]:
    """Join, for each unit, the words that hold for it.

    Parameters
    ----------
    parts : iterable of (ndarray of bool, str or ndarray of str)
        For which units the words hold, and the words; in the order in which they are joined.
    size : int
        Number of units.
    mark : str
        Stands between words.
    most : int, optional
        How many are written out; the rest is counted.

    Returns
    -------
    ndarray of str, shape (size,)

    Examples
    --------
    >>> here = np.array([True, True]), np.array([False, True])
    >>> join_words([(here[0], "a"), (here[1], "b")], 2).tolist()
    ['a', 'a; b']
    """
    given = [(where, words) for where, words in parts if where.any()]
    combination, row = _combinations(given, size)
    joined = np.full(len(row), "", dtype=object)
    count = np.zeros(len(row), dtype=np.int64)
    for where_all, words in given:
        where = where_all[row]
        shown = where if most is None else where & (count < most)
        picked = words if isinstance(words, str) else words[row[shown]]
        joined[shown] = joined[shown] + np.where(count[shown] > 0, mark, "").astype(object) + picked
        count += where
    if most is not None:
        more = count > most
        joined[more] += np.array([f"{mark}and {n} more" for n in count[more] - most], dtype=object)
    return joined[combination]


def _combinations(parts: Sequence[Part], size: int) -> tuple[Ints, Ints]:
    """Return the number of the combination of words of each unit, and a unit that has each.

    Most units share theirs with many others: it is joined once for all of them.
    """
    number, row, count = np.zeros(size, dtype=np.int64), np.arange(min(size, 1)), 1
    for where, words in parts:
        if isinstance(words, str):
            kind, kinds = where.astype(np.int64), 2
        else:
            kind = np.zeros(size, dtype=np.int64)
            code, distinct = pd.factorize(words[where])
            kind[where], kinds = code + 1, len(distinct) + 1
        number, count = number * kinds + kind, count * kinds
        if count > MOST_COMBINATIONS:
            number, row = _first_of_each(number)
            count = len(row)
    if len(parts):
        number, row = _first_of_each(number)
    return number, row


def _first_of_each(number: Ints) -> tuple[Ints, Ints]:
    """Return the place of each number among the distinct ones, and where each comes first."""
    code, distinct = pd.factorize(number)
    row = np.empty(len(distinct), dtype=np.int64)
    row[code[::-1]] = np.arange(len(code))[::-1]
    return code, row
