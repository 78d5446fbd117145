"""Stiffness of the rubber bushings that anchor a torque arm."""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.provenance import Provenance, SourcedRange
from scoring.mechanics.ranges import Floats, between, not_negative, positive, require

_NOTE = 'one-page note quoting "Designing with Rubber"'

USUAL_COMPRESSION = SourcedRange(
    low=0.0,
    typical=0.10,
    high=0.15,
    unit="-",
    provenance=Provenance.PLANNING,
    source="high: at most 15 % on average, " + _NOTE + "; typical is ours",
)
"""Compression that a rubber bushing is designed for. [-]"""


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


def annulus_shape_factor(outer: ArrayLike, inner: ArrayLike, thickness: ArrayLike) -> Floats:
    """Shape factor of a ring of rubber: its loaded area over the area that is free to bulge.

    Parameters
    ----------
    outer : array_like
        Outside diameter. [m]
    inner : array_like
        Inside diameter, 0 for a disc, below the outside. [m]
    thickness : array_like
        Thickness without load. [m]

    Returns
    -------
    numpy.ndarray
        (Do - Di) / (4 t). [-]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: geometry; both cylinder walls are free.

    Examples
    --------
    >>> float(annulus_shape_factor(0.075, 0.026, 0.025))
    0.49
    """
    outside, inside = _ring(outer, inner)
    return (outside - inside) / (4.0 * positive("rubber thickness", thickness, "m"))


def compression_modulus(
    young_modulus: ArrayLike,
    compression_factor: ArrayLike,
    shape_factor: ArrayLike,
    bulk_modulus: ArrayLike | None = None,
) -> Floats:
    """Apparent modulus of a compact block of rubber bonded to its plates.

    Parameters
    ----------
    young_modulus : array_like
        Young's modulus at small strain. [Pa]
    compression_factor : array_like
        Compression factor k, 0 to 1; 1 for rubber without filler. [-]
    shape_factor : array_like
        Loaded area over free area. [-]
    bulk_modulus : array_like or None
        Bulk modulus; left out, the rubber is taken as incompressible. [Pa]

    Returns
    -------
    numpy.ndarray
        E (1 + 2 k S²), in series with the bulk modulus. Plates that slip make it softer. [Pa]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: Strojniski vestnik 60 (2014) 7-8, 506-511 (1 + 2 S² for unfilled rubber, a smaller
    factor with carbon black, bulk modulus in series).

    Examples
    --------
    >>> round(float(compression_modulus(4.45e6, 0.57, 1.0)) / 1e6, 3)
    9.523
    """
    young = positive("Young's modulus", young_modulus, "Pa")
    factor = between("compression factor", compression_factor, "", 0.0, 1.0)
    shape = not_negative("shape factor", shape_factor, "")
    apparent = young * (1.0 + 2.0 * factor * shape**2)
    if bulk_modulus is None:
        return apparent
    return apparent / (1.0 + apparent / positive("bulk modulus", bulk_modulus, "Pa"))


def thin_ring_compression_modulus(
    young_modulus: ArrayLike, compression_factor: ArrayLike, shape_factor: ArrayLike
) -> Floats:
    """Apparent modulus of a long strip or a thin ring of rubber bonded to its plates.

    Parameters
    ----------
    young_modulus : array_like
        Young's modulus at small strain. [Pa]
    compression_factor : array_like
        Compression factor k, 0 to 1. [-]
    shape_factor : array_like
        Loaded area over free area. [-]

    Returns
    -------
    numpy.ndarray
        4/3 E (1 + k S²). [Pa]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: a one-page note quoting "Designing with Rubber".

    Examples
    --------
    >>> round(float(thin_ring_compression_modulus(4.45e6, 0.57, 0.49)) / 1e6, 3)
    6.745
    """
    young = positive("Young's modulus", young_modulus, "Pa")
    factor = between("compression factor", compression_factor, "", 0.0, 1.0)
    shape = not_negative("shape factor", shape_factor, "")
    return 4.0 / 3.0 * young * (1.0 + factor * shape**2)


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
