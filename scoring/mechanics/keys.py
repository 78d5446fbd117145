"""Stresses in a parallel key, from torque and engaged length."""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.validity_ranges import Floats, not_negative, positive, require


def shear_stress(
    torque: ArrayLike, shaft_diameter: ArrayLike, key_width: ArrayLike, length: ArrayLike
) -> Floats:
    """Mean shear stress in a key.

    Parameters
    ----------
    torque : array_like
        Torque carried by the key alone. [N·m]
    shaft_diameter : array_like
        Diameter of the shaft. [m]
    key_width : array_like
        Width of the key. [m]
    length : array_like
        Straight length that carries, as in `carrying_length`. [m]

    Returns
    -------
    numpy.ndarray
        2 T / (d b L). [Pa]

    Raises
    ------
    OutOfRangeError
        If a torque is negative or a size not above 0.

    Notes
    -----
    Source: Wentzell, Machine Design, ch. 15, read as a worked example in a public notebook.

    Examples
    --------
    >>> round(float(shear_stress(3000.0, 0.080, 0.022, 0.100)) / 1e6, 2)
    34.09
    """
    return _edge_force(torque, shaft_diameter) / _surface(key_width, length)


def side_pressure(
    torque: ArrayLike, shaft_diameter: ArrayLike, bearing_depth: ArrayLike, length: ArrayLike
) -> Floats:
    """Mean pressure on the side of a key.

    Parameters
    ----------
    torque : array_like
        Torque carried by the key alone. [N·m]
    shaft_diameter : array_like
        Diameter of the shaft. [m]
    bearing_depth : array_like
        Depth of key that presses on the part in question: half the height for the textbook
        value, height less keyway depth t1 for the hub, t1 for the shaft. [m]
    length : array_like
        Straight length that carries, as in `carrying_length`. [m]

    Returns
    -------
    numpy.ndarray
        2 T / (d depth L). [Pa]

    Raises
    ------
    OutOfRangeError
        If a torque is negative or a size not above 0.

    Notes
    -----
    Source: Wentzell, Machine Design, ch. 15, read as a worked example in a public notebook, for
    half the height; hub and shaft apart: from memory.

    Examples
    --------
    >>> (side_pressure(3000.0, 0.080, [0.007, 0.005], 0.100) / 1e6).round(1).tolist()
    [107.1, 150.0]
    """
    return _edge_force(torque, shaft_diameter) / _surface(bearing_depth, length)


def carrying_length(
    overlap: ArrayLike, key_width: ArrayLike, round_ends_inside: ArrayLike = 2
) -> Floats:
    """Straight length of key that lies in both keyways.

    Parameters
    ----------
    overlap : array_like
        Length over which shaft keyway, hub keyway and key overlap. [m]
    key_width : array_like
        Width of the key. [m]
    round_ends_inside : array_like
        Round key ends within the overlap, 0 to 2; each carries nothing over half a width. [-]

    Returns
    -------
    numpy.ndarray
        Length that carries, at least 0. [m]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: from memory; a key with two round ends carries over its length less its width.

    Examples
    --------
    >>> (carrying_length(0.100, 0.022, [2, 0]) * 1000).round(6).tolist()
    [78.0, 100.0]
    """
    ends = not_negative("round ends", round_ends_inside, "")
    require("round ends", ends, ~(ends > 2), "", "0, 1 or 2 ends")
    lost = ends * positive("key width", key_width, "m") / 2.0
    return np.maximum(not_negative("overlap", overlap, "m") - lost, 0.0)


def _edge_force(torque: ArrayLike, shaft_diameter: ArrayLike) -> Floats:
    diameter = positive("shaft diameter", shaft_diameter, "m")
    return 2.0 * not_negative("torque", torque, "N·m") / diameter


def _surface(depth: ArrayLike, length: ArrayLike) -> Floats:
    return positive("width or depth of the key", depth, "m") * positive("length", length, "m")
