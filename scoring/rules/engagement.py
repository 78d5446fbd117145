"""Rules on how far and how well the shaft sits in the unit."""

import numpy as np

from scoring.contract.mountings import CLAMPED, KEYED_BORE, SHRINK_DISC_SUPPORT_BUSHINGS
from scoring.limits.assumptions import COMMON_PRACTICE, FROM_MEMORY, PLANNING_VALUE
from scoring.rules.rule import Circumstances, Flags, Rule, Severity


def _asked_for(at: Circumstances) -> Flags:
    known: Flags = ~np.isnan(at.limit("required_engagement_mm"))
    return known


_SHORT = "a joint short of shaft cannot be relied on for any torque"

ENGAGEMENT_RULES = (
    Rule(
        name="shaft_short_in_friction_joint",
        check="engagement_mm",
        severity=Severity.HOLD,
        mountings=CLAMPED,
        only_where=_asked_for,
        reason="shaft short: {value} mm in the bore, {limit} mm asked for",
        why=_SHORT,
        action="reseat_on_shaft",
        origin=COMMON_PRACTICE,
        limit="required_engagement_mm",
    ),
    Rule(
        name="shaft_short_in_keyed_bore",
        check="engagement_mm",
        severity=Severity.CORRECT,
        mountings=(KEYED_BORE,),
        only_where=_asked_for,
        reason="shaft short: {value} mm in the bore, {limit} mm asked for",
        why="the key carries on a part of its length only",
        action="reseat_on_shaft",
        origin=COMMON_PRACTICE,
        limit="required_engagement_mm",
    ),
    Rule(
        name="shaft_short_of_what_is_usual",
        check="engagement_mm",
        severity=Severity.CORRECT,
        reason="little shaft in the bore: {value} mm, where at least {limit} mm is usual; what the "
        "manual asks for is not recorded",
        why="too little shaft carries too little torque; enter the engagement that the "
        "unit's own manual asks for",
        action="reseat_on_shaft",
        origin=PLANNING_VALUE,
        limit="usual_engagement_mm",
    ),
    Rule(
        name="shaft_end_short_in_friction_joint",
        check="shaft_end",
        severity=Severity.HOLD,
        mountings=CLAMPED,
        reason="shaft end does not reach what is required",
        why=_SHORT,
        action="reseat_on_shaft",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="shaft_end_short_in_keyed_bore",
        check="shaft_end",
        severity=Severity.CORRECT,
        mountings=(KEYED_BORE,),
        reason="shaft end does not reach what is required",
        why="the key carries on a part of its length only",
        action="reseat_on_shaft",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="not_home",
        check="seated",
        severity=Severity.CORRECT,
        reason="unit not home against shoulder or collar",
        why="axial position and engagement are not what the joint was designed for",
        action="reseat_on_shaft",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="support_bushing_missing",
        check="support_bushings",
        severity=Severity.HOLD,
        from_exceedance=2,
        mountings=(SHRINK_DISC_SUPPORT_BUSHINGS,),
        reason="support bushing missing",
        why="nothing centres the unit on its shaft",
        action="renew_support_bushings",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="support_bushing_proud",
        check="support_bushings",
        severity=Severity.CORRECT,
        mountings=(SHRINK_DISC_SUPPORT_BUSHINGS,),
        reason="support bushing not seated",
        why="the unit sits askew and runs out",
        action="reseat_on_shaft",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="shaft_off_size",
        check="shaft_diameter_measured_mm",
        severity=Severity.CORRECT,
        reason="shaft off its size: {value} mm, outside its tolerance by {beyond} mm",
        why="the clearance eats clamping pressure; an oversize shaft is forced",
        action="renew_shaft",
        origin="ISO 286-2 for the limits; " + COMMON_PRACTICE + " for the check",
    ),
    Rule(
        name="shaft_runs_out",
        check="shaft_runout_mm",
        severity=Severity.CORRECT,
        reason="shaft runs out {value} mm at the unit",
        why="the seal lip cannot follow, and a restrained unit loads its bearings",
        action="true_shaft",
        origin=FROM_MEMORY,
    ),
    Rule(
        name="witness_mark_moved",
        check="witness_mark",
        severity=Severity.CORRECT,
        reason="witness mark moved: the joint has slipped",
        why="a joint that slipped once has worn its seat and grips less; look at the seat",
        action="renew_shaft",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="shaft_seat_not_sound",
        check="shaft_seat",
        severity=Severity.CORRECT,
        reason="seat on the shaft {value}",
        why="a worn or fretted seat is smaller than the joint was made for, and works on",
        action="renew_shaft",
        origin=COMMON_PRACTICE,
    ),
)
