"""Findings and verdicts, by rules alone."""

from scoring.rules.findings import Findings
from scoring.rules.judged_units import JudgedUnits, judge_units
from scoring.rules.rulebook import RULEBOOK
from scoring.rules.verdict import Verdicts

__all__ = ["RULEBOOK", "Findings", "JudgedUnits", "Verdicts", "judge_units"]
