"""What the manager's month rests on, worked out or taken from who has it already."""

from collections.abc import Sequence
from dataclasses import dataclass

import pandas as pd

from scoring.assessment import Assessment, FleetAssessor
from scoring.records import Fleet
from scoring.trends import (
    cost_of_rework,
    first_time_right,
    gain_of_rework,
    never_looked_at,
    overdue_looks,
    seen_after_rework,
    then_and_now,
)
from scoring.trends.month_ends import StateAtMonthEnd
from scoring.trends.sites_and_crews import funnels_of


@dataclass(frozen=True)
class MonthResults:
    """What the manager's month rests on.

    Attributes
    ----------
    fleet : Fleet
        The records.
    assessment : Assessment
        How the fleet stands.
    units : DataFrame
        From ``then_and_now``.
    installations : DataFrame
        From ``first_time_right``.
    states : tuple of StateAtMonthEnd
        The newest first, without a gap.
    costs : DataFrame
        From ``cost_of_rework``.
    overdue : int
        Jobs of re-work that nobody has looked at in time.
    told : int, optional
        Of how many units on hold it is on record that somebody was told; None where that is not
        recorded.
    """

    fleet: Fleet
    assessment: Assessment
    units: pd.DataFrame
    installations: pd.DataFrame
    states: tuple[StateAtMonthEnd, ...]
    costs: pd.DataFrame
    overdue: int
    told: int | None = None

    @property
    def as_of(self) -> pd.Timestamp:
        """The day up to which all was known."""
        return self.assessment.known.as_of

    @property
    def funnels(self) -> dict[str, pd.DataFrame]:
        """How sites and crews stand to luck, from ``funnels_of``."""
        return funnels_of(self.installations)

    @property
    def unseen(self) -> pd.DataFrame:
        """Critical checks that nobody has seen, from ``never_looked_at``."""
        return never_looked_at(self.assessment)

    @property
    def currency(self) -> str:
        """Of all amounts; empty where it is not known."""
        return self.assessment.risk.costs.currency


def month_results(
    assessor: FleetAssessor, assessment: Assessment, states: Sequence[StateAtMonthEnd]
) -> MonthResults:
    """Work out what the manager's month rests on.

    Parameters
    ----------
    assessor : FleetAssessor
        The fleet.
    assessment : Assessment
        How it stands.
    states : sequence of StateAtMonthEnd
        As of this day and of the month's ends before it, the newest first.

    Returns
    -------
    MonthResults
    """
    as_of = assessment.known.as_of
    seen = seen_after_rework(assessor, as_of)
    return MonthResults(
        assessor.fleet,
        assessment,
        then_and_now(assessor, assessment),
        first_time_right(assessor, as_of),
        tuple(states),
        cost_of_rework(gain_of_rework(assessor, as_of, assessment.learning)),
        len(overdue_looks(seen, assessor.fleet.units, as_of)),
    )
