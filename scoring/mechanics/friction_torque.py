"""Torque that a shaft passes to its bore by friction alone."""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.validity_ranges import Floats, between, not_negative, positive

LARGEST_FRICTION = 1.0


def capacity_from_radial_force(
    radial_force: ArrayLike, shaft_diameter: ArrayLike, friction: ArrayLike
) -> Floats:
    """Torque at which a joint slips, from the radial force summed round the shaft.

    Parameters
    ----------
    radial_force : array_like
        Pressure times gripped surface. [N]
    shaft_diameter : array_like
        Diameter of the shaft. [m]
    friction : array_like
        Coefficient of friction, 0 to 1. [-]

    Returns
    -------
    numpy.ndarray
        mu R d / 2; the length does not enter. [N·m]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: textbook mechanics.

    Examples
    --------
    >>> round(float(capacity_from_radial_force(659e3, 0.060, 0.15)), 1)
    2965.5
    """
    force = not_negative("radial force", radial_force, "N")
    coefficient = between("friction in the bore", friction, "", 0.0, LARGEST_FRICTION)
    return coefficient * force * positive("shaft diameter", shaft_diameter, "m") / 2.0


def pressure_of_radial_force(
    radial_force: ArrayLike, diameter: ArrayLike, length: ArrayLike
) -> Floats:
    """Pressure of a radial force that is spread evenly round a cylinder.

    Parameters
    ----------
    radial_force : array_like
        Summed round the cylinder. [N]
    diameter : array_like
        Of the cylinder that it presses on. [m]
    length : array_like
        Length that it presses on. [m]

    Returns
    -------
    numpy.ndarray
        R / (pi D L). [Pa]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: textbook mechanics.

    Examples
    --------
    >>> round(float(pressure_of_radial_force(2299e3, 0.100, 0.040)) / 1e6, 1)
    182.9
    """
    force = not_negative("radial force", radial_force, "N")
    across = positive("diameter", diameter, "m")
    return force / (np.pi * across * positive("gripped length", length, "m"))


def capacity_of_pressure(
    pressure: ArrayLike, shaft_diameter: ArrayLike, length: ArrayLike, friction: ArrayLike
) -> Floats:
    """Torque at which a joint slips, from the pressure between shaft and bore.

    Parameters
    ----------
    pressure : array_like
        Pressure on the shaft. [Pa]
    shaft_diameter : array_like
        Diameter of the shaft. [m]
    length : array_like
        Length over which the pressure acts. [m]
    friction : array_like
        Coefficient of friction, 0 to 1. [-]

    Returns
    -------
    numpy.ndarray
        mu pi d² L p / 2. [N·m]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: textbook mechanics; the same as in a public web guide's press-fit example.

    Examples
    --------
    >>> round(float(capacity_of_pressure(60e6, 0.050, 0.060, 0.15)), 1)
    2120.6
    """
    shaft = positive("shaft diameter", shaft_diameter, "m")
    surface = np.pi * shaft * positive("gripped length", length, "m")
    force = not_negative("pressure", pressure, "Pa") * surface
    return capacity_from_radial_force(force, shaft, friction)


def pressure_for_capacity(
    torque: ArrayLike, shaft_diameter: ArrayLike, length: ArrayLike, friction: ArrayLike
) -> Floats:
    """Pressure between shaft and bore that carries a torque by friction.

    Parameters
    ----------
    torque : array_like
        Torque at which the joint slips, for example its rated torque. [N·m]
    shaft_diameter : array_like
        Diameter of the shaft. [m]
    length : array_like
        Length over which the pressure acts. [m]
    friction : array_like
        Coefficient of friction, above 0. [-]

    Returns
    -------
    numpy.ndarray
        2 T / (mu pi d² L). [Pa]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: textbook mechanics, T = mu pi d² L p / 2 read backwards; that is the same as in a
    public web guide's press-fit example.

    Examples
    --------
    >>> round(float(pressure_for_capacity(2120.575, 0.050, 0.060, 0.15)) / 1e6, 3)
    60.0
    """
    diameter = positive("shaft diameter", shaft_diameter, "m")
    surface = np.pi * diameter**2 * positive("gripped length", length, "m")
    coefficient = positive("friction in the bore", friction, "")
    return 2.0 * not_negative("torque", torque, "N·m") / (coefficient * surface)
