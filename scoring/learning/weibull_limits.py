"""How far shape and lives of a fitted Weibull distribution may lie from the truth."""

from collections.abc import Callable

import numpy as np
from scipy.optimize import brentq, minimize_scalar
from scipy.special import ndtri

from scoring.learning.lifetimes import Lifetimes
from scoring.learning.weibull_fit import WeibullFit, log_likelihood, scale_of_shape

WIDEST = 40.0
"""Furthest that a limit is looked for, in factors e. Ours. [-]"""
CHARACTERISTIC = 1 - np.exp(-1)
"""Fraction that fails by the characteristic life. [-]"""


def log_limits_of_shape(fit: WeibullFit, level: float = 0.9) -> tuple[float, float]:
    """Limits of the shape, its logarithm taken as Gaussian (Wald).

    Parameters
    ----------
    fit : WeibullFit
        The fit.
    level : float, default 0.9
        Chance that they hold the truth, when there are many failures. [-]

    Returns
    -------
    low, high : float
        [-]

    Examples
    --------
    >>> fit = WeibullFit(2.0, 100.0, -9.0, np.diag([0.04, 0.01]))
    >>> [round(limit, 3) for limit in log_limits_of_shape(fit, 0.95)]
    [1.351, 2.96]
    """
    return _around(fit.shape, float(np.sqrt(fit.log_covariance[0, 0])), level)


def log_limits_of_life(
    fit: WeibullFit, fraction: float = CHARACTERISTIC, level: float = 0.9
) -> tuple[float, float]:
    """Limits of the age by which a fraction has failed, its logarithm taken as Gaussian (Wald).

    Parameters
    ----------
    fit : WeibullFit
        The fit.
    fraction : float, default 0.632
        Above 0 and below 1; the default gives limits of the scale. [-]
    level : float, default 0.9
        Chance that they hold the truth, when there are many failures. [-]

    Returns
    -------
    low, high : float
        With few failures too narrow above, by a factor of two with six. [unit of the ages]

    Examples
    --------
    >>> fit = WeibullFit(2.0, 100.0, -9.0, np.diag([0.04, 0.01]))
    >>> [round(limit, 1) for limit in log_limits_of_life(fit, level=0.95)]
    [82.2, 121.7]
    """
    reach = np.log(-np.log1p(-fraction)) / fit.shape
    slope = np.array([-reach, 1.0])
    spread = float(np.sqrt(slope @ fit.log_covariance @ slope))
    return _around(float(fit.life(fraction)), spread, level)


def profile_limits_of_shape(
    lives: Lifetimes, fit: WeibullFit, level: float = 0.9
) -> tuple[float, float]:
    """Limits of the shape by likelihood ratio.

    Parameters
    ----------
    lives : Lifetimes
        What was fitted.
    fit : WeibullFit
        The fit.
    level : float, default 0.9
        Chance that they hold the truth, roughly, also with few failures. [-]

    Returns
    -------
    low, high : float
        [-]

    Notes
    -----
    Where twice the loss of log likelihood, the scale following the shape, is the quantile of
    chi-square with one degree of freedom; textbook.

    Examples
    --------
    >>> from scoring.learning.weibull_fit import fit_weibull
    >>> lives = Lifetimes.of([30.0, 50.0, 80.0], [True, True, False])
    >>> [round(limit, 2) for limit in profile_limits_of_shape(lives, fit_weibull(lives))]
    [0.55, 4.44]
    """

    def profile(log_shape: float) -> float:
        shape = float(np.exp(log_shape))
        return log_likelihood(lives, shape, scale_of_shape(lives, shape))

    return _where_it_falls(profile, float(np.log(fit.shape)), fit.log_likelihood, level)


def profile_limits_of_life(
    lives: Lifetimes, fit: WeibullFit, fraction: float = CHARACTERISTIC, level: float = 0.9
) -> tuple[float, float]:
    """Limits, by likelihood ratio, of the age by which a fraction has failed.

    Parameters
    ----------
    lives : Lifetimes
        What was fitted.
    fit : WeibullFit
        The fit.
    fraction : float, default 0.632
        Above 0 and below 1; the default gives limits of the scale. [-]
    level : float, default 0.9
        Chance that they hold the truth, roughly, also with few failures. [-]

    Returns
    -------
    low, high : float
        [unit of the ages]

    Examples
    --------
    >>> from scoring.learning.weibull_fit import fit_weibull
    >>> lives = Lifetimes.of([30.0, 50.0, 80.0], [True, True, False])
    >>> [round(limit, 1) for limit in profile_limits_of_life(lives, fit_weibull(lives))]
    [35.5, 261.7]
    """
    reach = float(np.log(-np.log1p(-fraction)))

    def profile(log_life: float) -> float:
        def missing(log_shape: float) -> float:
            shape = np.exp(log_shape)
            scale = np.exp(log_life - reach / shape)
            with np.errstate(over="ignore"):
                return -log_likelihood(lives, float(shape), float(scale))

        middle = float(np.log(fit.shape))
        best = minimize_scalar(
            missing, bounds=(middle - 3, middle + 2), method="bounded", options={"xatol": 1e-9}
        )
        return -float(best.fun)

    log_life = float(np.log(fit.life(fraction)))
    return _where_it_falls(profile, log_life, fit.log_likelihood, level)


def _around(value: float, log_spread: float, level: float) -> tuple[float, float]:
    factor = float(np.exp(-ndtri((1 - level) / 2) * log_spread))
    return value / factor, value * factor


def _where_it_falls(
    profile: Callable[[float], float], top: float, highest: float, level: float
) -> tuple[float, float]:
    """Return the values, on either side, whose log likelihood is just too low."""
    lost = float(ndtri((1 - level) / 2)) ** 2 / 2  # chi-square of one degree of freedom

    def above(log_value: float) -> float:
        return profile(log_value) - highest + lost

    limits = []
    for side in (-1.0, 1.0):
        reach = 0.1
        while above(top + side * reach) > 0:
            reach *= 1.5
            if reach > WIDEST:
                raise ValueError("the likelihood does not fall: there is no limit on that side")
        limits.append(float(np.exp(brentq(above, top, top + side * reach, xtol=1e-10))))
    return limits[0], limits[1]
