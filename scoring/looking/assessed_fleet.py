"""How a fleet stands, and what re-work does: what every question about looking rests on."""

from dataclasses import dataclass

from scoring.assessment import Assessment, FleetAssessor
from scoring.what_if.rework_success import ReworkSuccess
from scoring.what_if.site_efforts import SiteEfforts


@dataclass(frozen=True)
class AssessedFleet:
    """How a fleet stands.

    Attributes
    ----------
    assessor : FleetAssessor
        The fleet.
    assessment : Assessment
        How it stands, made by ``assessor``.
    success : ReworkSuccess
        How often re-work succeeds.
    efforts : SiteEfforts
        What re-work takes, and costs, at each site.
    """

    assessor: FleetAssessor
    assessment: Assessment
    success: ReworkSuccess
    efforts: SiteEfforts
