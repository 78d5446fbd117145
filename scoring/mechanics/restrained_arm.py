"""Load on the low-speed bearings from a torque arm that cannot float.

The unit rides on a shaft that runs out: it goes round with the shaft's eccentricity and wobbles
with its slope. Along the link the arm simply swings. Across it and along the shaft, an anchor
that holds the arm must be moved by force, and the force goes through the two bearings:

- across: stiffness times half the run-out, shared by the bearings;
- along the shaft: stiffness times arm length times slope, which tips the unit, so each bearing
  gets it times arm length over bearing span, with opposite signs.

An anchor clamped out of line adds the same two, at rest. All are taken in the direction of the
bearing's own load, the worst one.

Source: our own calculation, statics of a rigid unit. The thrust along the shaft comes on top and
goes through one bearing.
"""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.validity_ranges import Floats, not_negative, positive
from scoring.mechanics.variable_load import mean_of_oscillating_load


def slope_of_runout(runout: ArrayLike, support_distance: ArrayLike) -> Floats:
    """Slope of the shaft at the unit, from its run-out there.

    Parameters
    ----------
    runout : array_like
        Total indicator reading at the unit; half of it is the eccentricity. [m]
    support_distance : array_like
        From the unit to the driven shaft's nearest bearing. [m]

    Returns
    -------
    numpy.ndarray
        Run-out / (2 distance). [rad]

    Raises
    ------
    OutOfRangeError
        If a run-out is negative or a distance not above 0.

    Notes
    -----
    Source: our own calculation; the shaft is taken as straight from that bearing on.

    Examples
    --------
    >>> float(slope_of_runout(0.0002, 0.2))
    0.0005
    """
    distance = positive("distance to the shaft's bearing", support_distance, "m")
    return not_negative("shaft run-out", runout, "m") / (2.0 * distance)


def anchor_force(stiffness: ArrayLike, displacement: ArrayLike, weakest: ArrayLike) -> Floats:
    """Force of an anchor that is moved, up to what its weakest element bears.

    Parameters
    ----------
    stiffness : array_like
        Stiffness of the anchor in the direction of the movement. [N/m]
    displacement : array_like
        How far it is moved: half the run-out across, arm length times slope along the shaft,
        or a mis-set. [m]
    weakest : array_like
        Force at which the weakest element slips or yields; infinite if none is known. [N]

    Returns
    -------
    numpy.ndarray
        The lesser of stiffness times displacement and the weakest element's force. [N]

    Raises
    ------
    OutOfRangeError
        If a value is negative.

    Notes
    -----
    Source: our own calculation.

    Examples
    --------
    >>> anchor_force(20e6, 0.001, [float("inf"), 8e3]).tolist()
    [20000.0, 8000.0]
    """
    # An infinite limit is allowed: it says that none is known
    limit = np.asarray(weakest, dtype=np.float64)
    not_negative("force of the weakest element", np.where(np.isposinf(limit), 0.0, limit), "N")
    moved = not_negative("displacement of the anchor", displacement, "m")
    return np.minimum(not_negative("stiffness of the anchor", stiffness, "N/m") * moved, limit)


def share_of_nearer_bearing(arm_offset: ArrayLike, bearing_span: ArrayLike) -> Floats:
    """Share of a force across the shaft that the bearing nearer to the arm takes.

    Parameters
    ----------
    arm_offset : array_like
        Plane of the arm from the middle between the bearings, either way. [m]
    bearing_span : array_like
        Between the low-speed bearings. [m]

    Returns
    -------
    numpy.ndarray
        1/2 + offset / span; above 1 if the arm is outside the bearings. [-]

    Raises
    ------
    OutOfRangeError
        If an offset is negative or a span not above 0.

    Notes
    -----
    Source: textbook mechanics, a beam on two supports.

    Examples
    --------
    >>> share_of_nearer_bearing([0.0, 0.075], 0.150).tolist()
    [0.5, 1.0]
    """
    offset = not_negative("offset of the arm", arm_offset, "m")
    return 0.5 + offset / positive("bearing span", bearing_span, "m")


def load_per_bearing(
    across: ArrayLike,
    along: ArrayLike,
    arm_length: ArrayLike,
    bearing_span: ArrayLike,
    share: ArrayLike = 0.5,
) -> Floats:
    """Radial load on the more heavily loaded bearing from the forces at the anchor.

    Parameters
    ----------
    across : array_like
        Force at the anchor across link and shaft. [N]
    along : array_like
        Force at the anchor along the shaft. [N]
    arm_length : array_like
        From shaft axis to anchor. [m]
    bearing_span : array_like
        Between the low-speed bearings. [m]
    share : array_like
        Share of the force across that this bearing takes. [-]

    Returns
    -------
    numpy.ndarray
        share · across + along · arm length / span. [N]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: our own calculation, as given at the head of this file.

    Examples
    --------
    >>> stiffness, slope = 329.6e3, slope_of_runout(0.0002, 0.2)
    >>> across = anchor_force(stiffness, 0.0001, float("inf"))
    >>> along = anchor_force(stiffness, 0.5 * slope, float("inf"))
    >>> round(float(load_per_bearing(across, along, 0.5, 0.15)))
    291
    """
    lever = positive("arm length", arm_length, "m") / positive("bearing span", bearing_span, "m")
    tipping = not_negative("force along the shaft", along, "N") * lever
    direct = not_negative("force across the link", across, "N")
    return direct * not_negative("share of the bearing", share, "") + tipping


def life_ratio(
    bearing_load: ArrayLike,
    added_at_rest: ArrayLike,
    added_amplitude: ArrayLike,
    exponent: ArrayLike,
) -> Floats:
    """Rating life with the loads of a restrained arm, over that of a floating unit.

    Parameters
    ----------
    bearing_load : array_like
        Load of the bearing when the unit floats. [N]
    added_at_rest : array_like
        Load that a mis-set anchor adds. [N]
    added_amplitude : array_like
        Amplitude of the load that swings once a revolution. [N]
    exponent : array_like
        3 for balls, 10/3 for rollers; 1 to 4 is taken. [-]

    Returns
    -------
    numpy.ndarray
        (P0 / Pm)^p, at most 1. [-]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: our own calculation from linear damage; loads added in the worst direction.

    Examples
    --------
    >>> life_ratio(12e3, [0.0, 1099.0], [0.0, 291.0], 10 / 3).round(3).tolist()
    [1.0, 0.746]
    """
    load = positive("bearing load", bearing_load, "N")
    at_rest = load + not_negative("load added at rest", added_at_rest, "N")
    mean = mean_of_oscillating_load(at_rest, added_amplitude, exponent)
    return np.asarray((load / mean) ** np.asarray(exponent, dtype=np.float64))
