"""Join words for a whole fleet at once."""

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray


def join_words(
    parts: Iterable[tuple[NDArray[np.bool_], str | NDArray[np.object_]]],
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
    for where, words in parts:
        shown = where if most is None else where & (count < most)
        picked = words if isinstance(words, str) else words[shown]
        joined[shown] = joined[shown] + np.where(count[shown] > 0, mark, "").astype(object) + picked
        count += where
    if most is not None:
        more = count > most
        joined[more] += np.array([f"{mark}and {n} more" for n in count[more] - most], dtype=object)
    return joined
