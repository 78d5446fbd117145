"""Rules on keys and on what keeps the unit from walking along the shaft."""

from scoring.contract.mountings import KEYED_BORE, SHRINK_DISC_SUPPORT_BUSHINGS
from scoring.limits.assumptions import COMMON_PRACTICE
from scoring.rules.rule import Rule, Severity

_RETAINED = (KEYED_BORE, SHRINK_DISC_SUPPORT_BUSHINGS)

KEY_AND_RETENTION_RULES = (
    Rule(
        name="key_missing",
        check="key_condition",
        severity=Severity.HOLD,
        from_exceedance=3,
        mountings=(KEYED_BORE,),
        reason="key missing",
        why="nothing carries the torque",
        action="renew_key",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="key_not_right",
        check="key_condition",
        severity=Severity.CORRECT,
        mountings=(KEYED_BORE,),
        reason="key not right: {value}",
        why="a loose or short key hammers and carries on a part of its length",
        action="renew_key",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="retention_missing",
        check="retention",
        severity=Severity.HOLD,
        from_exceedance=2,
        mountings=_RETAINED,
        reason="axial retention missing",
        why="the unit can walk off its shaft",
        action="tighten_retention",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="retention_loose",
        check="retention",
        severity=Severity.CORRECT,
        mountings=_RETAINED,
        reason="axial retention loose",
        why="the unit walks along its shaft",
        action="tighten_retention",
        origin=COMMON_PRACTICE,
    ),
)
