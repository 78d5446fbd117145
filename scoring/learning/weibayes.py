"""Characteristic life when the Weibull shape is known and failures are few."""

from dataclasses import dataclass

import numpy as np

from scoring.learning.lifetimes import Lifetimes
from scoring.learning.observed_expected import exact_limits


@dataclass(frozen=True)
class Weibayes:
    """Characteristic life at a given shape.

    Attributes
    ----------
    scale, low, high : float
        Characteristic life and its limits; infinite where no failure allows it. [unit of the ages]
    """

    scale: float
    low: float
    high: float


def weibayes(lives: Lifetimes, shape: float, level: float = 0.9) -> Weibayes:
    """Fit the scale of a Weibull distribution of known shape.

    Parameters
    ----------
    lives : Lifetimes
        What is known; it may hold no failure.
    shape : float
        Known slope of the Weibull line, above 0. [-]
    level : float, default 0.9
        Least chance that the limits hold the truth; the low one alone is one-sided at
        (1 + level) / 2. [-]

    Returns
    -------
    Weibayes

    Notes
    -----
    ``scale = (sum t^b / r)^(1/b)`` with r failures: the formula of the help of the R package
    WeibullR, ``weibayes``. It is the Poisson fit of one level over any Weibull prior of that shape,
    so that the exact limits of r turn, upside down, into limits of the scale.

    Examples
    --------
    Three units without a failure:

    >>> life = weibayes(Lifetimes.of([1600.0, 2600.0, 2900.0], False), 3.0)
    >>> life.scale, round(life.low)
    (inf, 2487)
    """
    if not shape > 0:
        raise ValueError(f"a shape is above 0, not {shape:g}")
    longest = lives.end.max()
    powers = (lives.end / longest) ** shape - (lives.entry / longest) ** shape
    exposure = float(lives.count @ powers)
    failures = float(lives.count[lives.failed].sum())
    low, high = exact_limits(failures, level)
    with np.errstate(divide="ignore"):  # no failure: no upper limit
        lives_of = longest * (exposure / np.array([failures, high, low])) ** (1 / shape)
    return Weibayes(*(float(life) for life in lives_of))
