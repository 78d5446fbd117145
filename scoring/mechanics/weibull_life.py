"""How the lives of bearings scatter about the rating life."""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.provenance import Provenance, SourcedRange, published
from scoring.mechanics.ranges import Floats, between, not_negative, positive

BEARING_SLOPES: dict[str, SourcedRange] = {
    "ball": SourcedRange(
        low=10.0 / 9.0,
        typical=1.3,
        high=1.5,
        unit="-",
        provenance=Provenance.FROM_MEMORY,
        source="low: classic slope, high: slope behind a1, both from memory; typical is ours",
    ),
    "roller": SourcedRange(
        low=9.0 / 8.0,
        typical=1.3,
        high=1.5,
        unit="-",
        provenance=Provenance.FROM_MEMORY,
        source="low: classic slope, high: slope behind a1, both from memory; typical is ours",
    ),
}
"""Weibull slopes of fatigue lives. [-]"""

_SHIGLEY = "instructor's solutions to Shigley's Mechanical Engineering Design, problem 11-1"
LEAST_LIFE = published(0.02, _SHIGLEY)
"""x0: life that all bearings reach, in rating lives. [-]"""
SCALE_LIFE = published(4.439, _SHIGLEY)
"""theta - x0, in rating lives. [-]"""
SLOPE = published(1.483, _SHIGLEY)
"""b of the three-parameter form. [-]"""


def failure_probability(life: ArrayLike, rating_life: ArrayLike, slope: ArrayLike) -> Floats:
    """Share of bearings that fail before a life.

    Parameters
    ----------
    life : array_like
        Life, in the scale of the rating life. [rev or s]
    rating_life : array_like
        Life that nine of ten reach. [rev or s]
    slope : array_like
        Weibull slope. [-]

    Returns
    -------
    numpy.ndarray
        1 - 0.9^((life / L10)^slope). [-]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: textbook, two-parameter Weibull through 10 % at the rating life.

    Examples
    --------
    >>> round(float(failure_probability(0.5, 1.0, 1.5)), 5)
    0.03657
    """
    lives = not_negative("life", life, "") / positive("rating life", rating_life, "")
    return np.asarray(-np.expm1(np.log(0.9) * lives ** positive("Weibull slope", slope, "")))


def life_at_reliability(reliability: ArrayLike, rating_life: ArrayLike, slope: ArrayLike) -> Floats:
    """Life that a share of the bearings reaches.

    Parameters
    ----------
    reliability : array_like
        Share of bearings that reach it, above 0 and below 1. [-]
    rating_life : array_like
        Life that nine of ten reach. [rev or s]
    slope : array_like
        Weibull slope. [-]

    Returns
    -------
    numpy.ndarray
        L10 (ln(1/R) / ln(1/0.9))^(1/slope); R = exp(-1) gives the characteristic life.
        [rev or s]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: textbook, two-parameter Weibull through 10 % at the rating life.

    Examples
    --------
    >>> round(float(life_at_reliability(0.5, 1.0, 1.5)), 3)
    3.511
    """
    share = between("reliability", reliability, "", 1e-12, 1.0 - 1e-12)
    power = 1.0 / positive("Weibull slope", slope, "")
    lives: Floats = (np.log(share) / np.log(0.9)) ** power
    return positive("rating life", rating_life, "") * lives


def catalogue_rating(
    load: ArrayLike, lives: ArrayLike, reliability: ArrayLike, exponent: ArrayLike
) -> Floats:
    """Dynamic rating that reaches a life with a reliability, three-parameter form.

    Parameters
    ----------
    load : array_like
        Design load, any application factor included. [N]
    lives : array_like
        Design life over the life that the rating is stated for (10⁶ revolutions). [-]
    reliability : array_like
        Share of bearings that are to reach it, 0.9 to below 1. [-]
    exponent : array_like
        3 for balls, 10/3 for rollers; 1 to 4 is taken. [-]

    Returns
    -------
    numpy.ndarray
        F (x / (x0 + (theta - x0) ln(1/R)^(1/b)))^(1/p). [N]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: instructor's solutions to Shigley's Mechanical Engineering Design, ch. 11.

    Examples
    --------
    >>> round(float(catalogue_rating(2278.0, 540.0, 0.90, 3.0)), -1)
    18590.0
    """
    share = between("reliability", reliability, "", 0.9, 1.0 - 1e-12)
    reached = LEAST_LIFE.typical + SCALE_LIFE.typical * (-np.log(share)) ** (1 / SLOPE.typical)
    power = between("life exponent", exponent, "", 1.0, 4.0)
    ratio = positive("design life", lives, "") / reached
    return np.asarray(positive("bearing load", load, "N") * ratio ** (1.0 / power))


def reliability_of_rating(
    load: ArrayLike, lives: ArrayLike, rating: ArrayLike, exponent: ArrayLike
) -> Floats:
    """Share of bearings of a rating that reach a life, three-parameter form.

    Parameters
    ----------
    load : array_like
        Design load, any application factor included. [N]
    lives : array_like
        Design life over the life that the rating is stated for (10⁶ revolutions). [-]
    rating : array_like
        Basic dynamic load rating. [N]
    exponent : array_like
        3 for balls, 10/3 for rollers; 1 to 4 is taken. [-]

    Returns
    -------
    numpy.ndarray
        exp(-((x (F/C)^p - x0) / (theta - x0))^b), 1 up to the least life. [-]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: instructor's solutions to Shigley's Mechanical Engineering Design, ch. 11.

    Examples
    --------
    >>> round(float(reliability_of_rating(2278.0, 540.0, 19_500.0, 3.0)), 3)
    0.919
    """
    power = between("life exponent", exponent, "", 1.0, 4.0)
    ratio = positive("bearing load", load, "N") / positive("dynamic rating", rating, "N")
    used = not_negative("design life", lives, "") * ratio**power
    beyond = np.maximum(used - LEAST_LIFE.typical, 0.0) / SCALE_LIFE.typical
    return np.asarray(np.exp(-(beyond**SLOPE.typical)))
