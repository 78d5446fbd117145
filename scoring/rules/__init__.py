"""Findings and verdicts, by rules alone."""

from scoring.rules.findings import Findings, find
from scoring.rules.rulebook import RULEBOOK
from scoring.rules.verdict import Verdicts, give_verdicts

__all__ = ["RULEBOOK", "Findings", "Verdicts", "find", "give_verdicts"]
