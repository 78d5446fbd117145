"""Elastic rings on shafts: pressure from interference and from squeezing the hub (Lamé).

Elastic, plane stress, pressure uniform along the length.
"""

from numpy.typing import ArrayLike

from scoring.mechanics.validity_ranges import Floats, not_negative, positive, require

STEEL_MODULUS = 206e9
"""Young's modulus of steel; customary value. [Pa]"""


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


def _diameters(shaft_diameter: ArrayLike, hub_outside: ArrayLike) -> tuple[Floats, Floats]:
    inner = positive("shaft diameter", shaft_diameter, "m")
    outer = positive("outside of the hub", hub_outside, "m")
    require("outside of the hub", outer, ~(outer <= inner), "m", "a hub larger than its shaft")
    return inner, outer
