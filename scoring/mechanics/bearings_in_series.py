"""Several bearings of which the first to fail stops the shaft."""

from functools import reduce

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.validity_ranges import Floats, positive


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
    each = [lives[..., place] for place in range(lives.shape[-1])]  # few of many: by bearing
    shortest = reduce(np.minimum, each)
    # Relative to the shortest, so that no power runs out of range
    weakness = sum((life / shortest) ** -power for life in each)
    return np.asarray(shortest * weakness ** (-1.0 / power))
