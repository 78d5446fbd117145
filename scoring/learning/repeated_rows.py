"""Where rows differ from the one before, and findings that come again and again."""

from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

Ints = NDArray[np.int64]

ROWS_AT_ONCE = 2048
"""Rows compared in one go: the cache holds them. Ours."""

STATES_IN_A_CODE = 39
"""So many findings of three kinds each have one number of 64 bits. [-]"""


def changes_in(values: NDArray[Any]) -> NDArray[np.bool_]:
    """Tell of each row, but the first, which always does, whether it differs from the one before.

    Examples
    --------
    >>> changes_in(np.array([[1, 2], [1, 2], [1, 3]])).tolist()
    [True, False, True]
    """
    changes = np.ones(len(values), dtype=bool)
    if values.ndim == 1:
        changes[1:] = values[1:] != values[:-1]
        return changes
    for start in range(0, len(values), ROWS_AT_ONCE):
        here = values[start : start + ROWS_AT_ONCE + 1]
        changes[start + 1 : start + len(here)] = (here[1:] != here[:-1]).any(axis=1)
    return changes


def kinds_of(states_bad: NDArray[Any]) -> tuple[NDArray[np.int8], Ints]:
    """Return each row of findings once, in the order in which they first come, and which each is.

    Parameters
    ----------
    states_bad : ndarray of int, shape (n_rows, n_states)
        1 for a finding, 0 for none, -1 where not seen.

    Returns
    -------
    kinds : ndarray of int8, shape (n_kinds, n_states)
    kind : ndarray of int, shape (n_rows,)

    Examples
    --------
    >>> kinds, kind = kinds_of(np.array([[1, -1], [0, 0], [1, -1]], dtype=np.int8))
    >>> kinds.tolist(), kind.tolist()
    ([[1, -1], [0, 0]], [0, 1, 0])
    """
    kind = np.zeros(len(states_bad), dtype=np.int64)
    for start in range(0, states_bad.shape[1], STATES_IN_A_CODE):
        some = states_bad[:, start : start + STATES_IN_A_CODE].astype(np.int64) + 1
        code = some @ 3 ** np.arange(some.shape[1])
        kind = pd.factorize(pd.factorize(code)[0] * (kind.max(initial=0) + 1) + kind)[0]
    first = np.empty(kind.max(initial=-1) + 1, dtype=np.int64)
    first[kind[::-1]] = np.arange(len(kind))[::-1]
    return states_bad[first].astype(np.int8), kind
