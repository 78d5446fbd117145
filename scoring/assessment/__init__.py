"""The chain for a whole fleet: records, what was known, findings, verdicts, ranking."""

from scoring.assessment.assess import Assessment, FleetAssessor

__all__ = ["Assessment", "FleetAssessor"]
