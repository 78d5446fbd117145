"""Everything that the findings do at each unit, in physical units."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.consequences import spread
from scoring.consequences.assumed_sizes import USUAL_AMBIENT_C
from scoring.consequences.joint_grip import USUAL_SCREWS, JointGrip, joint_grip
from scoring.consequences.nameplate import Nameplate, read_nameplates
from scoring.consequences.restraint import HeldArm, held_arm
from scoring.consequences.usual_states import (
    CHANCE_THAT_REWORK_TAKES,
    USUAL_SHARE_CLAMPED,
    USUAL_SHARE_OF_METAL_CONTACT,
)
from scoring.contract.mountings import SHRINK_DISCS
from scoring.limits import UnitLimits
from scoring.mechanics.seal import runout_ratio
from scoring.records import has_mounting
from scoring.timeline.known import Known, Status

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Consequences:
    """What the findings do at each unit.

    Attributes
    ----------
    nameplate : Nameplate
        Sizes and loads, and what was assumed.
    grip : JointGrip
        Slip margins.
    arm : HeldArm
        What a held arm would do.
    share_clamped, share_metal : ndarray, shape (n_units,)
        How likely rubber, or metal, holds the arm; 0 or 1 where it was seen. [-]
    added_bearing_load : ndarray, shape (n_units,)
        Expected load that the arm puts on one low-speed bearing. [N]
    bearing_life_ratio : ndarray, shape (n_units,)
        Expected rating life over that of a floating unit. [-]
    seal_runout_ratio : ndarray, shape (n_units,)
        Run-out at the seal over what it follows. [-]
    words : tuple of (ndarray of bool, str)
        For which units what was taken as a distribution.
    """

    nameplate: Nameplate
    grip: JointGrip
    arm: HeldArm
    share_clamped: Floats
    share_metal: Floats
    added_bearing_load: Floats
    bearing_life_ratio: Floats
    seal_runout_ratio: Floats
    words: tuple[tuple[NDArray[np.bool_], str], ...]


def work_out(known: Known, limits: UnitLimits) -> Consequences:
    """Work out what the findings do at each unit.

    Parameters
    ----------
    known : Known
        What was known of the units in service.
    limits : UnitLimits
        Their limits.

    Returns
    -------
    Consequences
    """
    nameplate = read_nameplates(known.units)
    misset = known.found["arm_misset_mm"].to_numpy() / 1e3
    runout = known.found["shaft_runout_mm"].to_numpy() / 1e3
    squeeze = _squeeze_share(known, limits)
    arm = held_arm(nameplate, misset, runout, squeeze)
    clamped, metal = _share_clamped(known), _share_of_metal_contact(known)
    by_rubber, by_metal = clamped * (1 - metal), metal
    expected_runout = np.where(np.isnan(runout), spread.SHAFT_RUNOUT.mean / 1e3, runout)
    return Consequences(
        nameplate=nameplate,
        grip=joint_grip(known, limits, nameplate),
        arm=arm,
        share_clamped=clamped,
        share_metal=metal,
        added_bearing_load=(
            by_rubber * (arm.added_by_rubber @ arm.shares)
            + by_metal * (arm.added_by_metal @ arm.shares)
        ),
        bearing_life_ratio=(
            by_rubber * (arm.life_with_rubber @ arm.shares)
            + by_metal * (arm.life_with_metal @ arm.shares)
            + (1 - by_rubber - by_metal)
        ),
        seal_runout_ratio=runout_ratio(expected_runout),
        words=(
            *_words_of_checks(known),
            (np.isnan(runout), "run-out not measured: a distribution"),
            (np.isnan(misset) & (clamped + metal > 0), "mis-set not measured: a distribution"),
            (np.isnan(squeeze) & (clamped > 0), "squeeze not measured: a distribution"),
        ),
    )


def _words_of_checks(known: Known) -> tuple[tuple[NDArray[np.bool_], str], ...]:
    """Say what the nameplate leaves blank that only some checks ask for."""
    units, seen = known.units, known.found.notna()
    passes = (seen["torque_passes"] | seen["screws_low"]).to_numpy()
    size = seen["shaft_diameter_measured_mm"].to_numpy() & has_mounting(units, SHRINK_DISCS)
    warm = seen["running_temperature_c"].to_numpy()
    return (
        (passes & units["screw_count"].isna().to_numpy(), f"{USUAL_SCREWS} clamp screws"),
        (size, "bore of class H7"),
        (warm & units["ambient_c"].isna().to_numpy(), f"{USUAL_AMBIENT_C:g} °C around the unit"),
    )


def _squeeze_share(known: Known, limits: UnitLimits) -> Floats:
    thickness = limits.table["isolator_thickness_mm"].to_numpy()
    share: Floats = known.found["isolator_squeeze_mm"].to_numpy() / thickness
    return share


def _share_clamped(known: Known) -> Floats:
    """Tell how likely the rubber holds the arm; too much squeeze outweighs a free isolator."""
    clamped = known.badness["isolators_free"].to_numpy()
    share = _share_where_not_seen(known, "isolators_free", USUAL_SHARE_CLAMPED)
    share = np.where(np.isnan(clamped), share, np.where(clamped > 0, 1.0, 0.0))
    return np.where(known.badness["isolator_squeeze_mm"].to_numpy() > 0, 1.0, share)


def _share_where_not_seen(known: Known, check: str, usual: float) -> Floats:
    """Tell how likely a fault is that nobody has seen, or that re-work is said to have cured."""
    cured = known.status[check].to_numpy() == Status.REPORTED_CURED
    return np.where(cured, 1 - CHANCE_THAT_REWORK_TAKES, usual)


def _share_of_metal_contact(known: Known) -> Floats:
    """Tell how likely metal holds the arm; no clearance at all is contact."""
    contact = known.found["metal_contact"].cat.codes.to_numpy()
    clearance = known.found["smallest_clearance_mm"].to_numpy()
    share = _share_where_not_seen(known, "metal_contact", USUAL_SHARE_OF_METAL_CONTACT)
    share = np.where(contact < 0, share, np.where(contact == 1, 1.0, 0.0))
    return np.where(clearance == 0, 1.0, share)
