"""Loads of both low-speed bearings of a floating unit: of its nameplate, usual, and damped."""

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.assumed_sizes import GEAR_RADIUS_SHARE, WEAKEST_SHARE
from scoring.consequences.nameplate import Nameplate, usual_nameplate
from scoring.mechanics.restrained_arm import share_of_nearer_bearing
from scoring.mechanics.torque_arm_reaction import link_force
from scoring.mechanics.weibull_life import BEARING_SLOPES

Floats = NDArray[np.float64]

STANDARD_GRAVITY = 9.80665

SLOPE = BEARING_SLOPES["roller"].typical
"""A life that shrinks by LR multiplies the hazard by LR to the power minus this slope. [-]"""

LOAD_DAMPING = 0.1
"""Power of load over usual load that counts: units are chosen by what they must bear, and ten
times the load is felt as a quarter more; planning value of ours. [-]"""

LEAST_POWER_OF_LOAD = LOAD_DAMPING * SLOPE * 10 / 3
"""Power of its own load to which the hazard of a pair of bearings has to rise at least, so that no
held unit is safer for a load more: the damping's own. [-]"""


def running_link_force(nameplate: Nameplate) -> Floats:
    """Return the force [N] in the link in running, arm square to it."""
    return link_force(nameplate["output_torque_nm"], nameplate["arm_length_mm"], np.pi / 2)


def share_of_the_arm(nameplate: Nameplate) -> Floats:
    """Return the share [-] of a force at the arm that the bearing nearer to it takes."""
    span = nameplate["bearing_span_mm"]
    return share_of_nearer_bearing(nameplate["arm_offset_mm"] + 0.5 * span, span)


def running_bearing_loads(nameplate: Nameplate) -> Floats:
    """Return the loads of both low-speed bearings of a floating unit, the one nearer the arm first.

    Half of gear force and weight, and its share of the link force, taken in one direction;
    planning model of ours.

    Parameters
    ----------
    nameplate : Nameplate
        Sizes and loads.

    Returns
    -------
    ndarray, shape (n_units, 2)
        [N]
    """
    gear = nameplate["output_torque_nm"] / (GEAR_RADIUS_SHARE * nameplate["shaft_diameter_mm"])
    weight = nameplate["unit_mass_kg"] * STANDARD_GRAVITY
    nearer, link = share_of_the_arm(nameplate), running_link_force(nameplate)
    shares = np.column_stack([nearer, np.abs(1 - nearer)])
    loads: Floats = 0.5 * (gear + weight)[:, np.newaxis] + shares * link[:, np.newaxis]
    return loads


def strength_of_the_anchor(nameplate: Nameplate) -> Floats:
    """Return the force at which the weakest element of a restrained anchor slips or bends.

    Parameters
    ----------
    nameplate : Nameplate
        Sizes and loads.

    Returns
    -------
    ndarray, shape (n_units,)
        What passes on the link force along the link bears as much across it: that of its running
        torque, and at least that of the torque usual for such a shaft, for which it was made. [N]
    """
    usual = usual_nameplate(nameplate["shaft_diameter_mm"])
    made_for = usual["output_torque_nm"] / nameplate["arm_length_mm"]
    return WEAKEST_SHARE * np.maximum(running_link_force(nameplate), made_for)


def usual_bearing_loads(nameplate: Nameplate) -> Floats:
    """Return the loads [N], shape (n_units, 2), of a unit of usual sizes for its shaft."""
    return running_bearing_loads(usual_nameplate(nameplate["shaft_diameter_mm"]))


def damped_bearing_loads(nameplate: Nameplate) -> Floats:
    """Return the loads by which hazards are reckoned, shape (n_units, 2).

    .. math:: P = P_{usual} (P_0 / P_{usual})^d

    Parameters
    ----------
    nameplate : Nameplate
        Sizes and loads.

    Returns
    -------
    ndarray, shape (n_units, 2)
        [N]

    Notes
    -----
    The load is damped, not the hazard: what a held arm adds comes on top of it whole. Were only
    the hazard damped, added load would count the less the more a unit carries, and a held arm be
    safer on a unit that works harder.
    """
    usual = usual_bearing_loads(nameplate)
    damped: Floats = usual * (running_bearing_loads(nameplate) / usual) ** LOAD_DAMPING
    return damped


def log_of_the_load(nameplate: Nameplate) -> Floats:
    """Return the logarithm of what its own load makes of the hazard of a pair of bearings.

    Parameters
    ----------
    nameplate : Nameplate
        Sizes and loads.

    Returns
    -------
    ndarray, shape (n_units,)
        0 for a unit whose nameplate says nothing of loads. [-]
    """
    power = (SLOPE * nameplate["life_exponent"])[:, np.newaxis]
    pair = [
        (loads**power).sum(axis=1)
        for loads in (damped_bearing_loads(nameplate), usual_bearing_loads(nameplate))
    ]
    logs: Floats = np.log(pair[0]) - np.log(pair[1])
    return logs


def log_load_over_usual(nameplate: Nameplate) -> Floats:
    """Return the logarithm of the load of a pair of bearings over what is usual for such a shaft.

    Parameters
    ----------
    nameplate : Nameplate
        Sizes and loads.

    Returns
    -------
    ndarray, shape (n_units,)
        Of both as one: that load which, damped, makes the same of their hazard. [-]
    """
    logs: Floats = log_of_the_load(nameplate) / (LOAD_DAMPING * SLOPE * nameplate["life_exponent"])
    return logs
