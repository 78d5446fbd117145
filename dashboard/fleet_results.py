"""Everything that is worked out from one state of the records, once for all pages."""

import datetime as dt
import threading
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, replace

import pandas as pd

from dashboard import launch_settings
from dashboard.cut_fleet import WHOLE, Cut, cut_fleet
from dashboard.last_few import LastFew
from dashboard.made_once import MadeOnce
from dashboard.presenters.ranking_table import ranked_units
from scoring.assessment import Assessment, FleetAssessor, FleetLearning
from scoring.assessment.kept_ranking import KeptRanking
from scoring.contract import Seen
from scoring.errors import FixableError
from scoring.explanation import Explanation, explain
from scoring.explanation.what_the_fleet_says import WhatWasLearned, what_the_fleet_says
from scoring.learning.failure_rows import FailureRows
from scoring.looking.assessed_fleet import AssessedFleet
from scoring.looking.look_minutes import LookMinutes
from scoring.looking.worth_of_looks import worth_of_looks
from scoring.planning.bundles import answered_already, weigh_bundles
from scoring.planning.choose import Choice
from scoring.planning.front import Front, front_of
from scoring.planning.plan import Plan, plan_of
from scoring.planning.shutdowns import Shutdowns
from scoring.planning.wishes import Wishes
from scoring.records import Fleet
from scoring.trends import (
    cost_of_rework,
    first_time_right,
    gain_of_rework,
    month_ends,
    overdue_looks,
    seen_after_rework,
    state_at,
    then_and_now,
)
from scoring.trends.month_ends import StateAtMonthEnd
from scoring.validation.validate import Validation, validate
from scoring.what_if.candidates import Candidates
from scoring.what_if.rework_success import learn_rework_success
from scoring.what_if.site_efforts import SiteEfforts
from scoring.what_if.what_if import what_if

TREND_MONTHS = 24

KEPT_OF_DAY = frozenset(
    {
        "learning",
        "validation",
        "what was learned",
        "after rework",
        "overdue looks",
        "gain of rework",
        "cost of rework",
        "first time right",
        "states",
    }
)
KEPT_OF_HORIZON = frozenset({"assessment", "bundles", f"looks {Seen.STOPPED}", "then and now"})
"""What is kept over a restart. With 2,000 units: 27 MB of learning and assessment for 1.4 s of
work, 6 MB of validation for 5 s, under 3 MB of all else for 12 s. Failure rows (31 MB, 0.8 s) and
the records (17 MB, 0.2 s) are not."""

FRONTS_KEPT = 12
"""So many fronts, and plans, are kept, for people who go back and forth. Ours."""

BY_HANDBOOK = "ranked_by_handbook"

LEARNED_LATER = 1_500
"""From so many units on a day that nobody asked for before is first ranked by the handbook alone:
to learn takes as long as all else together. Ours."""

LARGE_FLEET = 5_000
"""From so many units on those whose records changed are ranked anew before all else is. Ours."""

UNITS_KEPT = 60
"""Of so many units numbers are kept as they were told: of a few for each of twenty people. Ours."""


@dataclass(frozen=True)
class OpenFleet:
    """A fleet that the pages show.

    Attributes
    ----------
    name : str
        As given on the command line.
    assessor : FleetAssessor
        Assesses it as of any day.
    as_of : Timestamp
        The day the pages speak of.
    horizon_days : int
        So far ahead chances and losses reach. [d]
    first_day : date
        The day on which the first unit was hung; before it there is nothing to speak of.
    notes : tuple of str
        What a person should know of the records.
    """

    name: str
    assessor: FleetAssessor
    as_of: pd.Timestamp
    horizon_days: int
    first_day: dt.date
    notes: tuple[str, ...]


@dataclass(frozen=True)
class TrendSoFar:
    """The month-ends that are worked out.

    Attributes
    ----------
    states : tuple of StateAtMonthEnd
        Newest first.
    wanted : int
        How many there will be.
    """

    states: tuple[StateAtMonthEnd, ...]
    wanted: int


@dataclass(frozen=True)
class RankedSoFar:
    """A ranking that may be by the handbook alone until what failures say is learned.

    Attributes
    ----------
    units : DataFrame
        As pages show it.
    state : int or str
        Tells it from other rankings of the same day and horizon.
    is_learned : bool
        Whether what this fleet's own failures say is in it, wherever they say anything.
    """

    units: pd.DataFrame
    state: int | str
    is_learned: bool


