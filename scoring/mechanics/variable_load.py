"""Constant load that wears a bearing as a load does that varies.

Damage adds up linearly (Palmgren and Miner).
"""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.validity_ranges import Floats, between, not_negative

_ANGLES = (np.arange(32) + 0.5) / 32.0 * np.pi
"""Midpoints of half a turn; the other half is its mirror image. [rad]"""


def mean_of_oscillating_load(
    constant_load: ArrayLike, amplitude: ArrayLike, exponent: ArrayLike
) -> Floats:
    """Mean load of a constant load with one that swings once a revolution.

    Parameters
    ----------
    constant_load : array_like
        The part that stays; broadcasts. [N]
    amplitude : array_like
        Amplitude of the part that swings, in the same direction; broadcasts. [N]
    exponent : array_like
        3 for balls, 10/3 for rollers; 1 to 4 is taken; broadcasts. [-]

    Returns
    -------
    numpy.ndarray
        Mean over a turn of |P + A cos(angle)|^p, to the power 1/p. For balls and A <= P it is
        P (1 + 1.5 (A/P)²)^(1/3). [N]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: our own calculation from linear damage; 32 midpoints over half a turn.

    Examples
    --------
    >>> mean_of_oscillating_load(1.0, [0.0, 0.5, 1.0], 3.0).round(5).tolist()
    [1.0, 1.11199, 1.35721]
    """
    power = between("life exponent", exponent, "", 1.0, 4.0)
    constant = not_negative("constant load", constant_load, "N")
    swing = not_negative("amplitude of the load", amplitude, "N")
    damage = np.zeros(np.broadcast_shapes(power.shape, constant.shape, swing.shape))
    # Angle by angle: a fleet's columns stay small
    for cosine in np.cos(_ANGLES):
        damage += np.abs(constant + swing * cosine) ** power
    return np.asarray((damage / len(_ANGLES)) ** (1.0 / power))
