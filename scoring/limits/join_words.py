"""Join words for a whole fleet at once."""

from collections.abc import Iterable, Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

Part = tuple[NDArray[np.bool_], str | NDArray[np.object_]]

JOINED_AT_ONCE = 8
"""Words of which all combinations are told apart: few enough that units share them. Ours."""


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
    joined = np.full(size, "", dtype=object)
    count = np.zeros(size, dtype=np.int64)
    for where, words in parts if most is not None else _fewer(parts, size, mark):
        shown = where if most is None else where & (count < most)
        picked = words if isinstance(words, str) else words[shown]
        joined[shown] = joined[shown] + np.where(count[shown] > 0, mark, "").astype(object) + picked
        count += where
    if most is not None:
        more = count > most
        joined[more] += np.array([f"{mark}and {n} more" for n in count[more] - most], dtype=object)
    return joined


def _fewer(parts: Iterable[Part], size: int, mark: str) -> Iterator[Part]:
    """Join words that are the same for all units, some at a time: each combination once."""
    same: list[tuple[NDArray[np.bool_], str]] = []
    for where, words in parts:
        if isinstance(words, str):
            if where.any():
                same.append((where, words))
            if len(same) < JOINED_AT_ONCE:
                continue
        if same:
            yield _each_combination_once(same, size, mark)
            same = []
        if not isinstance(words, str):
            yield where, words
    if same:
        yield _each_combination_once(same, size, mark)


def _each_combination_once(
    parts: Sequence[tuple[NDArray[np.bool_], str]], size: int, mark: str
) -> Part:
    combination = np.zeros(size, dtype=np.int64)
    for place, (where, _) in enumerate(parts):
        combination += where.astype(np.int64) << place
    texts = np.full(1 << len(parts), "", dtype=object)
    for number in np.flatnonzero(np.bincount(combination, minlength=len(texts))):
        here = [words for place, (_, words) in enumerate(parts) if number >> place & 1]
        texts[number] = mark.join(here)
    return combination > 0, texts[combination]
