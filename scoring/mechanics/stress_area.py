"""Stress area and proof load of a screw."""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.validity_ranges import Floats, positive, require

PROOF_STRESS_PA: dict[str, tuple[float, float]] = {
    "8.8": (580e6, 600e6),
    "9.8": (650e6, np.nan),
    "10.9": (830e6, 830e6),
    "12.9": (970e6, 970e6),
}
"""Proof stress by property class, up to 16 mm and above. Source: ISO 898-1, read in two public
tables; class 9.8 is made up to 16 mm only (from memory). [Pa]"""

_LARGEST_OF_SMALL_M = 16e-3


def metric_stress_area(diameter: ArrayLike, pitch: ArrayLike) -> Floats:
    """Stress area of a metric thread.

    Parameters
    ----------
    diameter : array_like
        Nominal diameter. [m]
    pitch : array_like
        Pitch, below the diameter. [m]

    Returns
    -------
    numpy.ndarray
        pi/4 (d - 0.9382 P)^2. [m²]

    Raises
    ------
    OutOfRangeError
        If a diameter or pitch is not above 0 or a pitch is not below its diameter.

    Notes
    -----
    Source: ISO 898-1, read in public tables.

    Examples
    --------
    >>> round(float(metric_stress_area(0.010, 0.0015)) * 1e6, 2)
    57.99
    """
    return _area(diameter, pitch, 0.9382)


def unified_stress_area(diameter: ArrayLike, pitch: ArrayLike) -> Floats:
    """Stress area of a unified inch thread.

    Parameters
    ----------
    diameter : array_like
        Nominal diameter. [m]
    pitch : array_like
        Pitch, one inch over the threads per inch, below the diameter. [m]

    Returns
    -------
    numpy.ndarray
        pi/4 (d - 0.9743 P)^2. [m²]

    Raises
    ------
    OutOfRangeError
        If a diameter or pitch is not above 0 or a pitch is not below its diameter.

    Notes
    -----
    Source: from memory; 3/8-16 gives the usual 0.0775 in².

    Examples
    --------
    >>> round(float(unified_stress_area(0.375 * 0.0254, 0.0254 / 16)) / 0.0254**2, 4)
    0.0775
    """
    return _area(diameter, pitch, 0.9743)


def proof_load(diameter: ArrayLike, pitch: ArrayLike, property_class: str) -> Floats:
    """Axial load that a metric screw bears without a permanent set.

    Parameters
    ----------
    diameter : array_like
        Nominal diameter. [m]
    pitch : array_like
        Pitch, below the diameter. [m]
    property_class : str
        One of 8.8, 9.8, 10.9, 12.9. [-]

    Returns
    -------
    numpy.ndarray
        Stress area times proof stress; NaN where the class is not made in that size. [N]

    Raises
    ------
    OutOfRangeError
        If a diameter or pitch is not above 0 or a pitch is not below its diameter.
    KeyError
        If the property class is not in the table.

    Notes
    -----
    Source: ISO 898-1, read in two public tables. Printed loads use a rounded stress area and
    differ by up to 1 %.

    Examples
    --------
    >>> round(float(proof_load(0.012, 0.00175, "10.9")), -2)
    69900.0
    """
    size = positive("thread diameter", diameter, "m")
    small, large = PROOF_STRESS_PA[property_class]
    stress = np.where(size <= _LARGEST_OF_SMALL_M, small, large)
    return metric_stress_area(size, pitch) * stress


def _area(diameter: ArrayLike, pitch: ArrayLike, depth: float) -> Floats:
    size = positive("thread diameter", diameter, "m")
    step = positive("thread pitch", pitch, "m")
    require("thread pitch", step, ~(step >= size), "m", "a pitch below the diameter")
    return np.pi / 4.0 * (size - depth * step) ** 2
