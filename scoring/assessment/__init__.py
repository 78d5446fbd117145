"""The chain for a whole fleet: records, what was known, findings, verdicts, ranking."""

from scoring.assessment.assess import Assessment, FleetAssessor
from scoring.assessment.fleet_learning import FleetLearning

__all__ = ["Assessment", "FleetAssessor", "FleetLearning"]
