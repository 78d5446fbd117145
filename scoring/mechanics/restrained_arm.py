"""Load on the low-speed bearings from a torque arm that cannot float.

The unit rides on a shaft that runs out: it goes round with the shaft's eccentricity and wobbles
with its slope. Along the link the arm simply swings. Across it and along the shaft, an anchor
that holds the arm must be moved by force, and the force goes through the two bearings:

- across: stiffness times half the run-out, shared by the bearings as a beam shares it;
- along the shaft: stiffness times arm length times slope, which tips the unit, so each bearing
  gets it times arm length over bearing span, with opposite signs.

Both swing together, once a turn. An anchor clamped out of line adds a steady pull along the shaft.

What the anchor's weakest element bears, it bears once: the pull and the swing together, as vectors
where they point most the same way, can never pass it. How they share it, once it slips, is not
known; of all ways to share it the worst counts, so that more of either is never better.

Source: our own calculation, statics of a rigid unit. The thrust along the shaft comes on top and
goes through one bearing.
"""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.bearings_in_series import system_rating_life
from scoring.mechanics.validity_ranges import Floats, between, not_negative, positive
from scoring.mechanics.variable_load import damage_of_a_turn


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


def anchor_force(stiffness: ArrayLike, displacement: ArrayLike) -> Floats:
    """Force of an anchor that is moved, as long as nothing slips.

    Parameters
    ----------
    stiffness : array_like
        Stiffness of the anchor in the direction of the movement. [N/m]
    displacement : array_like
        How far it is moved: half the run-out across, arm length times slope along the shaft,
        or a mis-set. [m]

    Returns
    -------
    numpy.ndarray
        Stiffness times displacement. [N]

    Raises
    ------
    OutOfRangeError
        If a value is negative.

    Notes
    -----
    Source: our own calculation.

    Examples
    --------
    >>> float(anchor_force(20e6, 0.001))
    20000.0
    """
    moved = not_negative("displacement of the anchor", displacement, "m")
    return not_negative("stiffness of the anchor", stiffness, "N/m") * moved


def shared_at_the_anchor(
    pull: ArrayLike, swing: ArrayLike, weakest: ArrayLike, cosine: ArrayLike
) -> tuple[Floats, Floats]:
    """Ways in which steady pull and swing share what the anchor's weakest element bears.

    Parameters
    ----------
    pull : array_like
        Steady force that a mis-set asks of the anchor; broadcasts. [N]
    swing : array_like
        Amplitude of the force that run-out asks of it once a turn; broadcasts. [N]
    weakest : array_like
        Force at which the weakest element slips or yields; broadcasts. [N]
    cosine : array_like
        Cosine of the angle between the two, at the moment at which they point most the same way;
        0 to 1; broadcasts. [-]

    Returns
    -------
    tuple of numpy.ndarray, shape (3, ...)
        Pull and swing, three ways: the pull as far as it can, the swing as far as it can, and both
        alike. Each way no more than was asked for, and as vectors no more than the weakest
        element; one and the same where nothing slips. [N]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: our own calculation. What is possible together is the polygon through *pull alone*,
    *both alike* and *swing alone*, each of which is just what the weakest element bears; between
    them it leaves out at most 8 % of what a vector sum would allow, where the two are at right
    angles, and nothing where they are in line.

    Examples
    --------
    >>> pull, swing = shared_at_the_anchor(800.0, 900.0, 1000.0, 1.0)
    >>> pull.tolist(), swing.round(6).tolist()
    ([800.0, 100.0, 500.0], [200.0, 900.0, 500.0])
    """
    most = not_negative("force of the weakest element", weakest, "N")
    asked_pull = np.minimum(not_negative("pull at the anchor", pull, "N"), most)
    asked_swing = np.minimum(not_negative("swing at the anchor", swing, "N"), most)
    alike = most / np.sqrt(2.0 + 2.0 * between("cosine", cosine, "", 0.0, 1.0))
    edge = alike / np.where(most > alike, most - alike, 1.0)

    def beside(one: Floats) -> Floats:
        """Return what the weakest element has left beside one of the two."""
        left = np.minimum(most - one / np.where(edge > 0, edge, 1.0), edge * (most - one))
        return np.maximum(left, 0.0)

    nothing = 0.0 * (asked_pull + asked_swing + alike)
    pull_first = asked_pull, np.minimum(asked_swing, beside(asked_pull))
    swing_first = np.minimum(asked_pull, beside(asked_swing)), asked_swing
    both = (asked_pull > alike) & (asked_swing > alike)
    both_alike = tuple(np.where(both, alike, one) for one in pull_first)
    ways = (pull_first, swing_first, both_alike)
    pulls, swings = (np.stack([way[place] + nothing for way in ways]) for place in (0, 1))
    return pulls, swings


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


