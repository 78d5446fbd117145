"""Observed against expected failures, with exact limits."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from scoring.learning.weighted_gram import Floats


@dataclass(frozen=True)
class ObservedExpected:
    """Observed over expected failures.

    Attributes
    ----------
    ratio, low, high : ndarray
        Observed over expected, and its limits; missing where nothing was expected. [-]
    """

    ratio: Floats
    low: Floats
    high: Floats


def exact_limits(observed: ArrayLike, level: float = 0.9) -> tuple[Floats, Floats]:
    """Limits of the mean of a Poisson count.

    Parameters
    ----------
    observed : array_like
        Failures seen, not below 0. [-]
    level : float, default 0.9
        Least chance that the limits hold the mean, above 0 and below 1. [-]

    Returns
    -------
    low, high : ndarray
        Two-sided limits; the low one is 0 where nothing was seen. [-]

    Raises
    ------
    ValueError
        If a count is below 0, or the level is not between 0 and 1.

    Notes
    -----
    Half the quantiles of chi-square with 2 O and 2 O + 2 degrees of freedom, which are quantiles
    of the gamma distribution (Garwood 1936, from memory). Without a failure the upper limit is
    two-sided too: 3.689 for 95 %, where a one-sided limit would be 2.996; both as in the help of
    the R package epitools, ``pois.conf.int``.

    Examples
    --------
    >>> [limits.round(3) for limits in exact_limits([0, 5], level=0.95)]
    [array([0.   , 1.623]), array([ 3.689, 11.668])]
    """
    from scipy.special import gammainccinv, gammaincinv  # noqa: PLC0415 - a ranking needs no SciPy

    counts = np.asarray(observed, dtype=np.float64)
    if (counts < 0).any():
        raise ValueError("a number of failures is below 0")
    if not 0 < level < 1:
        raise ValueError(f"a level lies between 0 and 1, not at {level:g}")
    tail = (1 - level) / 2
    some = np.where(counts > 0, counts, 1.0)
    low = np.where(counts > 0, gammaincinv(some, tail), 0.0)
    return low, np.asarray(gammainccinv(counts + 1, tail))


def observed_over_expected(
    observed: ArrayLike, expected: ArrayLike, level: float = 0.9
) -> ObservedExpected:
    """Compare failures with what was expected.

    Parameters
    ----------
    observed : array_like
        Failures seen, not below 0. [-]
    expected : array_like
        Failures expected of the same exposure, not below 0, taken as known. [-]
    level : float, default 0.9
        Least chance that the limits hold the true ratio. [-]

    Returns
    -------
    ObservedExpected

    Examples
    --------
    >>> bearings = observed_over_expected(6, 9.107, level=0.9)
    >>> round(float(bearings.ratio), 3), round(float(bearings.low), 3)
    (0.659, 0.287)
    """
    base = np.asarray(expected, dtype=np.float64)
    if (base < 0).any():
        raise ValueError("a number of expected failures is below 0")
    base = np.where(base > 0, base, np.nan)
    low, high = exact_limits(observed, level)
    return ObservedExpected(np.asarray(observed, dtype=np.float64) / base, low / base, high / base)
