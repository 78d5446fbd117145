"""Rules on screws: passes, order, final torque; and on what they clamp."""

from scoring.contract.mountings import CLAMPED, SHRINK_DISCS, TAPERED_BUSHING
from scoring.limits.assumptions import COMMON_PRACTICE, FROM_MEMORY, PLANNING_VALUE
from scoring.rules.rule import Circumstances, Flags, Rule, Severity


def _none_made(at: Circumstances) -> Flags:
    found: Flags = at.value("torque_passes") == 0
    return found


def _below_stated(at: Circumstances) -> Flags:
    found: Flags = at.value("final_torque_nm") < at.limit("screw_torque_nm")
    return found


TIGHTENING_RULES = (
    Rule(
        name="no_torque_pass",
        check="torque_passes",
        severity=Severity.HOLD,
        mountings=CLAMPED,
        only_where=_none_made,
        reason="no torque pass made: final torque not reached",
        why="the joint is not clamped",
        action="retorque_in_passes",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="torque_passes_skipped",
        check="torque_passes",
        severity=Severity.CORRECT,
        mountings=CLAMPED,
        reason="torque passes skipped: {value} made, {limit} asked for",
        why="screws brought up at once rob one another of preload; repeat passes even it out",
        action="retorque_in_passes",
        origin=COMMON_PRACTICE,
        limit="torque_passes_required",
    ),
    Rule(
        name="wrong_order",
        check="tightening_order",
        severity=Severity.CORRECT,
        mountings=CLAMPED,
        reason="screws tightened in the wrong order: {value}",
        why="star for a tapered bushing, circular for a shrink disc; the order alone does not "
        "even out the preload, the last passes all round do",
        action="retorque_in_passes",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="final_torque_not_reached",
        check="final_torque_nm",
        severity=Severity.HOLD,
        mountings=CLAMPED,
        only_where=_below_stated,
        reason="final torque not reached: {value} N·m read, {limit} N·m stated",
        why="the joint carries less than it should",
        action="retorque_in_passes",
        origin=f"{COMMON_PRACTICE}; what a tool may deviate {FROM_MEMORY}",
        limit="screw_torque_nm",
    ),
    Rule(
        name="final_torque_passed",
        check="final_torque_nm",
        severity=Severity.CORRECT,
        mountings=CLAMPED,
        reason="final torque passed: {value} N·m read, {limit} N·m stated",
        why="screws may be stretched and the hub overstressed",
        action="retorque_in_passes",
        origin=f"{COMMON_PRACTICE}; what a tool may deviate {FROM_MEMORY}",
        limit="screw_torque_nm",
    ),
    Rule(
        name="screws_low",
        check="screws_low",
        severity=Severity.HOLD,
        mountings=CLAMPED,
        reason="clamp screws low or missing: {value}",
        why="final torque is not reached all round; the joint carries less than it should",
        action="retorque_in_passes",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="screws_missing",
        check="screws_missing",
        severity=Severity.HOLD,
        mountings=CLAMPED,
        reason="clamp screws missing: {value}",
        why="a part of the circle is not clamped at all, and the disc or flange is bent",
        action="retorque_in_passes",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="screws_not_rechecked",
        check="screws_rechecked",
        severity=Severity.CORRECT,
        mountings=CLAMPED,
        reason="clamp screws not checked again after the first running days",
        why="a joint settles in its first days, and its screws lose preload",
        action="retorque_in_passes",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="collar_gap_off",
        check="collar_gap_mm",
        severity=Severity.CORRECT,
        mountings=(TAPERED_BUSHING,),
        reason="collar gap {value} mm, outside its range by {beyond} mm",
        why="a closed gap takes the torque that should draw the taper up; a wide one says that "
        "the taper was not drawn up",
        action="reset_collar_gap",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="disc_off_centre",
        check="disc_offset_mm",
        severity=Severity.CORRECT,
        mountings=SHRINK_DISCS,
        reason="disc {value} mm off the middle of its seat",
        why="the disc clamps beside the shaft it should clamp",
        action="recentre_disc",
        origin=f"{COMMON_PRACTICE}; how far is a {PLANNING_VALUE}",
    ),
)
