"""Stiffness of a torque arm's anchor where the rubber does not come into it."""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.ranges import Floats, not_negative, positive


def rod_bending_stiffness(diameter: ArrayLike, length: ArrayLike, modulus: ArrayLike) -> Floats:
    """Stiffness of an anchor rod, held at both ends, when one end is moved sideways.

    Parameters
    ----------
    diameter : array_like
        Diameter of the rod. [m]
    length : array_like
        Free length. [m]
    modulus : array_like
        Young's modulus. [Pa]

    Returns
    -------
    numpy.ndarray
        12 E I / L³ with I = pi d⁴ / 64. [N/m]

    Raises
    ------
    OutOfRangeError
        If a value is not above 0.

    Notes
    -----
    Source: textbook mechanics.

    Examples
    --------
    >>> round(float(rod_bending_stiffness(0.030, 0.300, 206e9)) / 1e3)
    3640
    """
    inertia = np.pi * positive("rod diameter", diameter, "m") ** 4 / 64.0
    stiff = 12.0 * positive("Young's modulus", modulus, "Pa") * inertia
    return stiff / positive("rod length", length, "m") ** 3


def pendulum_stiffness(link_force: ArrayLike, link_length: ArrayLike) -> Floats:
    """Stiffness of an anchor that floats: the link swings like a pendulum under its pull.

    Parameters
    ----------
    link_force : array_like
        Pull in the link. [N]
    link_length : array_like
        Length of the link between its joints. [m]

    Returns
    -------
    numpy.ndarray
        Pull over length. [N/m]

    Raises
    ------
    OutOfRangeError
        If a pull is negative or a length not above 0.

    Notes
    -----
    Source: textbook mechanics, small angles.

    Examples
    --------
    >>> float(pendulum_stiffness(6e3, 0.6))
    10000.0
    """
    pull = not_negative("pull in the link", link_force, "N")
    return pull / positive("link length", link_length, "m")
