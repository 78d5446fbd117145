"""Shape and scale of a Weibull distribution from lifetimes, some of them not ended."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.optimize import brentq

from scoring.learning.lifetimes import Lifetimes
from scoring.learning.weighted_gram import Floats

SHAPES = (1e-2, 1e2)
"""Between which a shape is looked for. Ours. [-]"""


@dataclass(frozen=True)
class WeibullFit:
    """A fitted Weibull distribution.

    Attributes
    ----------
    shape : float
        Slope of the Weibull line, above 0. [-]
    scale : float
        Characteristic life, which 63.2 % do not reach, above 0. [unit of the ages]
    log_likelihood : float
        Of the lifetimes. [-]
    log_covariance : ndarray, shape (2, 2)
        Covariance of the logarithms of shape and scale, from the curvature. [-]
    """

    shape: float
    scale: float
    log_likelihood: float
    log_covariance: Floats

    def life(self, fraction: ArrayLike) -> Floats:
        """Age by which a fraction has failed.

        Parameters
        ----------
        fraction : array_like
            Above 0 and below 1; 0.1 for the rating life. [-]

        Returns
        -------
        ndarray
            [unit of the ages]
        """
        return np.asarray(self.scale * _log_survivors(fraction) ** (1 / self.shape))


def fit_weibull(lives: Lifetimes) -> WeibullFit:
    r"""Find the most likely Weibull distribution.

    Parameters
    ----------
    lives : Lifetimes
        With at least two different ages at failure or of survivors.

    Returns
    -------
    WeibullFit

    Raises
    ------
    ValueError
        If nothing failed, or no shape between 0.01 and 100 is most likely.

    Notes
    -----
    Given the shape b, the most likely scale solves :math:`\eta^b = \sum (t^b - u^b) / r` with r
    failures, ages t at the end and u at entry; what is left is one equation for b. Source: maximum
    likelihood with censoring and left truncation, textbook.

    Examples
    --------
    >>> fit = fit_weibull(Lifetimes.of([30.0, 50.0, 80.0], [True, True, False]))
    >>> round(fit.shape, 3), round(fit.scale, 2), round(float(fit.life(0.1)), 2)
    (1.957, 70.12, 22.2)
    """
    if not lives.count[lives.failed].sum() > 0:
        raise ValueError("without a failure there is no shape; a shape has to be given")
    slopes = [shape_slope(lives, shape) for shape in SHAPES]
    if not slopes[0] > 0 > slopes[1]:
        raise ValueError(f"no shape between {SHAPES[0]:g} and {SHAPES[1]:g} is most likely")
    shape = brentq(lambda b: shape_slope(lives, b), *SHAPES, xtol=1e-13, rtol=1e-13)
    scale = scale_of_shape(lives, shape)
    covariance = np.asarray(np.linalg.inv(_log_curvature(lives, shape, scale)), dtype=np.float64)
    return WeibullFit(shape, scale, log_likelihood(lives, shape, scale), covariance)


def log_likelihood(lives: Lifetimes, shape: float, scale: float) -> float:
    """Logarithm of the likelihood of a Weibull distribution.

    Parameters
    ----------
    lives : Lifetimes
        What is known.
    shape, scale : float
        The distribution, above 0. [-] and [unit of the ages]

    Returns
    -------
    float
        Sum of log hazards at failures, less the cumulative hazard of all time in sight. [-]

    Examples
    --------
    >>> round(log_likelihood(Lifetimes.of([2.0], True), 1.0, 2.0), 4)
    -1.6931
    """
    failures = lives.count * lives.failed
    log_age = np.log(lives.end / scale)
    log_hazard = np.log(shape / scale) + (shape - 1) * log_age
    cumulative = (lives.end / scale) ** shape - (lives.entry / scale) ** shape
    return float(failures @ log_hazard - lives.count @ cumulative)


def scale_of_shape(lives: Lifetimes, shape: float) -> float:
    """Most likely scale, the shape being given.

    Parameters
    ----------
    lives : Lifetimes
        With at least one failure.
    shape : float
        Above 0. [-]

    Returns
    -------
    float
        [unit of the ages]

    Examples
    --------
    >>> round(scale_of_shape(Lifetimes.of([3.0, 4.0], [True, False]), 2.0), 6)
    5.0
    """
    longest = lives.end.max()
    powers = (lives.end / longest) ** shape - (lives.entry / longest) ** shape
    failures = lives.count[lives.failed].sum()
    return float(longest * (lives.count @ powers / failures) ** (1 / shape))


def shape_slope(lives: Lifetimes, shape: float) -> float:
    """Slope of the log likelihood over the shape, the scale following it.

    Parameters
    ----------
    lives : Lifetimes
        With at least one failure.
    shape : float
        Above 0. [-]

    Returns
    -------
    float
        0 at the most likely shape. [-]

    Examples
    --------
    >>> one_age = Lifetimes.of([1.0, 1.0], [True, False])
    >>> shape_slope(one_age, 4.0)  # 1 / shape: ever steeper is ever likelier
    0.25
    """
    longest = lives.end.max()
    end, entry = lives.end / longest, lives.entry / longest
    failures = lives.count * lives.failed
    mean_log = failures @ np.log(end) / failures.sum()
    powers = lives.count @ (end**shape - entry**shape)
    logged = lives.count @ (_power_log(end, shape) - _power_log(entry, shape))
    return float(failures.sum() * (1 / shape + mean_log - logged / powers))


def _log_curvature(lives: Lifetimes, shape: float, scale: float) -> Floats:
    """Return minus the second derivatives over log shape and log scale, at the maximum."""
    end, entry = lives.end / scale, lives.entry / scale
    first = lives.count @ (_power_log(end, shape) - _power_log(entry, shape))
    second = lives.count @ (_power_log(end, shape, 2) - _power_log(entry, shape, 2))
    failures = lives.count[lives.failed].sum()
    of_shape = failures + shape**2 * second
    mixed = -(shape**2) * first
    return np.array([[of_shape, mixed], [mixed, shape**2 * failures]])


def _power_log(age: Floats, shape: float, times: int = 1) -> Floats:
    """Return age^shape log(age)^times, 0 at age 0."""
    known = np.where(age > 0, age, 1.0)
    return np.asarray(known**shape * np.log(known) ** times)


def _log_survivors(fraction: ArrayLike) -> Floats:
    """Return minus the logarithm of who is left."""
    shares = np.asarray(fraction, dtype=np.float64)
    if not ((shares > 0) & (shares < 1)).all():
        raise ValueError("a fraction lies above 0 and below 1")
    return -np.log1p(-shares)
