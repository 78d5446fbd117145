"""Which of many comparisons stand out, so that few of those that do are luck."""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def stand_out(chances: Floats, share_of_luck: float) -> NDArray[np.bool_]:
    r"""Tell which of many chances are too small for luck.

    Parameters
    ----------
    chances : ndarray, shape (n,)
        Of each comparison, the chance that luck alone makes it at least as striking. [-]
    share_of_luck : float
        So many of those that stand out may be luck, in the mean. [-]

    Returns
    -------
    ndarray of bool, shape (n,)

    Notes
    -----
    The rule of Benjamini and Hochberg, from memory: sorted, the largest ``k`` with
    :math:`p_{(k)} \le k q / n`, and all up to it. Where luck is all there is, any stand out with a
    chance of no more than ``q``. Holds for independent comparisons, and for those that go up
    together (from memory).

    Examples
    --------
    >>> stand_out(np.array([0.001, 0.9, 0.04, 0.2]), 0.1).tolist()
    [True, False, True, False]
    """
    order = np.argsort(chances, kind="stable")
    below = chances[order] <= share_of_luck * np.arange(1, len(chances) + 1) / max(len(chances), 1)
    last = np.flatnonzero(below)[-1] + 1 if below.any() else 0
    told = np.zeros(len(chances), dtype=bool)
    told[order[:last]] = True
    return told
