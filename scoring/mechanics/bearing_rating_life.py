"""Basic rating life of a rolling bearing.

Source: ISO 281 as textbooks give it (Jindal, Machine Design, ch. 18; Wentzell, Machine Design,
ch. 20), read as worked examples in public notebooks that recompute them.
"""

from fractions import Fraction

import numpy as np
from numpy.typing import ArrayLike, NDArray

from scoring.mechanics.ranges import Floats, between, not_negative, positive

BALL_EXPONENT = 3.0
ROLLER_EXPONENT = float(Fraction(10, 3))

_LARGEST_EXPONENT = 4.0


def life_exponent(bearing_kind: ArrayLike) -> Floats:
    """Exponent of the life of ball and roller bearings.

    Parameters
    ----------
    bearing_kind : array_like of str
        ``ball`` or ``roller``. [-]

    Returns
    -------
    numpy.ndarray
        3 or 10/3; NaN where the kind is blank or another word. [-]

    Notes
    -----
    Source: ISO 281, as given at the head of this file.

    Examples
    --------
    >>> life_exponent(["ball", "roller", ""]).round(3).tolist()
    [3.0, 3.333, nan]
    """
    kind = np.asarray(bearing_kind, dtype=object).astype(np.str_)
    return np.select([kind == "ball", kind == "roller"], [BALL_EXPONENT, ROLLER_EXPONENT], np.nan)


def rating_life(rating: ArrayLike, load: ArrayLike, exponent: ArrayLike) -> Floats:
    """Revolutions that nine of ten bearings reach.

    Parameters
    ----------
    rating : array_like
        Basic dynamic load rating C. [N]
    load : array_like
        Equivalent load P. [N]
    exponent : array_like
        3 for balls, 10/3 for rollers; 1 to 4 is taken. [-]

    Returns
    -------
    numpy.ndarray
        10⁶ (C / P)^p. Above half the rating (`is_overloaded`) the true life is shorter. [rev]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: ISO 281, as given at the head of this file.

    Examples
    --------
    >>> (rating_life(5.0, 1.0, [3.0, 10 / 3]) / 1e6).round(2).tolist()
    [125.0, 213.75]
    """
    power = between("life exponent", exponent, "", 1.0, _LARGEST_EXPONENT)
    ratio = positive("dynamic rating", rating, "N") / positive("bearing load", load, "N")
    return 1e6 * ratio**power


def running_time(revolutions: ArrayLike, speed: ArrayLike) -> Floats:
    """Time in which a shaft makes so many revolutions.

    Parameters
    ----------
    revolutions : array_like
        Revolutions, for example a rating life. [rev]
    speed : array_like
        Rotational speed. [rad/s]

    Returns
    -------
    numpy.ndarray
        Time at that speed, without stops. [s]

    Raises
    ------
    OutOfRangeError
        If revolutions are negative or a speed is not above 0.

    Notes
    -----
    Source: geometry.

    Examples
    --------
    >>> one_per_second = 2 * np.pi
    >>> round(float(running_time(3600.0, one_per_second)), 6)
    3600.0
    """
    turned = 2.0 * np.pi * not_negative("revolutions", revolutions, "rev")
    return turned / positive("rotational speed", speed, "rad/s")


def rating_for_life(load: ArrayLike, revolutions: ArrayLike, exponent: ArrayLike) -> Floats:
    """Work out the dynamic load rating that reaches a life under a load.

    Parameters
    ----------
    load : array_like
        Equivalent load P. [N]
    revolutions : array_like
        Life that nine of ten are to reach. [rev]
    exponent : array_like
        3 for balls, 10/3 for rollers; 1 to 4 is taken. [-]

    Returns
    -------
    numpy.ndarray
        C = P (L / 10⁶)^(1/p). [N]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: ISO 281, as given at the head of this file.

    Examples
    --------
    >>> round(float(rating_for_life(1.0, 125e6, 3.0)), 9)
    5.0
    """
    power = between("life exponent", exponent, "", 1.0, _LARGEST_EXPONENT)
    millions = positive("life", revolutions, "rev") / 1e6
    return positive("bearing load", load, "N") * millions ** (1.0 / power)


def is_overloaded(rating: ArrayLike, load: ArrayLike) -> NDArray[np.bool_]:
    """Whether a load is beyond the half of the rating up to which the life formula holds.

    Parameters
    ----------
    rating : array_like
        Basic dynamic load rating C. [N]
    load : array_like
        Equivalent load P. [N]

    Returns
    -------
    numpy.ndarray of bool
        True where P > C / 2; False also where a value is missing. [-]

    Raises
    ------
    OutOfRangeError
        If a value is not above 0.

    Notes
    -----
    Source: from memory.

    Examples
    --------
    >>> is_overloaded(10e3, [4e3, 6e3]).tolist()
    [False, True]
    """
    half = positive("dynamic rating", rating, "N") / 2.0
    return np.asarray(positive("bearing load", load, "N") > half)
