"""Load that wears a bearing round the turn, where a steady and a swinging load join its own.

Damage adds up linearly (Palmgren and Miner): what counts is the mean of the load to the power of
the life exponent. In which direction a held arm pulls, against the bearing's own load, depends on
how the unit hangs; no record tells it, so the mean is taken over all directions as well as over the
turn.
"""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.validity_ranges import Floats, between, not_negative


def damage_of_a_turn(
    own_load: ArrayLike, at_rest: ArrayLike, swing: ArrayLike, exponent: ArrayLike
) -> Floats:
    r"""Mean of load to the power of the life exponent, over a turn and all directions.

    Parameters
    ----------
    own_load : array_like
        Load that the bearing has in any case; broadcasts. [N]
    at_rest : array_like
        Load that is added and stays; broadcasts. [N]
    swing : array_like
        Amplitude of the load that is added along the same line and swings once a revolution;
        broadcasts. [N]
    exponent : array_like
        3 for balls, 10/3 for rollers; 2 to 4 is taken; broadcasts. [-]

    Returns
    -------
    numpy.ndarray
        Mean of \|P + R + A cos(angle)\|^p, exact for p = 2 and p = 4. Between them it lies on
        a straight line of logarithms, never below the mean, and at most 6 % above it. [N^p]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: our own calculation from linear damage. The mean square is P² + R² + A² / 2; the mean of
    the fourth power P⁴ + 4 P² (R² + A² / 2) + R⁴ + 3 R² A² + 3 A⁴ / 8. By Lyapunov's inequality
    the logarithm of the mean of a power is a convex function of the power.

    Examples
    --------
    >>> damage_of_a_turn(1.0, 0.0, [0.0, 1.0], [4.0, 4.0]).tolist()
    [1.0, 3.375]
    """
    power = between("life exponent", exponent, "", 2.0, 4.0)
    own = not_negative("load of the bearing", own_load, "N") ** 2
    steady = not_negative("load added at rest", at_rest, "N") ** 2
    half = 0.5 * not_negative("amplitude of the added load", swing, "N") ** 2
    added = steady + half
    square = own + added
    fourth = own * (own + 4.0 * added) + steady * (steady + 6.0 * half) + 1.5 * half**2
    part = 2.0 - 0.5 * power
    return np.asarray(square**part * fourth ** (1.0 - part))
