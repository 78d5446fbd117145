"""Rules on the housing: breather, oil, guard, seal; and on symptoms."""

from scoring.limits.assumptions import COMMON_PRACTICE, FROM_MEMORY
from scoring.rules.rule import Circumstances, Flags, Rule, Severity
from scoring.timeline.leaks import DRIPPING


def _leak_stands(at: Circumstances) -> Flags:
    """Tell where a leak stands, even if the unit was hung anew with its old seal."""
    return at.known.history["leak_since"].notna().to_numpy(dtype=bool)


HOUSING_RULES = (
    Rule(
        name="guard_missing",
        check="guard",
        severity=Severity.HOLD,
        reason="guard missing",
        why="people can be caught",
        action="fit_guard",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="oil_low",
        check="oil_level",
        severity=Severity.HOLD,
        from_exceedance=2,
        reason="oil low",
        why="bearings and gears run dry",
        action="correct_oil_level",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="oil_high",
        check="oil_level",
        severity=Severity.CORRECT,
        reason="oil high",
        why="churning heats the oil and presses it through the seal",
        action="correct_oil_level",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="breather_plugged",
        check="breather",
        severity=Severity.CORRECT,
        reason="breather plugged",
        why="pressure lifts the seal lip",
        action="open_breather",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="backstop_turned_wrong",
        check="backstop_direction",
        severity=Severity.HOLD,
        reason="backstop in the wrong direction",
        why="the drive works against a lock, and nothing holds the belt on its incline",
        action="turn_backstop",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="plugs_of_another_position",
        check="mounting_position",
        severity=Severity.CORRECT,
        reason="breather or level plug where another mounting position wants it",
        why="the oil level is then wrong however it is read, and the breather passes oil",
        action="move_plugs",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="metal_in_oil",
        check="oil_condition",
        severity=Severity.CORRECT,
        from_exceedance=3,
        reason="metal in the oil",
        why="something is wearing: new oil hides it and mends nothing",
        action="renew_bearing",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="oil_not_right",
        check="oil_condition",
        severity=Severity.CORRECT,
        reason="oil not right: {value}",
        why="water and a wrong oil leave bearings and gears without their film",
        action="change_oil",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="seal_lip_not_clean",
        check="seal_lip",
        severity=Severity.CORRECT,
        reason="lip of the output seal {value}",
        why="paint and cuts keep the lip off its shaft",
        action="renew_seal",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="seal_leaks",
        check="seal_weep",
        severity=Severity.CORRECT,
        from_exceedance=DRIPPING,
        also_where=_leak_stands,
        reason="output seal drips",
        why="oil is lost and dirt gets in",
        action="renew_seal",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="seal_damp",
        check="seal_weep",
        severity=Severity.WATCH,
        reason="output seal {value}",
        why="a symptom: the seal may be about to leak",
        action="",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="runs_hot",
        check="running_temperature_c",
        severity=Severity.WATCH,
        reason="{value} °C at the low-speed bearing",
        why="a symptom: friction or overload",
        action="",
        origin=FROM_MEMORY,
    ),
    Rule(
        name="vibrates",
        check="vibration_mm_s",
        severity=Severity.WATCH,
        reason="{value} mm/s at the low-speed bearing",
        why="a symptom: damage or a restrained unit; a screen, no acceptance limit",
        action="",
        origin=FROM_MEMORY,
    ),
)
