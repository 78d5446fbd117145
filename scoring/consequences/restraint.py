"""The torque arm: how likely it is held, and what that does to the low-speed bearings.

One or two isolators that turn by hand: the arm floats, no parasitic load. None: the rubber holds
it, the stiffer the more it is squeezed. Metal to metal: bolt or bracket hold it.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.consequences import spread
from scoring.consequences.assumed_sizes import (
    GEAR_RADIUS_SHARE,
    METAL_STIFFNESS_N_PER_MM,
    WEAKEST_SHARE,
)
from scoring.consequences.nameplate import Nameplate
from scoring.mechanics.restrained_arm import (
    anchor_force,
    life_ratio,
    load_per_bearing,
    share_of_nearer_bearing,
    slope_of_runout,
)
from scoring.mechanics.rubber_isolator import annulus_area, pad_stiffness
from scoring.mechanics.rubber_modulus import shear_modulus
from scoring.mechanics.squeezed_rubber import squeezed_shear_stiffness
from scoring.mechanics.torque_arm_reaction import link_force

Floats = NDArray[np.float64]

ISOLATORS = 2
STANDARD_GRAVITY = 9.80665
LARGEST_SQUEEZE = 0.6


@dataclass(frozen=True)
class HeldArm:
    """What a held arm does, over the points of what was not measured.

    Attributes
    ----------
    shares : ndarray, shape (n_points,)
        How often each point. [-]
    bearing_load : ndarray, shape (n_units,)
        Load of one low-speed bearing when the unit floats. [N]
    added_by_rubber, added_by_metal : ndarray, shape (n_units, n_points)
        Load that a clamped, or a metal-to-metal, anchor adds at most in a turn. [N]
    life_with_rubber, life_with_metal : ndarray, shape (n_units, n_points)
        Rating life over that of a floating unit. [-]
    """

    shares: Floats
    bearing_load: Floats
    added_by_rubber: Floats
    added_by_metal: Floats
    life_with_rubber: Floats
    life_with_metal: Floats


def held_arm(nameplate: Nameplate, misset: Floats, runout: Floats, squeeze: Floats) -> HeldArm:
    """Work out what a held arm does at each unit.

    Parameters
    ----------
    nameplate : Nameplate
        Sizes and loads.
    misset, runout : ndarray, shape (n_units,)
        Missing where not measured. [m]
    squeeze : ndarray, shape (n_units,)
        Squeeze over thickness, missing where not measured. [-]

    Returns
    -------
    HeldArm
    """
    misset_at = spread.ARM_MISSET.where_not(misset * 1e3) / 1e3
    runout_at = spread.SHAFT_RUNOUT.where_not(runout * 1e3) / 1e3
    squeeze_at = np.minimum(spread.SQUEEZE_SHARE.where_not(squeeze), LARGEST_SQUEEZE)
    points = np.meshgrid(
        *(np.arange(n) for n in (misset_at.shape[1], runout_at.shape[1], squeeze_at.shape[1])),
        indexing="ij",
    )
    which = [p.ravel() for p in points]
    shares = (
        np.array(spread.ARM_MISSET.shares)[which[0]]
        * np.array(spread.SHAFT_RUNOUT.shares)[which[1]]
        * np.array(spread.SQUEEZE_SHARE.shares)[which[2]]
    )
    loads = _Loads(nameplate, misset_at[:, which[0]], runout_at[:, which[1]])
    snug = _snug_stiffness(nameplate)[:, np.newaxis]
    rubber = squeezed_shear_stiffness(snug, squeeze_at[:, which[2]])
    metal = np.maximum(METAL_STIFFNESS_N_PER_MM * 1e3, rubber)
    added_by_rubber, life_with_rubber = loads.with_stiffness(rubber)
    added_by_metal, life_with_metal = loads.with_stiffness(metal)
    return HeldArm(
        shares,
        loads.bearing_load[:, 0],
        added_by_rubber,
        added_by_metal,
        life_with_rubber,
        life_with_metal,
    )


def _snug_stiffness(nameplate: Nameplate) -> Floats:
    """Shear stiffness [N/m] of both isolators together, not squeezed."""
    area = annulus_area(nameplate["isolator_outer_mm"], nameplate["isolator_inner_mm"])
    modulus = shear_modulus(nameplate["isolator_hardness_shore_a"])
    return ISOLATORS * pad_stiffness(modulus, area, nameplate["isolator_thickness_mm"])


def running_link_force(nameplate: Nameplate) -> Floats:
    """Return the force [N] in the link in running, arm square to it."""
    return link_force(nameplate["output_torque_nm"], nameplate["arm_length_mm"], np.pi / 2)


def running_bearing_load(nameplate: Nameplate) -> Floats:
    """Return the load [N] of one low-speed bearing of a floating unit.

    Half of gear force, link force and weight, taken in one direction; planning model of ours.
    """
    gear = nameplate["output_torque_nm"] / (GEAR_RADIUS_SHARE * nameplate["shaft_diameter_mm"])
    weight = nameplate["unit_mass_kg"] * STANDARD_GRAVITY
    return 0.5 * (gear + running_link_force(nameplate) + weight)


class _Loads:
    """Loads at every point of what was not measured."""

    def __init__(self, nameplate: Nameplate, misset: Floats, runout: Floats) -> None:
        def column(name: str) -> Floats:
            return nameplate[name][:, np.newaxis]

        self.misset, self.runout = misset, runout
        self.slope = slope_of_runout(runout, column("shaft_support_distance_mm"))
        self.arm, self.span = column("arm_length_mm"), column("bearing_span_mm")
        self.share = share_of_nearer_bearing(column("arm_offset_mm") + 0.5 * self.span, self.span)
        self.bearing_load = running_bearing_load(nameplate)[:, np.newaxis]
        self.weakest = WEAKEST_SHARE * running_link_force(nameplate)[:, np.newaxis]
        self.exponent = column("life_exponent")

    def with_stiffness(self, stiffness: Floats) -> tuple[Floats, Floats]:
        """Return the load added at most in a turn, and the life ratio."""
        across = anchor_force(stiffness, 0.5 * self.runout, self.weakest)
        wobble = anchor_force(stiffness, self.arm * self.slope, self.weakest)
        pulled = anchor_force(stiffness, self.misset, self.weakest)
        swing = load_per_bearing(across, wobble, self.arm, self.span, self.share)
        at_rest = load_per_bearing(0.0, pulled, self.arm, self.span)
        return swing + at_rest, life_ratio(self.bearing_load, at_rest, swing, self.exponent)
