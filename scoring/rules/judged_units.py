"""Everything that the rules say of units, in one call."""

from dataclasses import dataclass

from scoring.consequences.joint_grip import JointGrip
from scoring.limits import UnitLimits
from scoring.rules.findings import Findings, find
from scoring.rules.look_status import LookStatus, look_status
from scoring.rules.verdict import Verdicts, give_verdicts
from scoring.timeline import Known, Timeline


@dataclass(frozen=True)
class JudgedUnits:
    """What the rules say of units.

    Attributes
    ----------
    known : Known
        What was known.
    limits : UnitLimits
        Limits of the units, and what was assumed.
    findings : Findings
        What the rules found.
    look_status : LookStatus
        What nobody has seen lately.
    verdicts : Verdicts
        The verdict on each unit.
    """

    known: Known
    limits: UnitLimits
    findings: Findings
    look_status: LookStatus
    verdicts: Verdicts


def judge_units(
    timeline: Timeline, known: Known, limits: UnitLimits, grip: JointGrip
) -> JudgedUnits:
    """Judge units by the rules.

    Parameters
    ----------
    timeline : Timeline
        The records.
    known : Known
        What was known of the units, or would be known of them.
    limits : UnitLimits
        Their limits.
    grip : JointGrip
        Their slip margins: the one consequence that a rule looks at.

    Returns
    -------
    JudgedUnits
    """
    findings = find(timeline, known, limits, grip)
    seen = look_status(known, limits)
    verdicts = give_verdicts(findings, seen, len(known.units))
    return JudgedUnits(known, limits, findings, seen, verdicts)
