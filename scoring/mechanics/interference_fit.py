"""Elastic rings on shafts: pressure from interference and from squeezing the hub (Lamé).

Elastic, plane stress, pressure uniform along the length.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.ranges import Floats, between, not_negative, positive, require

STEEL_MODULUS = 206e9
"""Young's modulus of steel; customary value. [Pa]"""

STEEL_POISSON = 0.3
"""Poisson's ratio of steel; customary value. [-]"""


@dataclass(frozen=True, kw_only=True)
class HubOnShaft:
    """A round hub on a round shaft, solid or hollow; every field may be an array.

    Attributes
    ----------
    shaft_diameter : array_like
        Diameter where shaft and hub meet. [m]
    hub_outside : array_like
        Outside diameter of the hub, above the shaft's. [m]
    shaft_bore : array_like
        Bore of the shaft, 0 if solid, below the shaft's diameter. [m]
    hub_modulus, shaft_modulus : array_like
        Young's moduli. [Pa]
    poisson : array_like
        Poisson's ratio of both, 0 to 0.5. [-]

    Examples
    --------
    >>> HubOnShaft(shaft_diameter=0.08, hub_outside=0.1).shaft_bore
    0.0
    """

    shaft_diameter: ArrayLike
    hub_outside: ArrayLike
    shaft_bore: ArrayLike = 0.0
    hub_modulus: ArrayLike = STEEL_MODULUS
    shaft_modulus: ArrayLike = STEEL_MODULUS
    poisson: ArrayLike = STEEL_POISSON


def interference_pressure(
    interference: ArrayLike,
    shaft_diameter: ArrayLike,
    hub_outside: ArrayLike,
    modulus: ArrayLike = STEEL_MODULUS,
) -> Floats:
    """Pressure between a solid shaft and a hub of the same material that is too small for it.

    Parameters
    ----------
    interference : array_like
        Shaft diameter less bore diameter before joining, at least 0. [m]
    shaft_diameter : array_like
        Diameter where shaft and hub meet. [m]
    hub_outside : array_like
        Outside diameter of the hub, above the shaft's. [m]
    modulus : array_like
        Young's modulus of both. [Pa]

    Returns
    -------
    numpy.ndarray
        delta E (D² - d²) / (2 d D²). [Pa]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: Lamé's thick cylinder, as in textbooks; the same as a public web guide's press-fit
    example.

    Examples
    --------
    >>> round(float(interference_pressure(40e-6, 0.050, 0.080, 200e9)) / 1e6, 2)
    48.75
    """
    change = not_negative("interference", interference, "m")
    inner, outer = _diameters(shaft_diameter, hub_outside)
    young = positive("Young's modulus", modulus, "Pa")
    return change * young * (outer**2 - inner**2) / (2.0 * inner * outer**2)


def hub_bore_hoop_stress(
    pressure: ArrayLike, shaft_diameter: ArrayLike, hub_outside: ArrayLike
) -> Floats:
    """Hoop stress at the bore of a hub that is pressed open from within.

    Parameters
    ----------
    pressure : array_like
        Pressure between shaft and hub. [Pa]
    shaft_diameter : array_like
        Diameter where shaft and hub meet. [m]
    hub_outside : array_like
        Outside diameter of the hub, above the shaft's. [m]

    Returns
    -------
    numpy.ndarray
        p (D² + d²) / (D² - d²), tension. [Pa]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: Lamé's thick cylinder, as in textbooks.

    Examples
    --------
    >>> round(float(hub_bore_hoop_stress(48.75e6, 0.050, 0.080)) / 1e6, 2)
    111.25
    """
    inner, outer = _diameters(shaft_diameter, hub_outside)
    grip = not_negative("pressure in the bore", pressure, "Pa")
    return grip * (outer**2 + inner**2) / (outer**2 - inner**2)


def contact_pressure(hub_pressure: ArrayLike, clearance: ArrayLike, fit: HubOnShaft) -> Floats:
    """Pressure between shaft and hub when the hub is squeezed from outside: the full solution.

    Parameters
    ----------
    hub_pressure : array_like
        Pressure on the outside of the hub, at least 0. [Pa]
    clearance : array_like
        Bore diameter less shaft diameter; negative for an interference. [m]
    fit : HubOnShaft
        Sizes and materials. [-]

    Returns
    -------
    numpy.ndarray
        Pressure in the bore, 0 while the hub is still loose. [Pa]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: Lamé's thick cylinders, as in textbooks, solved for equal radii after contact. For a
    solid shaft of the hub's material it is exactly hub pressure less closing pressure.

    Examples
    --------
    >>> fit = HubOnShaft(shaft_diameter=0.08, hub_outside=0.1, shaft_bore=[0.0, 0.04])
    >>> (contact_pressure(150e6, 49e-6, fit) / 1e6).round(2).tolist()
    [127.29, 113.65]
    """
    squeeze = not_negative("pressure on the hub", hub_pressure, "Pa")
    gap = between("clearance", clearance, "m", -np.inf, np.inf)
    inner, outer = _diameters(fit.shaft_diameter, fit.hub_outside)
    bore = not_negative("bore of the shaft", fit.shaft_bore, "m")
    require("bore of the shaft", bore, ~(bore >= inner), "m", "a bore smaller than the shaft")
    poisson = between("Poisson's ratio", fit.poisson, "", 0.0, 0.5)
    hub_young = positive("Young's modulus of the hub", fit.hub_modulus, "Pa")
    shaft_young = positive("Young's modulus of the shaft", fit.shaft_modulus, "Pa")
    # Growth of each diameter for one pascal
    wall = hub_young * (outer**2 - inner**2)
    hub_opens = inner * ((1 - poisson) * inner**2 + (1 + poisson) * outer**2) / wall
    hub_closes = 2.0 * inner * outer**2 / wall
    stretch = (inner**2 + bore**2) / (inner**2 - bore**2) - poisson
    shaft_shrinks = inner / shaft_young * stretch
    return np.maximum((squeeze * hub_closes - gap) / (hub_opens + shaft_shrinks), 0.0)


def _diameters(shaft_diameter: ArrayLike, hub_outside: ArrayLike) -> tuple[Floats, Floats]:
    inner = positive("shaft diameter", shaft_diameter, "m")
    outer = positive("outside of the hub", hub_outside, "m")
    require("outside of the hub", outer, ~(outer <= inner), "m", "a hub larger than its shaft")
    return inner, outer
