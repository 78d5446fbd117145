"""Several bearings of which the first to fail stops the shaft."""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.ranges import Floats, between, positive


def system_rating_life(rating_lives: ArrayLike, slope: ArrayLike) -> Floats:
    """Life that nine of ten sets of bearings reach without any failure.

    Parameters
    ----------
    rating_lives : array_like
        Rating life of each bearing, shape (..., bearings). [rev or s]
    slope : array_like
        Weibull slope that all share, shape (...). [-]

    Returns
    -------
    numpy.ndarray
        (sum L^-slope)^(-1/slope), shape (...). [rev or s]

    Raises
    ------
    OutOfRangeError
        If a value is not above 0.

    Notes
    -----
    Source: our own calculation; reliabilities multiply.

    Examples
    --------
    >>> round(float(system_rating_life([40e3, 60e3], 1.5)))
    29939
    """
    lives = positive("rating life", rating_lives, "")
    power = positive("Weibull slope", slope, "")
    shortest = np.min(lives, axis=-1, keepdims=True)
    # Relative to the shortest, so that no power runs out of range
    weakness = np.sum((lives / shortest) ** -power[..., np.newaxis], axis=-1)
    return np.asarray(shortest[..., 0] * weakness ** (-1.0 / power))


def reliability_of_each(system_reliability: ArrayLike, bearings: ArrayLike) -> Floats:
    """Reliability that each of several equal bearings needs.

    Parameters
    ----------
    system_reliability : array_like
        Share of sets that run without any failure, 0 to 1. [-]
    bearings : array_like
        Bearings in the set, above 0. [-]

    Returns
    -------
    numpy.ndarray
        R^(1/n). [-]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: Jindal, Machine Design, ch. 18, read as a worked example in a public notebook;
    reliabilities multiply.

    Examples
    --------
    >>> round(float(reliability_of_each(0.81, 2)), 9)
    0.9
    """
    share = between("reliability", system_reliability, "", 0.0, 1.0)
    return np.asarray(share ** (1.0 / positive("bearings", bearings, "")))
