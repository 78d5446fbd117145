"""One call for a fleet: from checked records to a ranking as of any day."""

from dataclasses import dataclass, replace

import numpy as np
import pandas as pd

from scoring.assessment.build_ranking import build_ranking
from scoring.assessment.fleet_learning import FleetLearning
from scoring.assessment.fleet_wide import FleetWide, PieceOfFleet
from scoring.assessment.yardstick import Yardstick
from scoring.consequences.consequence import Consequences, work_out
from scoring.consequences.joint_grip import joint_grip
from scoring.consequences.nameplate import nameplate_of
from scoring.errors import FixableError
from scoring.handbook.learn_prevalence import counted_looks, learn_prevalence
from scoring.handbook.prevalence import Prevalence
from scoring.handbook.unit_evidence import UnitEvidence
from scoring.learning.exposure_periods import failures_are_kept
from scoring.learning.failure_rows import FailureRows, failure_rows
from scoring.learning.other_plants import OtherPlants
from scoring.learning.past_states import PastStates
from scoring.learning.tallies_of_units import tallies_of_units
from scoring.limits import UnitLimits, unit_limits, walkdown_exceedance
from scoring.records import Fleet
from scoring.risk.costs_counted import CostsCounted
from scoring.risk.fleet_risk import FleetRisk, fleet_risk, fleet_risk_again
from scoring.rules import JudgedUnits, judge_units
from scoring.rules.contradictions import contradictions
from scoring.timeline import Known, Timeline
from scoring.timeline.first_looks import first_looks
from scoring.timeline.in_service import places_in_service
from scoring.timeline.order import order_records
from scoring.validation.choose_basis import days_to_try, try_and_choose


