"""Torque that a shaft itself carries: no joint on it needs to carry more, and none does."""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.provenance import Provenance, SourcedRange
from scoring.mechanics.validity_ranges import Floats, positive

ALLOWABLE_SHEAR = SourcedRange(
    low=80e6,
    typical=120e6,
    high=200e6,
    unit="Pa",
    provenance=Provenance.FROM_MEMORY,
    source="0.4 of the yield strength, from memory; typical of a steel that yields at 300 MPa",
)
"""Shear stress that a shaft is allowed at its peak torque. [Pa]"""


def torsion_capacity(shaft_diameter: ArrayLike, shear_stress: ArrayLike) -> Floats:
    """Torque that twists a solid round shaft to a shear stress at its surface.

    Parameters
    ----------
    shaft_diameter : array_like
        Diameter of the shaft. [m]
    shear_stress : array_like
        Stress at the surface. [Pa]

    Returns
    -------
    numpy.ndarray
        tau pi d³ / 16. [N·m]

    Raises
    ------
    OutOfRangeError
        If a value is not above 0.

    Notes
    -----
    Source: textbook mechanics.

    Examples
    --------
    >>> round(float(torsion_capacity(0.080, 120e6)))
    12064
    """
    diameter = positive("shaft diameter", shaft_diameter, "m")
    return positive("shear stress", shear_stress, "Pa") * np.pi * diameter**3 / 16.0