def loads_of_both_bearings(
    across: ArrayLike,
    along: ArrayLike,
    arm_length: ArrayLike,
    bearing_span: ArrayLike,
    share: ArrayLike = 0.5,
) -> Floats:
    """Radial loads on both bearings from the forces at the anchor, along the line of the arm.

    Parameters
    ----------
    across : array_like
        Force at the anchor across link and shaft. [N]
    along : array_like
        Force at the anchor along the shaft, above 0 where it loads the bearing nearer to the arm
        as the force across does. [N]
    arm_length : array_like
        From shaft axis to anchor. [m]
    bearing_span : array_like
        Between the low-speed bearings. [m]
    share : array_like
        Share of the force across that the nearer bearing takes. [-]

    Returns
    -------
    numpy.ndarray, shape (..., 2)
        Nearer bearing: share · across + along · arm length / span; the other one:
        (1 - share) · across - along · arm length / span. [N]

    Raises
    ------
    OutOfRangeError
        If arm or span is not above 0, the share negative, or a force infinite.

    Notes
    -----
    Source: our own calculation, as given at the head of this file.

    Examples
    --------
    >>> stiffness, slope = 329.6e3, slope_of_runout(0.0002, 0.2)
    >>> across = anchor_force(stiffness, 0.0001)
    >>> along = anchor_force(stiffness, 0.5 * slope)
    >>> loads_of_both_bearings(across, along, 0.5, 0.15).round().tolist()
    [291.0, -258.0]
    """
    lever = positive("arm length", arm_length, "m") / positive("bearing span", bearing_span, "m")
    tipping = between("force along the shaft", along, "N", -np.inf, np.inf) * lever
    direct = between("force across the link", across, "N", -np.inf, np.inf)
    part = not_negative("share of the bearing", share, "")
    return np.stack(np.broadcast_arrays(part * direct + tipping, (1 - part) * direct - tipping), -1)


def life_ratio(
    own_loads: ArrayLike,
    added_at_rest: ArrayLike,
    added_swing: ArrayLike,
    exponent: ArrayLike,
    slope: ArrayLike,
) -> Floats:
    """Rating life of several bearings with the loads of a held arm, over that of a floating unit.

    Parameters
    ----------
    own_loads : array_like, shape (..., bearings)
        Load of each bearing when the unit floats. [N]
    added_at_rest : array_like, shape (..., bearings)
        Load that a mis-set anchor adds to each. [N]
    added_swing : array_like, shape (..., bearings)
        Amplitude of the load that swings once a revolution. [N]
    exponent : array_like, shape (...)
        3 for balls, 10/3 for rollers; 2 to 4 is taken. [-]
    slope : array_like, shape (...)
        Weibull slope of their lives. [-]

    Returns
    -------
    numpy.ndarray, shape (...)
        Life of the set, loads as found, over its life with its own loads; at most 1. [-]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: our own calculation from linear damage, over a turn and all directions in which the
    added loads may stand against the bearings' own; the first bearing to fail ends the life.

    Examples
    --------
    >>> life_ratio([12e3, 12e3], [1099.0, 1099.0], [291.0, 258.0], 10 / 3, 1.3).round(3).tolist()
    0.975
    """
    own = positive("load of the bearing", own_loads, "N")
    power = np.asarray(exponent, dtype=np.float64)[..., np.newaxis]
    at_rest = not_negative("load added at rest", added_at_rest, "N")
    swing = not_negative("amplitude of the added load", added_swing, "N")
    wear = damage_of_a_turn(1.0, at_rest / own, swing / own, power)
    alone = own**-power
    return np.asarray(system_rating_life(alone / wear, slope) / system_rating_life(alone, slope))
