"""How a fleet stands as of a day, and all that can be asked of it then."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from importlib.metadata import version
from pathlib import Path

import pandas as pd

from scoring.asking.changes import change_at
from scoring.asking.checked_records import Records
from scoring.asking.days import Day, day_of
from scoring.asking.export import write_everything
from scoring.asking.faults_in_words import told_by_labels
from scoring.asking.frames_as_text import frame_as_text
from scoring.asking.judged_fleet import Asked, judged, left_out
from scoring.asking.learn_of_a_fleet import Learned, others_of
from scoring.asking.looks_and_route import Looks, hours_of_sites, weigh_looks
from scoring.asking.plans import PlanAsked, planned, shutdown_at
from scoring.asking.tables_of_answers import WHAT_IF
from scoring.assessment import FleetAssessor
from scoring.errors import FixableError
from scoring.explanation import Explanation, explain
from scoring.files.learned_folder import KeptLearning, read_learned
from scoring.looking.assessed_fleet import AssessedFleet
from scoring.looking.look_minutes import LookMinutes, read_look_settings
from scoring.planning.bundles import weigh_bundles
from scoring.planning.plan import Plan
from scoring.planning.shutdowns import Shutdowns, read_windows
from scoring.planning.wishes import Wishes
from scoring.what_if.rework_success import learn_rework_success
from scoring.what_if.site_efforts import SiteEfforts, read_settings

LONGEST_HORIZON = 3650
"""So far ahead chances may reach. [d]"""


@dataclass(frozen=True)
class Assessed:
    """How a fleet stands as of a day.

    Attributes
    ----------
    stands : AssessedFleet
        The same as the command line and the pages use.
    notes : tuple of str
        What a person should know.

    Examples
    --------
    >>> import scoring
    >>> stands = scoring.assess(scoring.read("demo:small_quarry"), as_of="2026-06-30")
    >>> len(stands.plan(crew_hours=40).jobs) <= len(stands.ranking)
    True
    """

    stands: AssessedFleet
    notes: tuple[str, ...] = ()

    @property
    def ranking(self) -> pd.DataFrame:
        """The units in service, holds first, then by expected loss; ``columns("ranking")``."""
        return self.stands.assessment.ranking.copy(deep=False)

    @property
    def findings(self) -> pd.DataFrame:
        """What the rules found, one row a finding: unit, check, reason, severity, re-work."""
        return self.stands.assessment.findings.table.copy(deep=False)

    def explain(self, unit_id: str) -> Explanation:
        """Return every number of one unit: formula, inputs, source, what was assumed.

        Raises
        ------
        FixableError
            If the unit is not in service.
        """
        return explain(self.stands.assessment, unit_id)

    def what_if(
        self,
        unit_id: str,
        do: str | Sequence[str] = (),
        found: Mapping[str, object] | None = None,
    ) -> pd.DataFrame:
        """Work out what re-work at a unit, or another finding, would change.

        Parameters
        ----------
        unit_id : str
            The unit.
        do : str or sequence of str
            Actions, as the table ``rework`` names them; one, or ``;`` between them.
        found : mapping of str to object, optional
            What a look would find, by check, as the table ``walkdowns`` names it.

        Returns
        -------
        DataFrame, shape (1, ...)
            The columns of ``columns("what_if")``.

        Raises
        ------
        FixableError
            If nothing is asked, the unit is not in service, an action or check is none of it, or
            a value cannot be.

        Examples
        --------
        >>> import pandas as pd, scoring
        >>> units = pd.DataFrame({"unit_id": ["A-1", "A-2"], "site": "quarry",
        ...                       "installed_on": "2026-01-31", "mounting": "keyed_bore",
        ...                       "shaft_diameter_mm": 80})
        >>> stands = scoring.assess(scoring.take(units), as_of="2026-06-30")
        >>> stands.what_if("A-1", found={"oil_level": "low"})["verdict_after"].tolist()
        ['hold']
        """
        to_do = do if isinstance(do, str) else ";".join(do)
        to_set = ";".join(f"{check}={value}" for check, value in (found or {}).items())
        if not to_do.strip() and not to_set.strip():
            raise FixableError("nothing is asked: give do=, found= or both")
        answer = change_at(self.stands, unit_id, to_do, to_set).answer
        return answer[[column.name for column in WHAT_IF.columns]]

    def plan(  # noqa: PLR0913 - what can be asked of a plan
        self,
        crew_hours: float | None = None,
        *,
        site: str | None = None,
        people: int | None = None,
        starts_on: Day | None = None,
        windows: pd.DataFrame | None = None,
        must_in: Sequence[str] = (),
        must_out: Sequence[str] = (),
        holds_first: bool = True,
        lift: int | None = None,
    ) -> Plan:
        """Plan re-work in a shutdown, or several.

        Parameters
        ----------
        crew_hours : float, optional
            Hours that all people of one shutdown have together. [h]
        site : str, optional
            The site that is shut down; by default all.
        people : int, optional
            People there at once.
        starts_on : str or date, optional
            When it begins; by default parts are taken to be there in time.
        windows : DataFrame, optional
            Several shutdowns, in place of the four above: the columns of the table ``windows``.
        must_in, must_out : sequence of str
            Units that must be in the plan, or out of it.
        holds_first : bool
            Whether as many holds as can be are lifted first; else loss avoided alone counts.
        lift : int, optional
            Lift at least so many holds; of such plans take the one that avoids most loss.

        Returns
        -------
        Plan
            ``jobs``, ``weighed`` and ``missed`` have the columns of ``columns("plan")``.

        Raises
        ------
        FixableError
            If it is not said when work can be done, or something of it cannot be.

        Examples
        --------
        >>> import scoring
        >>> stands = scoring.assess(scoring.read("demo:small_quarry"), as_of="2026-06-30")
        >>> plan = stands.plan(crew_hours=40)
        >>> bool(plan.jobs["hours"].sum() <= 40)
        True
        """
        wishes = Wishes(frozenset(must_in), frozenset(must_out))
        wishes.refuse_unknown(self.stands.assessment.ranking["unit_id"])
        shutdowns = self._shutdowns(crew_hours, site, people, starts_on, windows)
        asked = PlanAsked(shutdowns, wishes, lift, holds_first)
        return planned(self._bundles, self.stands.assessment, asked)[0]

    def look(
        self,
        hours: float | Mapping[str, float],
        *,
        sites: Sequence[str] = (),
        state: str = "stopped",
        minutes: pd.DataFrame | None = None,
    ) -> Looks:
        """Choose where to look next.

        Parameters
        ----------
        hours : float or mapping of str to float
            Hours that an inspector has at each site, or site by site. [h]
        sites : sequence of str
            Only these; by default all.
        state : str
            State of the machines in which they can be looked at: ``stopped``, ``running`` or
            ``hanging``.
        minutes : DataFrame, optional
            How long looking takes at your sites: the columns ``site``, ``what``, ``minutes``.

        Returns
        -------
        Looks
            ``route.visits`` has the columns of ``columns("route")``, ``looks`` those of
            ``columns("looks")``.

        Raises
        ------
        FixableError
            If a site or state is none, or hours or minutes cannot be.

        Examples
        --------
        >>> import scoring
        >>> stands = scoring.assess(scoring.read("demo:small_quarry"), as_of="2026-06-30")
        >>> visits = stands.look(hours=4).route.visits
        >>> visits["order"].is_monotonic_increasing
        True
        """
        assessment = self.stands.assessment
        units = self.stands.assessor.fleet.units
        of_sites = hours_of_sites(hours, tuple(sites), assessment.known.units["site"])
        settings = LookMinutes()
        if minutes is not None:
            raw = frame_as_text(minutes, "look_settings")
            with told_by_labels(minutes, "look_settings"):
                settings = read_look_settings(raw, units["site"])
        return weigh_looks(self.stands, of_sites, settings, state)

    def export(self, out: str | Path, *, kind: str = "csv", plan: Plan | None = None) -> list[Path]:
        """Write all tables, the ranking, a plan, and what every column means.

        Parameters
        ----------
        out : str or Path
            A new or empty folder, or an ``.xlsx`` file that is not there yet.
        kind : str
            How a folder's files are written: ``csv``, ``parquet`` or ``xlsx``.
        plan : Plan, optional
            A plan to write, too.

        Returns
        -------
        list of Path
            What was written.

        Raises
        ------
        FixableError
            If something lies there already, it cannot be written, or the format cannot hold a
            text.
        """
        fleet, ranking = self.stands.assessor.fleet, self.stands.assessment.ranking
        jobs = None if plan is None else plan.jobs
        return write_everything(fleet, Path(out), kind, ranking=ranking, plan=jobs)

    @cached_property
    def _bundles(self) -> pd.DataFrame:
        stands = self.stands
        return weigh_bundles(stands.assessor, stands.assessment, stands.success, stands.efforts)

    def _shutdowns(
        self,
        crew_hours: float | None,
        site: str | None,
        people: int | None,
        starts_on: Day | None,
        windows: pd.DataFrame | None,
    ) -> Shutdowns:
        day, sites = self.stands.assessment.known.as_of, self.stands.assessor.fleet.units["site"]
        if windows is not None:
            if (crew_hours, site, people, starts_on) != (None, None, None, None):
                raise FixableError("windows holds hours, sites, people and days; leave them out")
            with told_by_labels(windows, "windows"):
                return read_windows(frame_as_text(windows, "windows"), sites, day)
        if crew_hours is None:
            raise FixableError("say when work can be done: give crew_hours or windows")
        start = None if starts_on is None else day_of(starts_on, "starts_on")
        return shutdown_at(day, crew_hours, sites, site=site, people=people, starts_on=start)


def assess(  # noqa: PLR0913 - what can be asked of a ranking
    records: Records,
    *,
    as_of: Day | None = None,
    horizon_days: int = 365,
    handbook_only: bool = False,
    learned: Learned | str | Path | None = None,
    prior: str | Path | None = None,
    rework_settings: pd.DataFrame | None = None,
    keep_good: bool = False,
) -> Assessed:
    """Assess a fleet with what was known by the end of a day.

    Parameters
    ----------
    records : Records
        From ``read`` or ``take``.
    as_of : str or date, optional
        The day; by default today.
    horizon_days : int
        Days looked ahead, 1 to 3,650. [d]
    handbook_only : bool
        Judge by the handbook alone; by default the fleet's own failures correct it.
    learned : Learned, str or Path, optional
        What was learned before, or the folder that keeps it, instead of learning from this fleet.
    prior : str or Path, optional
        Begin to learn where other plants left off: what ``mount-risk learn`` kept there of them.
    rework_settings : DataFrame, optional
        What re-work takes at your sites; the columns that ``mount-risk plan --actions`` takes.
    keep_good : bool
        Go on without the rows that have a fault.

    Returns
    -------
    Assessed

    Raises
    ------
    FaultyRecordsError
        If there are faults and ``keep_good`` is not set.
    FixableError
        If no unit was in service, or something that is asked cannot be.

    Examples
    --------
    >>> import scoring
    >>> stands = scoring.assess(scoring.read("demo:small_quarry"), as_of="2026-06-30")
    >>> stands.ranking["as_of"].dt.date.astype(str).unique().tolist()
    ['2026-06-30']
    """
    if handbook_only + (learned is not None) + (prior is not None) > 1:
        raise FixableError(
            "handbook_only, learned and prior exclude each other: give one of them, or none to "
            "learn from the fleet"
        )
    if not (isinstance(horizon_days, int) and 1 <= horizon_days <= LONGEST_HORIZON):
        raise FixableError(
            f"horizon_days is {horizon_days!r}; right is a whole number from 1 to {LONGEST_HORIZON}"
        )
    day = day_of(as_of, "as_of")
    kept = _kept(learned, day)
    fleet = records.fleet(keep_good=keep_good)
    others = others_of(prior, day)
    assessor = FleetAssessor(fleet, others)
    efforts = SiteEfforts()
    if rework_settings is not None:
        raw = frame_as_text(rework_settings, "rework_settings")
        with told_by_labels(rework_settings, "rework_settings"):
            efforts = read_settings(raw, fleet.units["site"])
    assessment = judged(assessor, Asked(day, horizon_days, handbook_only, kept))
    success = learn_rework_success(assessor.timeline, day)
    notes = (*records.notes, *left_out(assessor.others, others))
    notes += () if kept is None else kept.notes(fleet, day)
    return Assessed(AssessedFleet(assessor, assessment, success, efforts), notes)


def rank(
    records: Records,
    *,
    as_of: Day | None = None,
    horizon_days: int = 365,
    handbook_only: bool = False,
    keep_good: bool = False,
) -> pd.DataFrame:
    """Rank a fleet: ``assess`` where the ranking is all that is wanted.

    Returns
    -------
    DataFrame
        The columns of ``columns("ranking")``: holds first, then by expected loss.

    Examples
    --------
    >>> import scoring
    >>> ranking = scoring.rank(scoring.read("demo:small_quarry"), as_of="2026-06-30")
    >>> ranking["rank"].tolist()[:3]
    [1, 2, 3]
    """
    return assess(
        records,
        as_of=as_of,
        horizon_days=horizon_days,
        handbook_only=handbook_only,
        keep_good=keep_good,
    ).ranking


def _kept(learned: Learned | str | Path | None, day: pd.Timestamp) -> KeptLearning | None:
    if learned is None:
        return None
    if isinstance(learned, Learned):
        return KeptLearning(learned.learning, learned.learned_from, version("mount-risk"))
    return read_learned(Path(learned), day)
