"""A tapered bushing: a split cone drawn between hub and shaft by its screws."""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.interference_fit import STEEL_MODULUS, interference_pressure
from scoring.mechanics.ranges import Floats, between, not_negative, positive
from scoring.mechanics.wedge import half_angle_of_taper, radial_force

USUAL_HALF_ANGLE = float(half_angle_of_taper(0.75 / 12.0))
"""Taper of 3/4 inch per foot on the diameter; common practice, no source. [rad]"""


def radial_force_of_held_bushing(
    axial_force: ArrayLike,
    half_angle: ArrayLike,
    taper_friction: ArrayLike,
    bore_friction: ArrayLike,
) -> Floats:
    """Radial force of a bushing that has to slide along the shaft while it is drawn up.

    Where the unit can move along the shaft, the bushing grips the shaft early, slides on the
    taper only, and `wedge.radial_force` holds. Where a shoulder or a collar keeps the unit in
    place, it slides on both faces and part of the pull is lost in the bore.

    Parameters
    ----------
    axial_force : array_like
        Pull of all screws together. [N]
    half_angle : array_like
        Angle of the taper to the axis, above 0 to pi/4. [rad]
    taper_friction : array_like
        Coefficient of friction on the taper, 0 to 1. [-]
    bore_friction : array_like
        Coefficient of friction between bushing and shaft, 0 to 1. [-]

    Returns
    -------
    numpy.ndarray
        F / (tan(beta + rho) + mu), a lower bound beside the upper one of the wedge. [N]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: our own calculation, balance of the bushing along the shaft.

    Examples
    --------
    >>> round(float(radial_force_of_held_bushing(120e3, USUAL_HALF_ANGLE, 0.15, 0.15)) / 1e3)
    361
    """
    pull = not_negative("axial force", axial_force, "N")
    resistance = 1.0 / radial_force(1.0, half_angle, taper_friction)
    return pull / (resistance + between("friction in the bore", bore_friction, "", 0.0, 1.0))


def squeeze_from_travel(travel: ArrayLike, half_angle: ArrayLike) -> Floats:
    """Diameter that the bushing loses, or the hub gains, when it is drawn up.

    Parameters
    ----------
    travel : array_like
        Way along the shaft, for example the gap to the collar that tightening closes. [m]
    half_angle : array_like
        Angle of the taper to the axis, above 0. [rad]

    Returns
    -------
    numpy.ndarray
        2 s tan(beta), on the diameter. [m]

    Raises
    ------
    OutOfRangeError
        If a travel is negative or an angle not above 0.

    Notes
    -----
    Source: geometry.

    Examples
    --------
    >>> round(float(squeeze_from_travel(0.0008, USUAL_HALF_ANGLE)) * 1e6, 6)
    50.0
    """
    way = not_negative("travel of the bushing", travel, "m")
    return 2.0 * way * np.tan(positive("half angle of the taper", half_angle, "rad"))


def grip_pressure_from_travel(
    squeeze: ArrayLike,
    clearance: ArrayLike,
    shaft_diameter: ArrayLike,
    hub_outside: ArrayLike,
    modulus: ArrayLike = STEEL_MODULUS,
) -> Floats:
    """Pressure on the shaft of a bushing that stops when its flange meets the collar.

    Parameters
    ----------
    squeeze : array_like
        Loss of diameter from the whole travel. [m]
    clearance : array_like
        All clearances that have to close first, on the diameter. [m]
    shaft_diameter : array_like
        Diameter of the shaft. [m]
    hub_outside : array_like
        Outside diameter of the hub, above the shaft's. [m]
    modulus : array_like
        Young's modulus of hub and shaft. [Pa]

    Returns
    -------
    numpy.ndarray
        Pressure, 0 if the clearance is not closed. Once the faces meet, more torque on the
        screws goes into the flange, not into this pressure. [Pa]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: our own calculation from Lamé's thick cylinder. The bushing is taken as part of the
    hub although it is split, so the pressure is an upper bound.

    Examples
    --------
    >>> way = squeeze_from_travel([0.0004, 0.0009], USUAL_HALF_ANGLE)
    >>> (grip_pressure_from_travel(way, 30e-6, 0.060, 0.110) / 1e6).round(1).tolist()
    [0.0, 31.7]
    """
    closed = not_negative("squeeze", squeeze, "m") - not_negative("clearance", clearance, "m")
    return interference_pressure(np.maximum(closed, 0.0), shaft_diameter, hub_outside, modulus)


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
