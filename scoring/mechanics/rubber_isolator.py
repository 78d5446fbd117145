"""Stiffness of the rubber bushings that anchor a torque arm."""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.validity_ranges import Floats, not_negative, positive, require


def annulus_area(outer: ArrayLike, inner: ArrayLike) -> Floats:
    """Work out the loaded area of a ring of rubber.

    Parameters
    ----------
    outer : array_like
        Outside diameter. [m]
    inner : array_like
        Inside diameter, 0 for a disc, below the outside. [m]

    Returns
    -------
    numpy.ndarray
        pi/4 (Do² - Di²). [m²]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: geometry.

    Examples
    --------
    >>> round(float(annulus_area(0.075, 0.026)) * 1e6, 1)
    3886.9
    """
    outside, inside = _ring(outer, inner)
    return np.pi / 4.0 * (outside**2 - inside**2)


def pad_stiffness(modulus: ArrayLike, area: ArrayLike, thickness: ArrayLike) -> Floats:
    """Stiffness of a pad: in compression or in shear, by the modulus that is given.

    Parameters
    ----------
    modulus : array_like
        Apparent compression modulus, or shear modulus. [Pa]
    area : array_like
        Loaded area. [m²]
    thickness : array_like
        Thickness without load. [m]

    Returns
    -------
    numpy.ndarray
        E A / t or G A / t. [N/m]

    Raises
    ------
    OutOfRangeError
        If a value is not above 0.

    Notes
    -----
    Source: textbook mechanics; filled rubber is 1.2 to 2 times stiffer when it vibrates (from
    memory).

    Examples
    --------
    >>> round(float(pad_stiffness(1.06e6, 3886.9e-6, 0.025)) / 1000, 1)
    164.8
    """
    section = positive("loaded area", area, "m²") / positive("rubber thickness", thickness, "m")
    return positive("modulus", modulus, "Pa") * section


def _ring(outer: ArrayLike, inner: ArrayLike) -> tuple[Floats, Floats]:
    outside = positive("outside of the rubber", outer, "m")
    inside = not_negative("inside of the rubber", inner, "m")
    require("inside of the rubber", inside, ~(inside >= outside), "m", "less than the outside")
    return outside, inside