class FleetResults:
    """What was worked out from one state of the records; each part when it is first asked for.

    Parameters
    ----------
    fleet : OpenFleet
        The fleet.
    mark : int
        Tells this state of the records from every other.
    of_day : MadeOnce, optional
        What was worked out for this day already, with another horizon.
    is_usual_day : bool
        Whether it is the day that is worked out before anybody asks.
    """

    def __init__(
        self,
        fleet: OpenFleet,
        mark: int,
        of_day: MadeOnce | None = None,
        *,
        is_usual_day: bool = True,
    ) -> None:
        self.fleet = fleet
        self.mark = mark
        self.is_usual_day = is_usual_day
        self.of_day = of_day or MadeOnce()
        self.of_horizon = MadeOnce()
        self.on_pages = MadeOnce()
        self._months = month_ends(fleet.as_of, TREND_MONTHS)
        self._states: list[StateAtMonthEnd] = self.of_day.get("states", list)
        self._fronts: dict[tuple[str, Wishes], Front] = {}
        self._plans: LastFew[tuple[Choice, Plan]] = LastFew(FRONTS_KEPT)
        self._explained: LastFew[Explanation] = LastFew(UNITS_KEPT)
        self._asked: LastFew[pd.DataFrame] = LastFew(UNITS_KEPT)
        self._beginning = threading.Lock()
        self._beside: threading.Thread | None = None

    @classmethod
    def read(cls, mark: int, cut: Cut = WHOLE) -> "FleetResults":
        """Read and check the records, and cut them to what somebody may see.

        Raises
        ------
        FixableError
            If they cannot be read, or are faulty, or nothing is left of them.
        """
        checked, notes = launch_settings.read_and_check()
        fleet = cut_fleet(checked.fleet, cut)
        if fleet.units.empty:
            raise FixableError(
                f"there is no unit at {', '.join(sorted(cut.sites or ()))}; an administrator "
                "grants sites as the records call them"
            )
        if cut.sites is not None:
            notes = ()  # they tell of rows at the sites of others
        return cls.of(launch_settings.fleet_name(), fleet, notes, mark)

    @classmethod
    def of(cls, name: str, records: Fleet, notes: tuple[str, ...], mark: int) -> "FleetResults":
        """Begin with records that were checked."""
        day = launch_settings.day_spoken_of()
        first = records.units["installed_on"].min()
        fleet = OpenFleet(
            name,
            FleetAssessor(records),
            day,
            launch_settings.HORIZON_DAYS,
            day.date() if pd.isna(first) else min(first, day).date(),
            notes,
        )
        return cls(fleet, mark)

    def as_asked(self, as_of: pd.Timestamp, horizon_days: int) -> "FleetResults":
        """Return results of the same records for another day or horizon, none of them made yet."""
        fleet = replace(self.fleet, as_of=as_of, horizon_days=horizon_days)
        is_same_day = as_of == self.fleet.as_of
        return FleetResults(
            fleet,
            self.mark,
            self.of_day if is_same_day else None,
            is_usual_day=self.is_usual_day and is_same_day,
        )

    def has(self, name: str) -> bool:
        """Tell whether a result is there."""
        return self.of_horizon.has(name) or self.of_day.has(name)

    def in_the_making(self) -> str:
        """Return the name of the result that is being made, the one begun last; else nothing."""
        names = self.of_horizon.in_the_making() + self.of_day.in_the_making()
        return names[-1] if names else ""

    def failure_rows(self) -> FailureRows:
        """Lay failures beside what may explain them."""
        return self.of_day.get(
            "failure rows", lambda: self.fleet.assessor.failure_rows(self.fleet.as_of)
        )

    def learning(self) -> FleetLearning:
        """Learn from the failures recorded by the day the pages speak of."""
        return self.of_day.get(
            "learning", lambda: self.fleet.assessor.learn(self.fleet.as_of, self.failure_rows())
        )

    def assessment(self) -> Assessment:
        """Assess the fleet as of the day the pages speak of."""
        return self.of_horizon.get("assessment", lambda: self._assessed(self.learning()))

    def _assessed(self, learning: FleetLearning | None) -> Assessment:
        """Assess the fleet; from the first assessment of the day all others of it follow."""
        assessor, day, ahead = self.fleet.assessor, self.fleet.as_of, self.fleet.horizon_days
        first = self.of_day.get("as found", lambda: assessor.assess(day, ahead, learning))
        if first.learning is learning and first.horizon_days == ahead:
            return first
        return first.again(ahead, learning)

    @property
    def ranks_by_handbook_first(self) -> bool:
        """Whether to show a ranking by the handbook, for what failures say is yet to be learned."""
        if self.is_usual_day or self.has("ranked"):
            return False
        if len(self.fleet.assessor.fleet.units) < LEARNED_LATER:
            return False
        if self._beside is None:
            return not self.of_day.has("learning")
        return self.is_learning_beside  # where that failed, who asks next is told

    @property
    def is_learning_beside(self) -> bool:
        """Whether the fleet is being ranked by what failures say, beside the pages."""
        return self._beside is not None and self._beside.is_alive()

    def ranked_by_handbook(self) -> pd.DataFrame:
        """Return the ranking as pages show it until what failures say is learned."""
        return self.of_horizon.get(BY_HANDBOOK, lambda: ranked_units(self._assessed(None)))

    def learn_beside(self) -> None:
        """Begin to rank by what failures say beside the pages, unless it is begun already."""
        with self._beginning:
            if self._beside is None and self.ranks_by_handbook_first:
                self._beside = threading.Thread(target=self._rank_beside, daemon=True)
                self._beside.start()

    def _rank_beside(self) -> None:
        with suppress(FixableError):
            self.ranked()

    def ranked(self) -> pd.DataFrame:
        """Return the ranking as pages show it."""
        return self.of_horizon.get("ranked", lambda: ranked_units(self.assessment()))

    def kept_ranking(self) -> KeptRanking:
        """Return the ranking with all by which it was made, for units that change."""
        fleet = self.fleet
        wide = self.of_day.get("wide", lambda: fleet.assessor.fleet_wide(fleet.as_of))
        learning, ranked = self.learning(), self.ranked()
        return KeptRanking(wide, learning, fleet.horizon_days, ranked, ranked_units)

    @property
    def is_large(self) -> bool:
        """Whether to work out everything anew takes so long that nobody should wait for it."""
        return len(self.fleet.assessor.fleet.units) >= LARGE_FLEET

    def validation(self) -> Validation:
        """Learn up to earlier days, and score what that predicted."""
        units = self.fleet.assessor.fleet.units
        return self.of_day.get(
            "validation",
            lambda: validate(self.failure_rows(), unit_ids=units["unit_id"].to_numpy()),
        )

    def what_was_learned(self) -> WhatWasLearned:
        """Lay out what the fleet's own failures say."""
        return self.of_day.get(
            "what was learned",
            lambda: what_the_fleet_says(self.fleet.assessor, self.failure_rows(), self.learning()),
        )

    def prepare(self) -> None:
        """Work out what pages ask for, in the order in which they are mostly opened."""
        self.assessment()
        self.bundles()
        self.looks(Seen.STOPPED)
        self.validation()
        self.what_was_learned()
        self.begin_trend()

    def finish_trend(self) -> None:
        """Wait until the trend is worked out."""
        self.of_day.get("trend", self._trend_begun).join()

    def for_keeping(self) -> dict[str, dict[str, object]]:
        """Return what is made and worth keeping over a restart."""
        return {
            "of day": self.of_day.made(KEPT_OF_DAY),
            "of horizon": self.of_horizon.made(KEPT_OF_HORIZON),
        }

    def take(self, kept: Mapping[str, Mapping[str, object]]) -> None:
        """Take what was kept of the same records, day and horizon by the same programs."""
        self.of_day.take(kept["of day"])
        self.of_horizon.take(kept["of horizon"])
        self._states = self.of_day.get("states", list)
        if self.of_horizon.has("assessment"):
            self.of_day.take({"as found": self.assessment()})

    def begin_trend(self) -> None:
        """Begin to work out the trend beside the pages, unless it is begun already."""
        self.of_day.get("trend", self._trend_begun)

    def _trend_begun(self) -> threading.Thread:
        begun = threading.Thread(target=self._work_out_trend, args=(self.learning(),), daemon=True)
        begun.start()
        return begun

    def trend_so_far(self) -> TrendSoFar:
        """Return what is worked out of the trend; begin it after a change of the records."""
        self.begin_trend()
        return TrendSoFar(tuple(self._states), len(self._months))

    def assessed_fleet(self) -> AssessedFleet:
        """Return how the fleet stands, and how often re-work succeeds at it."""
        assessor, as_of = self.fleet.assessor, self.fleet.as_of
        return self.of_horizon.get(
            "assessed fleet",
            lambda: AssessedFleet(
                assessor,
                self.assessment(),
                learn_rework_success(assessor.timeline, as_of),
                SiteEfforts(),
            ),
        )

    def bundles(self) -> pd.DataFrame:
        """Weigh every set of re-work once; a plan only chooses among them."""
        stands = self.assessed_fleet()
        return self.of_horizon.get(
            "bundles",
            lambda: weigh_bundles(
                stands.assessor, stands.assessment, stands.success, stands.efforts
            ),
        )

    def front(self, shutdowns: Shutdowns, wishes: Wishes, asked: int | None) -> Front:
        """Return plans from most holds lifted to most loss avoided; the last few are kept.

        Parameters
        ----------
        shutdowns : Shutdowns
            When work can be done.
        wishes : Wishes
            Units that must be in, or out.
        asked : int, optional
            So many holds somebody asked to be lifted.
        """
        key = (shutdowns.table.to_csv(), wishes)
        kept = self._fronts.get(key)
        if kept is not None and _answers(kept, asked):
            return kept
        made = front_of(self.bundles(), shutdowns, wishes, asked=asked)
        self._fronts[key] = made
        for old in list(self._fronts)[:-FRONTS_KEPT]:
            self._fronts.pop(old, None)
        return made

    def plan(self, choice: Choice, shutdowns: Shutdowns, wishes: Wishes) -> Plan:
        """Lay out a plan of a front; the last are kept, for a page that runs again asks for it."""

        def make() -> tuple[Choice, Plan]:
            ranking = self.assessment().ranking
            return choice, plan_of(choice, self.bundles(), ranking, shutdowns, wishes)

        # kept beside its plan, a choice is told from all others by where it lies
        return self._plans.get(id(choice), make)[1]

    def explanation(self, unit_id: str) -> Explanation:
        """Explain every number of a unit; the last units are kept."""
        return self._explained.get(unit_id, lambda: explain(self.assessment(), unit_id))

    def what_if(self, candidates: Candidates) -> pd.DataFrame:
        """Work out what re-work, or another finding, would change; the last answers are kept."""
        weighed = answered_already(self.bundles(), candidates) if self.has("bundles") else None
        if weighed is not None:
            return weighed
        stands = self.assessed_fleet()
        looked = "" if candidates.looked is None else candidates.looked.to_csv()
        asked = (candidates.unit.tobytes(), candidates.actions.tobytes(), looked)
        return self._asked.get(
            asked,
            lambda: what_if(
                stands.assessor, stands.assessment, candidates, stands.success, stands.efforts
            ),
        ).copy()

    def looks(self, state: Seen) -> pd.DataFrame:
        """Weigh every look that can be taken in a state of the machine."""
        stands = self.assessed_fleet()
        return self.of_horizon.get(
            f"looks {state}", lambda: worth_of_looks(stands, LookMinutes(), state)
        )

    def after_rework(self) -> pd.DataFrame:
        """Hold what re-work cured by record against what was seen afterwards."""
        return self.of_day.get(
            "after rework", lambda: seen_after_rework(self.fleet.assessor, self.fleet.as_of)
        )

    def overdue_looks(self) -> pd.DataFrame:
        """List re-work that nobody has looked at in time."""
        units, as_of = self.fleet.assessor.fleet.units, self.fleet.as_of
        seen = self.after_rework()
        return self.of_day.get("overdue looks", lambda: overdue_looks(seen, units, as_of))

    def gain_of_rework(self) -> pd.DataFrame:
        """Work out by how much re-work lowered expected losses."""
        return self.of_day.get(
            "gain of rework",
            lambda: gain_of_rework(self.fleet.assessor, self.fleet.as_of, self.learning()),
        )

    def cost_of_rework(self) -> pd.DataFrame:
        """Put what re-work cost beside what it removed of expected losses."""
        return self.of_day.get("cost of rework", lambda: cost_of_rework(self.gain_of_rework()))

    def then_and_now(self) -> pd.DataFrame:
        """Put each unit's expected loss and hold beside those of a year ago."""
        return self.of_horizon.get(
            "then and now", lambda: then_and_now(self.fleet.assessor, self.assessment())
        )

    def first_time_right(self) -> pd.DataFrame:
        """Judge each installation by its first complete walkdown."""
        return self.of_day.get(
            "first time right", lambda: first_time_right(self.fleet.assessor, self.fleet.as_of)
        )

    def _work_out_trend(self, learned: FleetLearning) -> None:
        for day in self._months[::-1][len(self._states) :]:
            self._states.append(state_at(self.fleet.assessor, day, learned))


def _answers(front: Front, asked: int | None) -> bool:
    """Tell whether a front has a plan for so many holds, or none could be between its ends."""
    if asked is None or not front.most_avoided.holds < asked < front.most_holds.holds:
        return True
    return any(asked in {one.at_least, one.holds} for one in front.choices)
