"""Everything that the findings do at each unit, in physical units."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.arm_restraint import SQUEEZE, ArmRestraint, ArmsAsFound
from scoring.consequences.assumed_sizes import HUB_RUNOUT_MM, USUAL_AMBIENT_C
from scoring.consequences.joint_grip import JointGrip, joint_grip
from scoring.consequences.nameplate import Nameplate, nameplate_of
from scoring.consequences.preload_left import USUAL_SCREWS
from scoring.consequences.states_of_the_arm import MISSET, RUNOUT, UsualArms
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
        Expected load that the arm adds at most to one low-speed bearing in a turn. [N]
    bearing_life_ratio : ndarray, shape (n_units,)
        Expected rating life of both low-speed bearings over that of a floating unit. [-]
    seal_runout_ratio : ndarray, shape (n_units,)
        Expected run-out under the lip of the output seal over what that follows. [-]
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
        What was known of the units in service; nothing hypothetical.
    limits : UnitLimits
        Their limits.
    usual : UsualArms
        How often a torque arm is held where nobody has looked.

    Returns
    -------
    Consequences
    """
    nameplate = nameplate_of(known)
    restraint = ArmsAsFound(known, limits, nameplate).restraint(usual)
    by_rubber, by_metal = restraint.arm.by_rubber, restraint.arm.by_metal
    lip = restraint.expected(HUB_RUNOUT_MM / 1e3, by_rubber.lip_runout, by_metal.lip_runout)
    held = restraint.share_held > 0
    unknown = {
        state.check: known.found[state.check].isna().to_numpy() & held for state in (MISSET, RUNOUT)
    }
    not_squeezed = known.found[SQUEEZE].isna().to_numpy() & (restraint.share_clamped > 0)
    return Consequences(
        nameplate=nameplate,
        grip=joint_grip(known, limits, nameplate),
        restraint=restraint,
        added_bearing_load=restraint.expected(0.0, by_rubber.added, by_metal.added),
        bearing_life_ratio=restraint.expected(1.0, by_rubber.life, by_metal.life),
        seal_runout_ratio=runout_ratio(lip),
        words=(
            *_words_of_checks(known),
            (unknown[RUNOUT.check], "run-out not measured: a distribution"),
            (unknown[MISSET.check], "mis-set not measured: a distribution"),
            (not_squeezed, "squeeze not measured: a distribution"),
        ),
    )


def _words_of_checks(known: Known) -> tuple[tuple[NDArray[np.bool_], str], ...]:
    """Say what the nameplate leaves blank that only some checks ask for."""
    units = known.units
    passes, low, warm = (
        known.found[name].notna().to_numpy()
        for name in ("torque_passes", "screws_low", "running_temperature_c")
    )
    return (
        ((passes | low) & units["screw_count"].isna().to_numpy(), f"{USUAL_SCREWS} clamp screws"),
        (warm & units["ambient_c"].isna().to_numpy(), f"{USUAL_AMBIENT_C:g} °C around the unit"),
    )
