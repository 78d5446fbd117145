"""Rules on the torque arm: the unit must float with the run-out, and touch nothing."""

from scoring.limits.assumptions import COMMON_PRACTICE, FROM_MEMORY, PLANNING_VALUE, SQUEEZE_SHARE
from scoring.rules.rule import Circumstances, Flags, Rule, Severity

_FLOAT = (
    "a clamped arm cannot follow the shaft's run-out; the low-speed bearings take the force: "
    "they bind, the seal leaks, the bearings fail"
)


def _touches(at: Circumstances) -> Flags:
    found: Flags = at.value("smallest_clearance_mm") == 0
    return found


TORQUE_ARM_RULES = (
    Rule(
        name="metal_to_metal",
        check="metal_contact",
        severity=Severity.HOLD,
        reason="metal touches metal at arm, housing or motor",
        why="an impact loads the low-speed bearings like a clamped arm",
        action="restore_isolation",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="isolators_clamped",
        check="isolators_free",
        severity=Severity.CORRECT,
        reason="both isolators clamped: neither turns by hand",
        why=_FLOAT,
        action="back_off_isolators",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="isolators_squeezed",
        check="isolator_squeeze_mm",
        severity=Severity.CORRECT,
        reason="isolator squeezed by {value} mm, {beyond} mm too much",
        why=_FLOAT,
        action="back_off_isolators",
        origin=SQUEEZE_SHARE.origin,
    ),
    Rule(
        name="isolator_missing",
        check="isolator_stack",
        severity=Severity.HOLD,
        from_exceedance=3,
        reason="isolator missing at the anchor",
        why="metal touches metal through the joint",
        action="replace_isolators",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="isolator_damaged",
        check="isolator_stack",
        severity=Severity.CORRECT,
        from_exceedance=2,
        reason="isolator damaged",
        why="damaged rubber lets metal through soon",
        action="replace_isolators",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="washer_missing",
        check="isolator_stack",
        severity=Severity.CORRECT,
        reason="washer missing at the anchor",
        why="the nut cuts into the rubber and pulls through",
        action="restore_isolation",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="arm_bolt_missing",
        check="arm_bolts",
        severity=Severity.HOLD,
        from_exceedance=2,
        reason="torque-arm bolt missing",
        why="the arm may come off its housing",
        action="tighten_arm_bolts",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="arm_bolt_loose",
        check="arm_bolts",
        severity=Severity.CORRECT,
        reason="torque-arm bolt loose",
        why="a loose arm hammers",
        action="tighten_arm_bolts",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="touches",
        check="smallest_clearance_mm",
        severity=Severity.HOLD,
        only_where=_touches,
        reason="no clearance: the unit touches something in its turn",
        why="an impact loads the low-speed bearings like a clamped arm",
        action="restore_clearance",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="clearance_small",
        check="smallest_clearance_mm",
        severity=Severity.CORRECT,
        reason="clearance only {value} mm",
        why="the unit floats with the run-out and must touch nothing",
        action="restore_clearance",
        origin=f"{COMMON_PRACTICE}; how much is a {PLANNING_VALUE}",
    ),
    Rule(
        name="arm_misset",
        check="arm_misset_mm",
        severity=Severity.CORRECT,
        reason="arm and anchor {value} mm apart along the shaft",
        why="drawn together by a clamped joint they load the low-speed bearings for good",
        action="realign_arm",
        origin=PLANNING_VALUE,
    ),
    Rule(
        name="arm_not_square",
        check="arm_angle_deg",
        severity=Severity.CORRECT,
        reason="arm {value}° to its link, not square",
        why="the reaction grows as the angle shrinks",
        action="realign_arm",
        origin=FROM_MEMORY,
    ),
)
