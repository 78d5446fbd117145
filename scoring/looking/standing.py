"""How a fleet stands, and what re-work does: what every question about looking rests on."""

from dataclasses import dataclass

from scoring.assessment import Assessment, FleetAssessor
from scoring.what_if.site_efforts import SiteEfforts
from scoring.what_if.take_chances import TakeChances


@dataclass(frozen=True)
class Standing:
    """How a fleet stands.

    Attributes
    ----------
    assessor : FleetAssessor
        The fleet.
    assessment : Assessment
        How it stands, made by ``assessor``.
    takes : TakeChances
        How often re-work takes.
    efforts : SiteEfforts
        What re-work takes, and costs, at each site.
    """

    assessor: FleetAssessor
    assessment: Assessment
    takes: TakeChances
    efforts: SiteEfforts
