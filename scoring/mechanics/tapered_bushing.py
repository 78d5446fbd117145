"""A tapered bushing: a split cone drawn between hub and shaft by its screws."""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.validity_ranges import Floats, not_negative, positive


def engagement_factor(engagement: ArrayLike, required: ArrayLike) -> Floats:
    """Share of its capacity that a bushing keeps when the shaft does not reach right through.

    Parameters
    ----------
    engagement : array_like
        Length of shaft in the bushing, less chamfers. [m]
    required : array_like
        Length that the capacity goes with. [m]

    Returns
    -------
    numpy.ndarray
        The ratio of lengths, at most 1. [-]

    Raises
    ------
    OutOfRangeError
        If a length is negative or a required one not above 0.

    Notes
    -----
    Source: our own calculation, for a pressure that does not depend on the engagement. By common
    practice, no source, a shaft short of the bushing's split is a fault whatever this says.

    Examples
    --------
    >>> engagement_factor([0.03, 0.06], 0.05).tolist()
    [0.6, 1.0]
    """
    length = not_negative("engagement", engagement, "m")
    return np.minimum(length / positive("required engagement", required, "m"), 1.0)
