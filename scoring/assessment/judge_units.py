"""The verdicts of a fleet by the rules alone, for who does not need the risk."""

from dataclasses import dataclass

import pandas as pd

from scoring.assessment.assess import FleetAssessor
from scoring.consequences.joint_grip import joint_grip
from scoring.consequences.nameplate import read_nameplates
from scoring.limits import UnitLimits
from scoring.rules import Findings, Verdicts, find, give_verdicts
from scoring.rules.sight import Sight, sight
from scoring.rules.slip import Slip
from scoring.timeline import Known


@dataclass(frozen=True)
class JudgedUnits:
    """What the rules say of the units in service as of a day.

    Attributes
    ----------
    known : Known
        What was known.
    findings : Findings
        What the rules found.
    sight : Sight
        What nobody has seen lately.
    verdicts : Verdicts
        The verdict on each unit.
    """

    known: Known
    findings: Findings
    sight: Sight
    verdicts: Verdicts


def judge_units(assessor: FleetAssessor, as_of: pd.Timestamp) -> JudgedUnits:
    """Judge the units in service; the same findings and verdicts as of a whole assessment.

    Parameters
    ----------
    assessor : FleetAssessor
        Of the fleet.
    as_of : Timestamp
        The day.

    Returns
    -------
    JudgedUnits
    """
    known = assessor.timeline.known(as_of)
    limits = UnitLimits(
        assessor.limits.table.iloc[known.place].reset_index(drop=True),
        assessor.limits.assumed[known.place],
    )
    grip = joint_grip(known, limits, read_nameplates(known.units))
    slip = Slip(grip.margin, grip.high, grip.factors)
    findings = find(assessor.timeline, known, limits, slip)
    seen = sight(known, limits)
    return JudgedUnits(known, findings, seen, give_verdicts(findings, seen, len(known.units)))
