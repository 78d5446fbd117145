"""A shrink disc: screws pull cones together, which squeeze the hub onto the shaft.

The hub first has to close the clearance of the fit; only what is left presses on the shaft.
"""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.interference_fit import STEEL_MODULUS, interference_pressure
from scoring.mechanics.validity_ranges import Floats, not_negative, positive


def closing_pressure(
    clearance: ArrayLike,
    shaft_diameter: ArrayLike,
    hub_outside: ArrayLike,
    modulus: ArrayLike = STEEL_MODULUS,
) -> Floats:
    """Pressure on the hub that only closes the clearance of the fit.

    Parameters
    ----------
    clearance : array_like
        Bore diameter less shaft diameter, at least 0. [m]
    shaft_diameter : array_like
        Diameter of the shaft. [m]
    hub_outside : array_like
        Outside diameter of the hub under the disc, above the shaft's. [m]
    modulus : array_like
        Young's modulus of the hub. [Pa]

    Returns
    -------
    numpy.ndarray
        C E (D² - d²) / (2 d D²). Elastic: a hub that yields on the way closes at less. [Pa]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: our own calculation from Lamé's thick cylinder; the same expression as the pressure
    of an interference fit.

    Examples
    --------
    >>> (closing_pressure([49e-6, 236e-6], 0.080, 0.100) / 1e6).round(2).tolist()
    [22.71, 109.39]
    """
    gap = not_negative("clearance", clearance, "m")
    return interference_pressure(gap, shaft_diameter, hub_outside, modulus)


def grip_pressure(hub_pressure: ArrayLike, closing_pressure: ArrayLike) -> Floats:
    """Pressure that is left between bore and a solid steel shaft.

    Parameters
    ----------
    hub_pressure : array_like
        Pressure on the outside of the hub. [Pa]
    closing_pressure : array_like
        Pressure that only closes the clearance. [Pa]

    Returns
    -------
    numpy.ndarray
        The difference, or 0 if the hub never reaches the shaft. [Pa]

    Raises
    ------
    OutOfRangeError
        If a pressure is negative.

    Notes
    -----
    Source: our own calculation from Lamé's thick cylinder. Exact for a solid shaft of the hub's
    material: once they touch, both are squeezed as one solid disc. A hollow shaft gives way, and
    less is left.

    Examples
    --------
    >>> (grip_pressure(100e6, [22.7e6, 109.4e6]) / 1e6).round(1).tolist()
    [77.3, 0.0]
    """
    outside = not_negative("pressure on the hub", hub_pressure, "Pa")
    return np.maximum(outside - not_negative("closing pressure", closing_pressure, "Pa"), 0.0)


def grip_ratio(
    rated_grip: ArrayLike,
    closing_specified: ArrayLike,
    closing_found: ArrayLike,
    squeeze_ratio: ArrayLike,
) -> Floats:
    """Pressure on the shaft as found, over that of a disc mounted as specified.

    Parameters
    ----------
    rated_grip : array_like
        Pressure on the shaft that gives the joint's rated torque. [Pa]
    closing_specified : array_like
        Closing pressure of the fit that the rating goes with. [Pa]
    closing_found : array_like
        Closing pressure of the fit as found. [Pa]
    squeeze_ratio : array_like
        Pressure on the hub as found over that as specified; preload and cone friction set
        it. [-]

    Returns
    -------
    numpy.ndarray
        Ratio of pressures on the shaft, at least 0. The closing pressure is paid first, so a
        loss of squeeze counts for more than its own share. [-]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: our own calculation. Working back from the rating spares the angle and the friction
    of the cones, which are known within a factor of several only.

    Examples
    --------
    >>> grip_ratio(160e6, 22.7e6, 22.7e6, [1.0, 0.82]).round(3).tolist()
    [1.0, 0.794]
    """
    rated = positive("rated pressure on the shaft", rated_grip, "Pa")
    specified = rated + not_negative("closing pressure", closing_specified, "Pa")
    found = specified * not_negative("squeeze ratio", squeeze_ratio, "")
    return grip_pressure(found, closing_found) / rated


def engagement_factor(engagement: ArrayLike, required: ArrayLike) -> Floats:
    """Share of its capacity that a disc keeps when the shaft does not reach right through it.

    Parameters
    ----------
    engagement : array_like
        Length of shaft in the hub. [m]
    required : array_like
        Length that reaches right through under the disc. [m]

    Returns
    -------
    numpy.ndarray
        1 if the shaft reaches, else 0: the empty part of the hub folds in and takes the
        squeeze, so no capacity can be relied on. NaN where a length is missing. [-]

    Raises
    ------
    OutOfRangeError
        If a length is negative or a required one not above 0.

    Notes
    -----
    Source: common practice, no source.

    Examples
    --------
    >>> engagement_factor([0.10, 0.099, float("nan")], 0.10).tolist()
    [1.0, 0.0, nan]
    """
    length = not_negative("engagement", engagement, "m")
    needed = positive("required engagement", required, "m")
    return np.where(np.isnan(length + needed), np.nan, np.where(length >= needed, 1.0, 0.0))
