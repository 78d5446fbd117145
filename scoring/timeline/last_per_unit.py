"""The last record of each unit, columnar."""

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]


def last_of_each(groups: Ints) -> Ints:
    """Return where the last element of each run of equal values lies.

    Examples
    --------
    >>> last_of_each(np.array([3, 3, 5, 7, 7])).tolist()
    [1, 2, 4]
    """
    if len(groups) == 0:
        return np.empty(0, dtype=np.int64)
    change = np.flatnonzero(groups[1:] != groups[:-1])
    return np.append(change, len(groups) - 1).astype(np.int64)


def latest_position(unit: Ints, position: Ints, size: int) -> Ints:
    """Return the highest position of each unit, -1 where it has none.

    Examples
    --------
    >>> latest_position(np.array([0, 2, 0]), np.array([4, 5, 9]), 3).tolist()
    [9, -1, 5]
    """
    latest = np.full(size, -1, dtype=np.int64)
    np.maximum.at(latest, unit, position)
    return latest
