"""Force in the link that keeps a shaft-mounted unit from turning with its shaft."""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.validity_ranges import Floats, between, not_negative, positive


def link_force(
    output_torque: ArrayLike,
    arm_length: ArrayLike,
    arm_angle: ArrayLike,
    weight_moment: ArrayLike = 0.0,
) -> Floats:
    """Force in the link of the torque arm.

    Parameters
    ----------
    output_torque : array_like
        Torque at the low-speed shaft. [N·m]
    arm_length : array_like
        From shaft axis to anchor. [m]
    arm_angle : array_like
        Between arm and link, above 0 and below pi; pi/2 is best. [rad]
    weight_moment : array_like
        Weight times the horizontal distance of the centre of mass from the shaft, motor
        included; positive where it helps the link, negative where it adds to its load. [N·m]

    Returns
    -------
    numpy.ndarray
        (T - M) / (a sin(angle)); negative where the weight reverses the link's load. [N]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: textbook mechanics. The motor rides on the unit; if it does not, its torque and the
    pull of its belt come on top.

    Examples
    --------
    >>> link_force(3000.0, 0.5, np.pi / 2, [0.0, 300.0, -300.0]).tolist()
    [6000.0, 5400.0, 6600.0]
    """
    lever = positive("arm length", arm_length, "m") / misalignment_factor(arm_angle)
    moment = between("moment of the weight", weight_moment, "N·m", -np.inf, np.inf)
    return (not_negative("output torque", output_torque, "N·m") - moment) / lever


def misalignment_factor(arm_angle: ArrayLike) -> Floats:
    """Link force, over that of a link square to its arm.

    Parameters
    ----------
    arm_angle : array_like
        Between arm and link, above 0 and below pi. [rad]

    Returns
    -------
    numpy.ndarray
        1 / sin(angle). [-]

    Raises
    ------
    OutOfRangeError
        If an angle is outside its range.

    Notes
    -----
    Source: textbook mechanics.

    Examples
    --------
    >>> misalignment_factor(np.radians([90, 75, 60, 45])).round(4).tolist()
    [1.0, 1.0353, 1.1547, 1.4142]
    """
    angle = between("arm angle", positive("arm angle", arm_angle, "rad"), "rad", 0.0, np.pi - 1e-6)
    return 1.0 / np.sin(angle)
