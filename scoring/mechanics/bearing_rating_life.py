"""Basic rating life of a rolling bearing.

Source: ISO 281 as textbooks give it (Jindal, Machine Design, ch. 18; Wentzell, Machine Design,
ch. 20), read as worked examples in public notebooks that recompute them.
"""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.validity_ranges import Floats, between, not_negative, positive

_LARGEST_EXPONENT = 4.0


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
        10⁶ (C / P)^p. Above half the rating the true life is shorter (from memory). [rev]

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
