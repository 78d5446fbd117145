"""A ratio of observed to expected failures, drawn towards what was believed before."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from scoring.learning.weighted_gram import Floats


@dataclass(frozen=True)
class CredibleRatio:
    """A ratio with its credible interval.

    Attributes
    ----------
    mean, low, high : ndarray
        Posterior mean and limits. [-]
    """

    mean: Floats
    low: Floats
    high: Floats


def credible_ratio(
    observed: ArrayLike, expected: ArrayLike, shape: ArrayLike, rate: ArrayLike, level: float = 0.9
) -> CredibleRatio:
    """Correct a rate by failures, its prior being a gamma distribution.

    Parameters
    ----------
    observed : array_like
        Failures seen, not below 0. [-]
    expected : array_like
        Failures expected of the same exposure at a ratio of 1 (or the exposure itself: then the
        ratio is a rate), not below 0. [-]
    shape, rate : array_like
        Of the prior, above 0; its mean is shape / rate. Both ``k`` for a prior around 1 that is
        worth ``k`` expected failures. [-]
    level : float, default 0.9
        Chance that the limits hold the ratio. [-]

    Returns
    -------
    CredibleRatio
        Mean ``(O + shape) / (E + rate)`` and limits of equal tails.

    Raises
    ------
    ValueError
        If a number is out of its range.

    Notes
    -----
    Source: conjugacy of gamma and Poisson, textbook. For ``k`` from 2 on, the logarithm of the
    ratio has a prior deviation of about 1 / sqrt(k).

    Examples
    --------
    Six failures where 9.1 were expected, the prior worth two failures:

    >>> bearings = credible_ratio(6, 9.10744166, 2, 2)
    >>> [round(float(x), 3) for x in (bearings.mean, bearings.low, bearings.high)]
    [0.72, 0.358, 1.184]
    """
    from scipy.special import gammainccinv, gammaincinv  # noqa: PLC0415 - a ranking needs no SciPy

    seen = np.asarray(observed, dtype=np.float64)
    base = np.asarray(expected, dtype=np.float64)
    prior = np.asarray(shape, dtype=np.float64), np.asarray(rate, dtype=np.float64)
    if (seen < 0).any() or (base < 0).any():
        raise ValueError("a number of failures is below 0")
    if (prior[0] <= 0).any() or (prior[1] <= 0).any():
        raise ValueError("shape and rate of the prior are above 0")
    if not 0 < level < 1:
        raise ValueError(f"a level lies between 0 and 1, not at {level:g}")
    tail = (1 - level) / 2
    shape_now, rate_now = seen + prior[0], base + prior[1]
    low, high = gammaincinv(shape_now, tail) / rate_now, gammainccinv(shape_now, tail) / rate_now
    return CredibleRatio(np.asarray(shape_now / rate_now), np.asarray(low), np.asarray(high))