@dataclass(frozen=True)
class Assessment(JudgedUnits):
    """What is said of the units in service as of a day: what the rules say, and what they risk.

    Attributes
    ----------
    consequences : Consequences
        What the findings do, in physical units.
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

    consequences: Consequences
    risk: FleetRisk
    ranking: pd.DataFrame
    contradictions: pd.DataFrame
    learning: FleetLearning | None
    prevalence: Prevalence

    @property
    def horizon_days(self) -> int:
        """Days [d] looked ahead; a year where no unit is in service."""
        return int(self.ranking["horizon_days"].iloc[0]) if len(self.ranking) else 365

    def place_of(self, unit_id: str) -> int:
        """Return the place of a unit in ``known.units``.

        Raises
        ------
        FixableError
            If no unit of that id is in service.
        """
        places = np.flatnonzero((self.known.units["unit_id"] == unit_id).to_numpy())
        if len(places) == 0:
            raise FixableError(
                f"no unit {unit_id!r} was in service on {self.known.as_of.date()}; "
                "ids are case-sensitive"
            )
        return int(places[0])

    @property
    def yardstick(self) -> Yardstick:
        """What its hazards are measured with."""
        return Yardstick(self.known.as_of, self.prevalence, self.learning)

    def again(self, horizon_days: int, learning: FleetLearning | None) -> "Assessment":
        """Assess the same units as of the same day with another horizon, or other learning.

        Parameters
        ----------
        horizon_days : int
            Days looked ahead. [d]
        learning : FleetLearning or None
            What the fleet's own failures say; None by the handbook alone.

        Returns
        -------
        Assessment
            Bit for bit that of ``FleetAssessor.assess``. Findings, verdicts, what they do, and what
            the handbook multiplies hazards by rest on neither, and are not worked out again.
        """
        yardstick = Yardstick(self.known.as_of, self.prevalence, learning)
        does = self.consequences
        evidence = UnitEvidence(self.known, self.limits, does.restraint, self.prevalence, does.grip)
        corrections = yardstick.corrections(self.known.place)
        risk = fleet_risk_again(self.risk, evidence, horizon_days, corrections)
        return replace(
            self,
            risk=risk,
            ranking=build_ranking(self, does, risk, horizon_days, yardstick.basis),
            learning=learning,
        )


class FleetAssessor:
    """Assesses a fleet as of any day; what does not depend on the day is done once.

    Parameters
    ----------
    fleet : Fleet
        Checked tables.
    others : OtherPlants, optional
        Plants from whose failures learning begins; this one, if it is among them, is left out. By
        default learning begins with the handbook.

    Attributes
    ----------
    fleet : Fleet
        The same.
    others : OtherPlants or None
        All others of them.
    limits : UnitLimits
        Limits of every unit ever hung.
    timeline : Timeline
        The records in order, each value with how bad it is: what was known as of any day.

    Notes
    -----
    How usual faults are is kept for each day that was asked for; it is small. What was found of
    units in the past is kept for the next day as long as that is not too large.
    """

    def __init__(self, fleet: Fleet, others: OtherPlants | None = None) -> None:
        self.fleet = fleet
        self.others = None if others is None else others.without(fleet)
        self.limits = unit_limits(fleet.units)
        records = order_records(fleet)
        of_walkdowns = self.limits.at(records.unit[records.of_table["walkdowns"]]).table
        bad = walkdown_exceedance(fleet.walkdowns, of_walkdowns)
        self.timeline = Timeline(fleet, bad, records)
        self._past = PastStates(self.timeline, self.limits)
        self._prevalence: dict[pd.Timestamp, Prevalence] = {}

    def prevalence(self, as_of: pd.Timestamp) -> Prevalence:
        """Return how usual faults are where nobody has looked, as recorded by a day."""
        day = as_of.normalize()
        if day not in self._prevalence:
            self._prevalence[day] = learn_prevalence(first_looks(self.timeline, day), self.limits)
        return self._prevalence[day]

    def piece(self, as_of: pd.Timestamp) -> PieceOfFleet:
        """Return what these units add to what is the same for all of a fleet as of a day."""
        day = as_of.normalize()
        in_service = self.fleet.units.iloc[places_in_service(self.fleet.units, day)]
        return PieceOfFleet(
            len(self.fleet.units),
            counted_looks(first_looks(self.timeline, day), self.limits),
            CostsCounted.of(in_service),
            failures_are_kept(self.timeline, day),
        )

    def fleet_wide(self, as_of: pd.Timestamp) -> FleetWide:
        """Return what is the same for all units, where these are the whole fleet.

        Raises
        ------
        FixableError
            If units name different currencies.
        """
        return FleetWide.of(as_of, [self.piece(as_of)])

    def yardstick(self, as_of: pd.Timestamp, learning: FleetLearning | None = None) -> Yardstick:
        """Return what hazards are measured with, as known by a day; by default the handbook."""
        return Yardstick(as_of.normalize(), self.prevalence(as_of), learning)

    def learn(self, as_of: pd.Timestamp, rows: FailureRows | None = None) -> FleetLearning:
        """Learn from the failures recorded by a day, and try how well that predicted later ones.

        Parameters
        ----------
        as_of : Timestamp
            The day.
        rows : FailureRows, optional
            From ``failure_rows`` of that day, where they are prepared already.

        Returns
        -------
        FleetLearning
        """
        prepared = self.failure_rows(as_of) if rows is None else rows
        basis, table = try_and_choose(prepared)
        tallies = prepared.tallies(len(self.fleet.units))
        return FleetLearning(as_of.normalize(), basis, table, tallies, self.others)

    def with_own_failures(
        self, learning: FleetLearning, as_of: pd.Timestamp, wide: FleetWide | None = None
    ) -> FleetLearning:
        """Put the failures of this fleet's units, as recorded by a day, beside what was learned.

        Parameters
        ----------
        learning : FleetLearning
            What was learned, perhaps of another fleet.
        as_of : Timestamp
            The day.
        wide : FleetWide, optional
            The fleet, where this assessor has some of its units only.

        Returns
        -------
        FleetLearning
        """
        days = days_to_try(as_of, len(self.fleet.units) if wide is None else wide.units)
        are_kept = None if wide is None else wide.are_kept
        tallies = tallies_of_units(self.timeline, days, are_kept=are_kept)
        return replace(learning, tallies=tallies)

    def failure_rows(self, as_of: pd.Timestamp, wide: FleetWide | None = None) -> FailureRows:
        """Return failures beside what may explain them, as recorded by a day.

        Parameters
        ----------
        as_of : Timestamp
            The day.
        wide : FleetWide, optional
            The fleet, where this assessor has some of its units only.
        """
        days = days_to_try(as_of, len(self.fleet.units) if wide is None else wide.units)
        prevalence = self.prevalence(as_of) if wide is None else wide.prevalence
        are_kept = None if wide is None else wide.are_kept
        rows = failure_rows(self.timeline, self._past, prevalence, days, are_kept=are_kept)
        return rows if self.others is None else replace(rows, others=self.others.priors)

    def judge(self, as_of: pd.Timestamp) -> JudgedUnits:
        """Judge the units in service by the rules alone, for who does not need the risk.

        Parameters
        ----------
        as_of : Timestamp
            The day.

        Returns
        -------
        JudgedUnits
            The same as is said in an assessment of that day.
        """
        known, limits = self._in_service(as_of)
        grip = joint_grip(known, limits, nameplate_of(known))
        return judge_units(self.timeline, known, limits, grip)

    def assess(
        self,
        as_of: pd.Timestamp,
        horizon_days: int = 365,
        learning: FleetLearning | None = None,
        wide: FleetWide | None = None,
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
        wide : FleetWide, optional
            The fleet, where this assessor has some of its units only; by default it has all.

        Returns
        -------
        Assessment
        """
        known, limits = self._in_service(as_of)
        prevalence = self.prevalence(as_of) if wide is None else wide.prevalence
        yardstick = Yardstick(as_of.normalize(), prevalence, learning)
        consequences = work_out(known, limits, prevalence.arms(prevalence.groups(known)))
        judged = judge_units(self.timeline, known, limits, consequences.grip)
        evidence = UnitEvidence(
            known, limits, consequences.restraint, prevalence, consequences.grip
        )
        corrections, costs = (
            yardstick.corrections(known.place),
            None if wide is None else wide.costs,
        )
        risk = fleet_risk(evidence, horizon_days, corrections, costs)
        ranking = build_ranking(judged, consequences, risk, horizon_days, yardstick.basis)
        return Assessment(
            **vars(judged),
            consequences=consequences,
            risk=risk,
            ranking=ranking,
            contradictions=contradictions(known, limits),
            learning=learning,
            prevalence=prevalence,
        )

    def _in_service(self, as_of: pd.Timestamp) -> tuple[Known, UnitLimits]:
        """Return what was known of the units in service on a day, and their limits."""
        known = self.timeline.known(as_of)
        return known, self.limits.at(known.place)
