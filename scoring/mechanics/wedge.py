"""The cone that turns the pull of the clamp screws into a radial force."""

from math import atan, radians

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.provenance import Provenance, SourcedRange
from scoring.mechanics.validity_ranges import Floats, between, not_negative, positive, require

CONE_HALF_ANGLE = SourcedRange(
    low=radians(3.0),
    typical=radians(4.0),
    high=radians(5.0),
    unit="rad",
    provenance=Provenance.FROM_MEMORY,
    source="usual shrink-disc cones, from memory",
)
"""Half angle of a shrink disc's cones to the axis. [rad]"""

CONE_FRICTION = SourcedRange(
    low=0.05,
    typical=0.06,
    high=0.10,
    unit="-",
    provenance=Provenance.FROM_MEMORY,
    source="cones with molybdenum-disulphide paste, from memory",
)
"""Friction on the cones, which are greased, unlike shaft and bore. [-]"""

BUSHING_HALF_ANGLE = SourcedRange(
    low=atan(0.75 / 12 / 2),
    typical=atan(0.75 / 12 / 2),
    high=radians(4.0),
    unit="rad",
    provenance=Provenance.FROM_MEMORY,
    source="low and typical: a taper of 3/4 inch in a foot; high: 4 degrees, both from memory",
)
"""Half angle of a tapered bushing to the axis. [rad]"""

BUSHING_CONE_FRICTION = SourcedRange(
    low=0.06,
    typical=0.15,
    high=0.15,
    unit="-",
    provenance=Provenance.PLANNING,
    source="planning value of ours: typical dry, as a bushing is mounted; low where lubricant "
    "came on its cone",
)
"""Friction between a tapered bushing and the unit's bore. [-]"""

_LARGEST_HALF_ANGLE = radians(45.0)


def radial_force(axial_force: ArrayLike, half_angle: ArrayLike, cone_friction: ArrayLike) -> Floats:
    """Radial force, summed round the cone, of a cone pressed home by an axial force.

    Parameters
    ----------
    axial_force : array_like
        Pull of all screws together. [N]
    half_angle : array_like
        Angle of the cone to the axis, above 0 to pi/4. [rad]
    cone_friction : array_like
        Coefficient of friction on the cone, 0 to 1. [-]

    Returns
    -------
    numpy.ndarray
        F / tan(beta + rho) with rho = atan(mu). The stiffness of the rings is left out, so this
        is an upper bound. [N]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: textbook mechanics; the same algebra as the cone clutch in Wentzell, Machine Design,
    Example 16.3, read as a worked example in a public notebook.

    Examples
    --------
    >>> round(float(radial_force(1.0, np.radians(4.0), 0.06)), 3)
    7.664
    """
    pull = not_negative("axial force", axial_force, "N")
    return pull / np.tan(_half_angle(half_angle) + _friction_angle(cone_friction))


def radial_force_when_held(
    axial_force: ArrayLike,
    half_angle: ArrayLike,
    cone_friction: ArrayLike,
    bore_friction: ArrayLike,
) -> Floats:
    """Radial force of a cone that is drawn up while it slides on the shaft as well.

    Parameters
    ----------
    axial_force : array_like
        Pull of all screws together. [N]
    half_angle : array_like
        Angle of the cone to the axis, above 0 to pi/4. [rad]
    cone_friction : array_like
        Coefficient of friction on the cone, 0 to 1. [-]
    bore_friction : array_like
        Coefficient of friction on the shaft, 0 to 1. [-]

    Returns
    -------
    numpy.ndarray
        F / (tan(beta + rho) + mu_b): a bushing whose unit stands against a collar is drawn along
        the shaft, and both faces take their share of the pull. A bushing that the shaft takes
        with it gives `radial_force`; what a real one gives lies between. [N]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: our own calculation; balance of forces along the shaft.

    Examples
    --------
    >>> held = radial_force_when_held(120e3, np.radians(1.79), 0.15, 0.15)
    >>> round(float(held) / 1000)
    361
    """
    pull = not_negative("axial force", axial_force, "N")
    on_the_shaft = between("friction in the bore", bore_friction, "", 0.0, 1.0)
    on_the_cone = np.tan(_half_angle(half_angle) + _friction_angle(cone_friction))
    return pull / (on_the_cone + on_the_shaft)


def _half_angle(values: ArrayLike) -> Floats:
    angle = positive("half angle of the cone", values, "rad")
    inside = ~(angle > _LARGEST_HALF_ANGLE)
    require("half angle of the cone", angle, inside, "rad", "angles to the axis of up to pi/4")
    return angle


def _friction_angle(cone_friction: ArrayLike) -> Floats:
    return np.arctan(between("friction on the cone", cone_friction, "", 0.0, 1.0))
