"""Everything that the findings do at each unit, in physical units."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.consequences import spread
from scoring.consequences.arm_restraint import ArmRestraint, arm_restraint
from scoring.consequences.assumed_sizes import USUAL_AMBIENT_C
from scoring.consequences.joint_grip import JointGrip, joint_grip
from scoring.consequences.nameplate import Nameplate, read_nameplates
from scoring.consequences.preload_left import USUAL_SCREWS
from scoring.consequences.usual_states import UsualArms
from scoring.limits import UnitLimits
from scoring.mechanics.seal import runout_ratio
from scoring.timeline.known import Known

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
    restraint : ArmRestraint
        How likely the torque arm is held, and what that would do.
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
    restraint: ArmRestraint
    added_bearing_load: Floats
    bearing_life_ratio: Floats
    seal_runout_ratio: Floats
    words: tuple[tuple[NDArray[np.bool_], str], ...]


def work_out(known: Known, limits: UnitLimits, usual: UsualArms) -> Consequences:
    """Work out what the findings do at each unit.

    Parameters
    ----------
    known : Known
        What was known of the units in service.
    limits : UnitLimits
        Their limits.
    usual : UsualArms
        How often a torque arm is held where nobody has looked.

    Returns
    -------
    Consequences
    """
    nameplate = read_nameplates(known.units)
    restraint = arm_restraint(known, limits, usual)
    arm, clamped, metal = restraint.arm, restraint.share_clamped, restraint.share_metal
    misset, runout, squeeze = restraint.misset, restraint.runout, restraint.squeeze
    by_rubber, by_metal = clamped * (1 - metal), metal
    expected_runout = np.where(np.isnan(runout), spread.SHAFT_RUNOUT.mean / 1e3, runout)
    return Consequences(
        nameplate=nameplate,
        grip=joint_grip(known, limits, nameplate),
        restraint=restraint,
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
    warm = seen["running_temperature_c"].to_numpy()
    return (
        (passes & units["screw_count"].isna().to_numpy(), f"{USUAL_SCREWS} clamp screws"),
        (warm & units["ambient_c"].isna().to_numpy(), f"{USUAL_AMBIENT_C:g} °C around the unit"),
    )
