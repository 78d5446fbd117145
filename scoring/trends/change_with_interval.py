"""How much something changed over all units, and whether it can be told from chance."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.interval import Z90

Floats = NDArray[np.float64]

BETTER, WORSE, CANNOT_BE_TOLD = "better", "worse", "cannot be told"

SHARE_HELD = 0.9
"""Share of intervals that are to hold the true change. [-]"""


@dataclass(frozen=True)
class Change:
    """A mean now and before, and their difference with its 90 % interval.

    Attributes
    ----------
    now, before : float
        Mean of the units there; missing where there was none.
    low, high : float
        Ends of the interval of ``now - before``; missing where it cannot be told.
    """

    now: float
    before: float
    low: float
    high: float

    @property
    def by(self) -> float:
        """The difference."""
        return self.now - self.before

    @property
    def less_is(self) -> str:
        """Say what became of something of which less is better."""
        if self.high < 0:
            return BETTER
        return WORSE if self.low > 0 else CANNOT_BE_TOLD

    @property
    def more_is(self) -> str:
        """Say what became of something of which more is better."""
        return {BETTER: WORSE, WORSE: BETTER}.get(self.less_is, self.less_is)


def paired_change(now: Floats, before: Floats, among: int = 1) -> Change:
    r"""Compare the mean of units now with that of before, each unit with itself.

    .. math:: z_u = a_u \frac{x_u - \bar x}{n_x} - b_u \frac{y_u - \bar y}{n_y}, \quad
              \bar x - \bar y \pm 1.645 \sqrt{\frac{n}{n - 1} \sum_u z_u^2}

    Parameters
    ----------
    now, before : ndarray, shape (n_units,)
        What each unit had; missing where it was not in service that day (``a`` or ``b`` is 0).
    among : int
        How many groups are looked at side by side: the interval is so wide that all of them hold
        the true change in 9 of 10 fleets, each ``0.9 ** (1 / among)`` (textbook).

    Returns
    -------
    Change

    Notes
    -----
    Normal law of a sum over units, each of them counted whole with both its days (textbook): what
    a unit has on both days cancels. Where both days are worked out with the same learned hazards,
    an error of theirs that all units share makes the change larger or smaller, and never turns its
    sign. Not in it: that the effect of one kind of finding is itself uncertain. Units are taken as
    independent of each other.

    Examples
    --------
    >>> import numpy as np
    >>> one = paired_change(np.array([1.0, 2.0, 3.0]), np.array([1.5, 2.5, 3.5]))
    >>> round(one.by, 3), round(float(one.low), 3), one.less_is
    (-0.5, -0.5, 'better')
    """
    from scipy.special import ndtri  # noqa: PLC0415 - a ranking needs no SciPy

    here, there = np.isfinite(now), np.isfinite(before)
    sizes = int(here.sum()), int(there.sum())
    if min(sizes) == 0:
        means = (float(now[here].mean()) if sizes[0] else np.nan, np.nan)
        if sizes[1]:
            means = (np.nan, float(before[there].mean()))
        return Change(*means, np.nan, np.nan)
    mean, mean_before = float(now[here].mean()), float(before[there].mean())
    share = np.where(here, now - mean, 0.0) / sizes[0]
    share -= np.where(there, before - mean_before, 0.0) / sizes[1]
    n = int((here | there).sum())
    deviations = Z90 if among == 1 else float(ndtri(0.5 + SHARE_HELD ** (1 / among) / 2))
    half = np.inf if n == 1 else deviations * np.sqrt(n / (n - 1) * (share**2).sum())
    by = mean - mean_before
    return Change(mean, mean_before, by - half, by + half)


def share_with_interval(good: Floats, of: Floats) -> tuple[Floats, Floats, Floats]:
    """Return shares with their 90 % intervals (Wilson's score interval, textbook; from memory).

    Parameters
    ----------
    good, of : ndarray, shape (n,)
        How many were good, of how many.

    Returns
    -------
    share, low, high : ndarray, shape (n,)
        Missing where there was none. [-]

    Examples
    --------
    >>> [round(float(end[0]), 3) for end in share_with_interval(np.array([8.0]), np.array([10.0]))]
    [0.8, 0.541, 0.931]
    """
    some = np.where(of > 0, of, np.nan)
    share = good / some
    z2 = Z90**2
    middle = (good + z2 / 2) / (some + z2)
    half = Z90 * np.sqrt(share * (1 - share) * some + z2 / 4) / (some + z2)
    return share, np.maximum(middle - half, 0.0), np.minimum(middle + half, 1.0)


def change_of_shares(now: tuple[int, int], before: tuple[int, int]) -> Change:
    r"""Compare two shares of different units.

    The ends of the two intervals of Wilson are put together (the square-and-add rule of two
    independent shares; textbook, from memory):
    :math:`d - \sqrt{(p - l)^2 + (u' - p')^2}` to :math:`d + \sqrt{(u - p)^2 + (p' - l')^2}`.

    Parameters
    ----------
    now, before : tuple of int
        How many were good, of how many.

    Returns
    -------
    Change
        Without an interval where either has none.

    Examples
    --------
    >>> change_of_shares((90, 100), (60, 100)).more_is, change_of_shares((3, 4), (2, 4)).more_is
    ('better', 'cannot be told')
    """
    good, of = np.array([now, before], dtype=np.float64).T
    share, low, high = share_with_interval(good, of)
    by = share[0] - share[1]
    down = np.hypot(share[0] - low[0], high[1] - share[1])
    up = np.hypot(high[0] - share[0], share[1] - low[1])
    return Change(float(share[0]), float(share[1]), float(by - down), float(by + up))
