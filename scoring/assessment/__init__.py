"""The chain for a whole fleet: records, what was known, findings, verdicts, ranking."""

from scoring.assessment.assess import Assessment, FleetAssessor
from scoring.assessment.fleet_learning import FleetLearning
from scoring.assessment.fleet_wide import FleetWide, PieceOfFleet

__all__ = ["Assessment", "FleetAssessor", "FleetLearning", "FleetWide", "PieceOfFleet"]
