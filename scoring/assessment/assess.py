"""One call for a fleet: from checked records to a ranking as of any day."""

from dataclasses import dataclass, replace

import pandas as pd

from scoring.assessment.fleet_learning import FleetLearning
from scoring.assessment.ranking import Judged, build_ranking
from scoring.handbook.learn_prevalence import learn_prevalence
from scoring.handbook.prevalence import Prevalence
from scoring.learning.failure_rows import FailureRows, failure_rows
from scoring.limits import UnitLimits, unit_limits, walkdown_badness
from scoring.records import Fleet
from scoring.risk.fleet_risk import FleetRisk, fleet_risk
from scoring.rules import Findings, Verdicts, find, give_verdicts
from scoring.rules.contradictions import contradictions
from scoring.rules.sight import Sight, sight
from scoring.rules.slip import Slip
from scoring.timeline import Known, Timeline
from scoring.timeline.first_looks import first_looks
from scoring.validation.choose_basis import days_to_try, try_and_choose
from scoring.validation.foretold import HANDBOOK


@dataclass(frozen=True)
class Assessment:
    """What is said of a fleet as of a day.

    Attributes
    ----------
    known : Known
        What was known.
    limits : UnitLimits
        Limits of the units in service, and what was assumed.
    findings : Findings
        What the rules found.
    sight : Sight
        What nobody has seen lately.
    verdicts : Verdicts
        The verdict on each unit.
    risk : FleetRisk
        Probabilities, their intervals, and the expected loss.
    ranking : DataFrame
        The contract's table ``ranking``.
    contradictions : DataFrame
        Checks that contradict each other; the worse counts.
    learning : FleetLearning or None
        What the fleet's own failures said; None by the handbook alone.
    prevalence : Prevalence
        How usual faults are where nobody has looked.
    """

    known: Known
    limits: UnitLimits
    findings: Findings
    sight: Sight
    verdicts: Verdicts
    risk: FleetRisk
    ranking: pd.DataFrame
    contradictions: pd.DataFrame
    learning: FleetLearning | None
    prevalence: Prevalence

    @property
    def horizon_days(self) -> int:
        """Days [d] looked ahead; a year where no unit is in service."""
        return int(self.ranking["horizon_days"].iloc[0]) if len(self.ranking) else 365


class FleetAssessor:
    """Assesses a fleet as of any day; what does not depend on the day is done once.

    Parameters
    ----------
    fleet : Fleet
        Checked tables.
    """

    def __init__(self, fleet: Fleet) -> None:
        self.fleet = fleet
        self.limits = unit_limits(fleet.units)
        place = pd.Index(fleet.units["unit_id"]).get_indexer(pd.Index(fleet.walkdowns["unit_id"]))
        of_walkdowns = self.limits.table.iloc[place].reset_index(drop=True)
        self.badness = walkdown_badness(fleet.walkdowns, of_walkdowns)
        self.timeline = Timeline(fleet, self.badness)

    def prevalence(self, as_of: pd.Timestamp) -> Prevalence:
        """Return how usual faults are where nobody has looked, as recorded by a day."""
        return learn_prevalence(first_looks(self.timeline, as_of), self.limits)

    def learn(self, as_of: pd.Timestamp, rows: FailureRows | None = None) -> FleetLearning:
        """Learn from the failures recorded by a day, and try how well that foretold later ones.

        Parameters
        ----------
        as_of : Timestamp
            The day.
        rows : FailureRows, optional
            From ``failure_rows`` of that day, where they are laid out already.

        Returns
        -------
        FleetLearning
        """
        laid_out = self.failure_rows(as_of) if rows is None else rows
        basis, table = try_and_choose(laid_out)
        tallies = laid_out.tallies(len(self.fleet.units))
        return FleetLearning(as_of.normalize(), basis, table, tallies)

    def with_own_failures(self, learning: FleetLearning, as_of: pd.Timestamp) -> FleetLearning:
        """Put the failures of this fleet's units, as recorded by a day, beside what was learned.

        Parameters
        ----------
        learning : FleetLearning
            What was learned, perhaps of another fleet.
        as_of : Timestamp
            The day.

        Returns
        -------
        FleetLearning
        """
        tallies = self.failure_rows(as_of).tallies(len(self.fleet.units))
        return replace(learning, tallies=tallies)

    def failure_rows(self, as_of: pd.Timestamp) -> FailureRows:
        """Return failures beside what may explain them, as recorded by a day."""
        days = days_to_try(as_of, len(self.fleet.units))
        return failure_rows(self.timeline, self.limits, self.prevalence(as_of), days)

    def assess(
        self,
        as_of: pd.Timestamp,
        horizon_days: int = 365,
        learning: FleetLearning | None = None,
    ) -> Assessment:
        """Assess the fleet with what was known by the end of a day.

        Parameters
        ----------
        as_of : Timestamp
            The day.
        horizon_days : int
            Days looked ahead. [d]
        learning : FleetLearning, optional
            What the fleet's own failures say; by default the handbook stands alone.

        Returns
        -------
        Assessment
        """
        known = self.timeline.known(as_of)
        limits = UnitLimits(
            self.limits.table.iloc[known.place].reset_index(drop=True),
            self.limits.assumed[known.place],
        )
        used = {} if learning is None else learning.used_as_of(as_of, known.place)
        prevalence = self.prevalence(as_of)
        risk = fleet_risk(known, limits, horizon_days, prevalence, used)
        grip = risk.consequences.grip
        findings = find(self.timeline, known, limits, Slip(grip.margin, grip.high, grip.factors))
        seen = sight(known, limits)
        verdicts = give_verdicts(findings, seen, len(known.units))
        basis = HANDBOOK if learning is None else learning.words
        ranking = build_ranking(
            Judged(known, limits, findings, seen, verdicts, risk, basis), horizon_days
        )
        return Assessment(
            known,
            limits,
            findings,
            seen,
            verdicts,
            risk,
            ranking,
            contradictions(known, limits),
            learning,
            prevalence,
        )
