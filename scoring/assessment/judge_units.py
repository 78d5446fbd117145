"""The verdicts of a fleet by the rules alone, for who does not need the risk."""

import pandas as pd

from scoring.assessment.assess import FleetAssessor
from scoring.rules import JudgedUnits

__all__ = ["JudgedUnits", "judge_units"]


def judge_units(assessor: FleetAssessor, as_of: pd.Timestamp) -> JudgedUnits:
    """Judge the units in service; the same findings and verdicts as of a whole assessment."""
    return assessor.judge(as_of)
