"""How often a joint slips by its margin, given the peaks that it has survived since it was hung.

A computed margin below 1 is no slip: friction, rating and torque are known within a factor of
several, and a joint that runs has carried its peaks. So a margin orders joints, and field rates say
how many of them slip.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from scoring.contract.events import JOINT_SLIP
from scoring.handbook.base_rates import BASE_RATES

Floats = NDArray[np.float64]

POWER = 4.0
"""A joint of half the margin slips two to this power as often; planning value of ours. [-]"""

MOST, LEAST = 60.0, 0.3
"""Slips of a joint without any grip, and of one of endless margin, over those of a joint that
carries just its peak: slips have causes that no margin shows; planning values of ours. [-]"""

MARGIN_AS_SPECIFIED = 1.8
"""Middle of the margins to which joints are chosen; planning value of ours. [-]"""

SPREAD_OF_MARGINS = 0.25
"""Standard deviation of their logarithm; planning value of ours. [-]"""

USUAL_YEARS = 3.0
"""For how long joints have usually survived; planning value of ours. [year]"""

LOG_MARGINS: Floats = np.arange(-70.0, 71.0) * 0.05
"""Middles of the logarithm of the margin for which hazards are worked out once. [-]"""

_YEARS = np.array([0.0, 0.1, 0.25, 0.5, 1, 2, 3, 5, 8, 12, 20])
_GRID: Floats = np.arange(-100.0, 101.0) * 0.05


def slips_of_a_margin(margin: Floats) -> Floats:
    """Return how often a joint slips, over one that carries just its peak torque.

    Parameters
    ----------
    margin : ndarray
        Torque that the joint carries over its peak torque, not below 0. [-]

    Returns
    -------
    ndarray
        Falling smoothly from ``MOST`` and a little to ``LEAST``. [-]

    Examples
    --------
    >>> slips_of_a_margin(np.array([0.0, 0.5, 1.0, 2.0, 9.0])).round(2).tolist()
    [60.3, 12.93, 1.28, 0.36, 0.3]
    """
    slips: Floats = LEAST + 1 / (margin**POWER + 1 / MOST)
    return slips


@dataclass(frozen=True)
class SlipHazards:
    """Hazards of joints by the middle of their log margin and by how long they have survived.

    Attributes
    ----------
    ahead : ndarray, shape (n_years, n_middles)
        Mean hazard over the year ahead, of those that survived. [1/year]
    square : ndarray, shape (n_years, n_middles)
        Mean square of the hazard of those that survived. [1/year²]
    """

    ahead: Floats
    square: Floats

    def at(self, log_margin: Floats, years: Floats) -> tuple[Floats, Floats]:
        """Return hazard and mean square, interpolated.

        Parameters
        ----------
        log_margin : ndarray
            Middle of the logarithm of the margin; beyond the table its end. [-]
        years : ndarray, same shape or one that broadcasts
            Survived since the joint was hung. [year]

        Returns
        -------
        tuple of ndarray
            The hazard never rises with the margin.
        """
        between = _between(log_margin, years)
        return between(self.ahead), between(self.square)

    def ahead_at(self, log_margin: Floats, years: Floats) -> Floats:
        """Return the hazard alone, as ``at`` does."""
        return _between(log_margin, years)(self.ahead)


def _between(log_margin: Floats, years: Floats) -> Callable[[Floats], Floats]:
    """Return what interpolates a table at some margins and years; asked for several tables."""
    step = LOG_MARGINS[1] - LOG_MARGINS[0]
    along = np.clip((log_margin - LOG_MARGINS[0]) / step, 0, len(LOG_MARGINS) - 1)
    column = np.minimum(along.astype(np.int64), len(LOG_MARGINS) - 2)
    right = along - column
    down = np.interp(years, _YEARS, np.arange(len(_YEARS)))
    row = np.minimum(down.astype(np.int64), len(_YEARS) - 2)
    below, width = down - row, len(LOG_MARGINS)
    place, left = row * width + column, 1 - right

    def between(table: Floats) -> Floats:
        flat = table.ravel()
        upper, lower = (
            flat[first:].take(place) * left + flat[first + 1 :].take(place) * right
            for first in (0, width)
        )
        value: Floats = upper * (1 - below) + lower * below
        return value

    return between


@lru_cache(maxsize=64)
def slip_hazards(spread: float, usual_slips: float) -> SlipHazards:
    r"""Work out the hazards of joints whose margin is known so well.

    .. math:: h(x) = h_0 M(e^x) / \bar M, \quad
        S(t) = \int e^{-h(x) t} \varphi(x; \mu, s) dx, \quad
        h = -\ln \{S(t + 1) / S(t)\}

    Parameters
    ----------
    spread : float
        Standard deviation of the logarithm of the margin, at least 0.05. [-]
    usual_slips : float
        Mean of ``slips_of_a_margin`` over usual joints, which slip at the field rate. [-]

    Returns
    -------
    SlipHazards

    Notes
    -----
    Source: textbook (Bayes' rule; a mixture of exponential lives). Those of small margin slip
    first, so what still runs is better than it was taken for. On one grid of margins for all, so
    that a smaller middle never gives a smaller hazard: normal laws of one spread are ordered by
    their likelihood ratio, and surviving weighs each margin alike.
    """
    hazard = BASE_RATES[JOINT_SLIP].field_rate * slips_of_a_margin(np.exp(_GRID)) / usual_slips
    offset = (_GRID[np.newaxis, :] - LOG_MARGINS[:, np.newaxis]) / spread
    share = np.exp(-0.5 * offset**2)
    share /= share.sum(axis=1, keepdims=True)
    survive = np.exp(-np.outer(_YEARS, hazard))
    now, later = survive @ share.T, (survive * np.exp(-hazard)) @ share.T
    square = (survive * hazard**2) @ share.T / now
    return SlipHazards(-np.log(later / now), square)
