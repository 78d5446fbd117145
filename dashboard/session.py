"""What every page shares: the fleet and what was worked out from it. The only cache.

Where the records lie in a store they change while pages are open. A page shows what was last worked
out, and has it worked out anew beside itself; a small fleet's is ready before the page is drawn.
What another day or horizon asks for is kept for the few that were asked for last.
"""

import gc
import threading
import time
from collections.abc import Callable
from concurrent.futures import Future, wait
from dataclasses import dataclass
from importlib import import_module
from typing import Any, Protocol, TypeVar

import pandas as pd
import streamlit as st
from streamlit.runtime.scriptrunner import get_script_run_ctx

from dashboard import day_in_address, launch_settings
from dashboard.cut_fleet import WHOLE, Cut, cut_for
from dashboard.day_in_address import Asked
from dashboard.fleet_results import FleetResults, OpenFleet, TrendSoFar
from dashboard.results_folder import ResultsFolder, usual_folder
from dashboard.results_key import results_key
from dashboard.shown_chart import ShownChart
from scoring.access.acts import Act
from scoring.access.who_asks import require
from scoring.assessment import Assessment, FleetLearning
from scoring.assessment.kept_ranking import KeptRanking
from scoring.contract import Seen
from scoring.errors import FixableError
from scoring.explanation import Explanation
from scoring.explanation.what_the_fleet_says import WhatWasLearned
from scoring.looking.assessed_fleet import AssessedFleet
from scoring.planning.choose import Choice
from scoring.planning.front import Front
from scoring.planning.plan import Plan
from scoring.planning.shutdowns import Shutdowns
from scoring.planning.wishes import Wishes
from scoring.records import Fleet
from scoring.validation.validate import Validation
from scoring.what_if.candidates import Candidates

__all__ = ["OpenFleet", "TrendSoFar"]

PATIENCE_S = 3.0
"""How long a page waits for records that have changed to be worked out. [s]"""

FIRST_PAGE_S = 5.0
"""So long, once all is worked out, the first page has the processor to itself. [s]"""

ALSO_ASKED_FOR = ("dashboard.walkdown.http_routes", "dashboard.kept_in_store", "scipy.stats")
"""What other pages import; then nobody waits for it."""

OTHERS_KEPT = 4
"""So many other days and horizons are kept beside the usual one. Ours."""

CUTS_KEPT = 8
"""For so many choices of sites results are kept, beside those of the whole fleet. Ours."""

NOTICED_S = 0.3
LOOK_AGAIN_S = 0.25
"""From when on a page says that it waits, and how often it then looks whether it was left. [s]"""

READING, WORKING = "Reading and checking the records", "Working it out"

SAID_OF = {
    "": READING,
    "failure rows": "Laying failures beside what may explain them",
    "learning": "Learning from the fleet's own failures",
    "assessment": "Judging the fleet",
    "assessed fleet": "Looking how often re-work succeeds",
    "bundles": "Weighing every set of re-work",
    f"looks {Seen.STOPPED}": "Weighing every look",
    f"looks {Seen.RUNNING}": "Weighing every look",
    "validation": "Trying what would have been predicted",
    "what was learned": "Laying out what was learned",
    "gain of rework": "Working out what re-work gained",
    "cost of rework": "Working out what re-work cost",
    "then and now": "Working out how the fleet stood a year ago",
    "first time right": "Judging each installation",
}
"""What is said of a result while it is being made; of any other, that it is worked out."""

PLACE = "where it is said what is worked out"

OWN = "records that only this session sees"

Made = TypeVar("Made")


@dataclass(frozen=True)
class RankedAhead:
    """A ranking in which units are judged anew whose records changed, all else being as it was.

    Attributes
    ----------
    of : FleetResults
        What it began with: its learning still stands.
    mark : int
        Tells the state of the records.
    kept : KeptRanking
        The ranking.
    """

    of: FleetResults
    mark: int
    kept: KeptRanking


class InUse:
    """The last state of the records that was worked out, and the thread that makes the next.

    Parameters
    ----------
    cut : Cut
        Which records: those that somebody may see.
    """

    def __init__(self, cut: Cut = WHOLE) -> None:
        self.cut = cut
        self.one_at_a_time = threading.Lock()
        self.choosing = threading.Lock()
        self.forget()

    def forget(self) -> None:
        self.folder: ResultsFolder | None = None
        self.worked: FleetResults | None = None
        self.making: FleetResults | None = None
        self.renewal: threading.Thread | None = None
        self.trouble = ""
        self.others: dict[Asked, FleetResults] = {}
        self.ahead: RankedAhead | None = None

    def current(self) -> FleetResults:
        state = launch_settings.records_mark(), launch_settings.day_spoken_of()
        with self.one_at_a_time:
            if self.worked is None:
                self.worked = self._first(state[0])
            is_old = state != (self.worked.mark, self.worked.fleet.as_of)
            is_ahead = is_old and self._go_ahead(self.worked, state[0])
            if is_old and (self.renewal is None or not self.renewal.is_alive()):
                self.renewal = threading.Thread(target=self._renew, args=state[:1], daemon=True)
                self.renewal.start()
            renewal = self.renewal if is_old and not is_ahead else None
        if renewal is not None:
            renewal.join(PATIENCE_S)
        return self.worked

    def ranked(self, shown: FleetResults) -> tuple[pd.DataFrame, int]:
        """Return the ranking as pages show it, changed units judged anew, and of which state."""
        ahead = self.ahead
        if ahead is None or ahead.of is not shown:
            return shown.ranked(), shown.mark
        return ahead.kept.ranking, ahead.mark

    def is_ranked_as_they_are(self) -> bool:
        """Tell whether the ranking, though nothing else, is of the records as they are."""
        ahead = self.ahead
        return ahead is not None and ahead.mark == launch_settings.records_mark()

    def _go_ahead(self, worked: FleetResults, mark: int) -> bool:
        """Judge units anew whose records changed, before all is worked out; tell if it is done."""
        ahead = self.ahead
        if ahead is None or ahead.of is not worked:
            ahead = self.ahead = None
        if ahead is not None and ahead.mark >= mark:
            return True
        if self.cut != WHOLE:
            return False  # what changed may be at the sites of others
        if not worked.is_large or worked.fleet.as_of != launch_settings.day_spoken_of():
            return False
        changed = launch_settings.changed_since(worked.mark if ahead is None else ahead.mark)
        if changed is None:
            return False
        kept = worked.kept_ranking() if ahead is None else ahead.kept
        kept = kept.with_changed(changed.records, changed.unit_ids)
        self.ahead = RankedAhead(worked, changed.mark, kept)
        return True

    def is_as_they_are(self, shown: FleetResults) -> bool:
        """Tell whether results are of the records as they are now."""
        return shown.mark == launch_settings.records_mark()

    def latest(self) -> FleetResults:
        """Wait, however long it takes, for the records as they are."""
        worked = self.current()
        renewal = self.renewal
        if renewal is not None:
            renewal.join()
        return self.worked or worked

    def of(self, asked: Asked) -> FleetResults:
        """Return the results for a day and a horizon; the few asked for last are kept."""
        usual = self.worked or self.current()
        if asked == asked_of(usual):
            return usual
        with self.choosing:
            same = {one: kept for one, kept in self.others.items() if kept.mark == usual.mark}
            found = same.pop(asked, None)
            if found is None:
                near = [one for one in (usual, *same.values()) if one.fleet.as_of == asked.as_of]
                found = (near or [usual])[0].as_asked(asked.as_of, asked.horizon_days)
            same[asked] = found
            self.others = dict(list(same.items())[-OTHERS_KEPT:])
        return found

    def _first(self, mark: int) -> FleetResults:
        worked = FleetResults.read(mark, self.cut)
        self.making = worked
        if self.folder is not None:
            kept = self.folder.read(key_of(worked))
            if isinstance(kept, dict):
                worked.take(kept)
        # What was imported and read stays: taking it out of the collector's sight makes every
        # rerun of a page many times cheaper.
        gc.collect()
        gc.freeze()
        worked.learning()
        worked.assessment()
        return worked

    def _renew(self, mark: int) -> None:
        try:
            worked = FleetResults.read(mark, self.cut)
            worked.assessment()
        except FixableError as error:
            self.trouble = str(error)
            return
        self.trouble = ""
        self.worked = worked


class OwnRecords(InUse):
    """Records that somebody brought in for one session alone: they change only when brought again.

    Parameters
    ----------
    results : FleetResults
        What is worked out from them.
    """

    def __init__(self, results: FleetResults) -> None:
        super().__init__()
        self.worked = results

    def current(self) -> FleetResults:
        """Return what is worked out from them."""
        return self.worked or super().current()

    def is_as_they_are(self, shown: FleetResults) -> bool:
        """Tell that nobody else changes them."""
        del shown
        return True


def show_own(name: str, records: Fleet, notes: tuple[str, ...]) -> None:
    """Let the pages of this session, and of no other, show some records."""
    require(Act.BRING)
    st.session_state[OWN] = OwnRecords(FleetResults.of(name, records, notes, mark=0))


def shows_own() -> bool:
    """Tell whether the pages show records that only this session sees."""
    return OWN in st.session_state


def _of_session() -> InUse:
    """Return what this session shows: its own records, else those that all sessions share."""
    shared = in_use_of(cut_for(require(Act.SEE)))
    if get_script_run_ctx(suppress_warning=True) is None:
        return shared
    own: InUse = st.session_state.get(OWN, shared)
    return own


def in_use_of(cut: Cut) -> InUse:
    """Return what is shared by all who may see the same; the few asked for last are kept."""
    if cut == WHOLE:
        return in_use
    with _CUTTING:
        found = _CUTS.pop(cut, None) or InUse(cut)
        _CUTS[cut] = found
        while len(_CUTS) > CUTS_KEPT:
            del _CUTS[next(iter(_CUTS))]
    return found


def key_of(results: FleetResults) -> str:
    """Return the key under which results are kept over a restart."""
    fleet = results.fleet
    return results_key(fleet.assessor.fleet, fleet.as_of, fleet.horizon_days)


def asked_of(results: FleetResults) -> Asked:
    """Return of which day and horizon results speak."""
    return Asked(results.fleet.as_of, results.fleet.horizon_days)


in_use = InUse()

_CUTS: dict[Cut, InUse] = {}
_CUTTING = threading.Lock()


def prepare() -> None:
    """Work out what the pages ask for before anybody opens one, and keep it over a restart."""
    folder = in_use.folder = ResultsFolder(usual_folder())
    try:
        results = in_use.current()
        known = _names(results)
        results.prepare()
        results.finish_trend()
    except FixableError:
        return  # the page that is opened says what is wrong
    if _names(results) != known:
        folder.write(key_of(results), results.for_keeping())


def prepare_what_may_wait() -> None:
    """Make what no first page asks for, once the first page has had the processor to itself."""
    time.sleep(FIRST_PAGE_S)
    for name in ALSO_ASKED_FOR:
        import_module(name)
    if in_use.worked is not None:
        in_use.worked.failure_rows()  # what was found by then, which an earlier day asks for again


def _names(results: FleetResults) -> set[str]:
    return {name for part in results.for_keeping().values() for name in part}


class Says(Protocol):
    """A place of the page where it is said what is worked out."""

    def say(self, words: str) -> None:
        """Say it; a page that has been left ends here."""

    def done(self) -> None:
        """Say no more."""


def say_what_is_worked_out(place: Says) -> None:
    """Say at a place of the page what is worked out, where that takes long."""
    st.session_state[PLACE] = place


def renew() -> str:
    """Look whether the records have changed, and say where that is not shown yet.

    Returns
    -------
    str
        Empty where the pages show the records as they are.
    """
    use = _of_session()
    shown = _left_if_wanted(use.current)
    if use.is_as_they_are(shown):
        return ""
    if use.is_ranked_as_they_are():
        return (
            "The records have changed. In the ranking, units whose records changed are judged "
            "anew; what was learned, and all other pages, are being worked out anew."
        )
    if use.trouble:
        return f"The records have changed and cannot be shown: {use.trouble}"
    return (
        "The records have changed; the ranking is being worked out anew. "
        "This page still shows it as it was before."
    )


def open_fleet() -> OpenFleet:
    """Return the fleet that the command line named, as of the day that is asked for.

    Raises
    ------
    FixableError
        If no fleet was named, or its records are faulty.
    """
    return _shown().fleet


def is_earlier_day() -> bool:
    """Tell whether the page speaks of an earlier day than the real one, or the command line's."""
    return _shown().fleet.as_of < real_day()


def real_day() -> pd.Timestamp:
    """Return today, or the command line's day: that of the form, whatever a page speaks of."""
    return launch_settings.day_spoken_of()


def results_beside_the_pages(cut: Cut = WHOLE) -> FleetResults:
    """Return the results of the records as they are, for what runs beside the pages."""
    return in_use_of(cut).latest()


def shown_once(name: str, lay_out: Callable[[], Made], *of: object) -> Made:
    """Return what a page lays out of results alone, laid out once for all who look at it.

    Parameters
    ----------
    name : str
        Tells it from all else that any page lays out.
    lay_out : callable
        May rest on records, day and horizon, and on nothing that a person chose or entered. Nobody
        may change what it returns.
    *of : object
        Of what, where there are several of that name.
    """
    return _shown().on_pages.get(repr((name, *of)), lay_out)


def chart(name: str, draw: Callable[[], Any], *of: object) -> Any:  # noqa: ANN401 - as Altair's
    """Return a chart of results alone, drawn once for all who look at it; as ``shown_once``."""
    return shown_once("chart", lambda: ShownChart(draw()), name, *of)


def learning() -> FleetLearning:
    """Return what was learned from the failures recorded by the day the pages speak of."""
    return _asked("learning", _shown().learning)


def assessment() -> Assessment:
    """Return the fleet's assessment as of the day the pages speak of."""
    return _asked("assessment", _shown().assessment)


def ranked_units() -> tuple[pd.DataFrame, int]:
    """Return the ranking as pages show it, and a number of the state of the records in it.

    Units whose records changed are judged anew before all else is.
    """
    shown, use = _shown(), _of_session()
    if not shown.has("ranked"):
        _left_if_wanted(shown.ranked)
    return use.ranked(shown)


def validation() -> Validation:
    """Return what was predicted as of earlier days, and how it came out."""
    return _asked("validation", _shown().validation)


def what_was_learned() -> WhatWasLearned:
    """Return what the fleet's own failures say."""
    return _asked("what was learned", _shown().what_was_learned)


def trend_so_far() -> TrendSoFar:
    """Return what is worked out of the trend."""
    require(Act.SEE_TREND)
    return _asked("trend", _shown().trend_so_far)


def assessed_fleet() -> AssessedFleet:
    """Return how the fleet stands, and how often re-work succeeds at it."""
    return _asked("assessed fleet", _shown().assessed_fleet)


def front(shutdowns: Shutdowns, wishes: Wishes, asked: int | None) -> Front:
    """Return plans from most holds lifted to most loss avoided."""
    require(Act.SEE_PLANS)
    shown = _shown()
    return _left_if_wanted(lambda: shown.front(shutdowns, wishes, asked), "Planning")


def plan(choice: Choice, shutdowns: Shutdowns, wishes: Wishes) -> Plan:
    """Return what a plan of a front does in which shutdown."""
    require(Act.SEE_PLANS)
    shown = _shown()
    return _left_if_wanted(lambda: shown.plan(choice, shutdowns, wishes), "Planning")


def bundles() -> pd.DataFrame:
    """Return every set of re-work that was weighed."""
    require(Act.SEE_PLANS)
    return _asked("bundles", _shown().bundles)


def explanation(unit_id: str) -> Explanation:
    """Return every number of a unit with where it comes from."""
    shown = _shown()
    return _left_if_wanted(lambda: shown.explanation(unit_id), WORKING)


def what_if(candidates: Candidates) -> pd.DataFrame:
    """Return what re-work, or another finding, would change."""
    shown = _shown()
    return _left_if_wanted(lambda: shown.what_if(candidates), WORKING)


def looks(state: Seen) -> pd.DataFrame:
    """Return what every look is worth that can be taken in a state of the machine."""
    shown = _shown()
    return _asked(f"looks {state}", lambda: shown.looks(state))


def after_rework() -> pd.DataFrame:
    """Return what re-work cured by record beside what was seen afterwards."""
    require(Act.SEE_TREND)
    return _asked("after rework", _shown().after_rework)


def overdue_looks() -> pd.DataFrame:
    """Return re-work that nobody has looked at in time."""
    require(Act.SEE_TREND)
    return _asked("overdue looks", _shown().overdue_looks)


def gain_of_rework() -> pd.DataFrame:
    """Return by how much re-work lowered expected losses."""
    require(Act.SEE_TREND)
    return _asked("gain of rework", _shown().gain_of_rework)


def cost_of_rework() -> pd.DataFrame:
    """Return what re-work cost beside what it removed of expected losses."""
    require(Act.SEE_TREND)
    return _asked("cost of rework", _shown().cost_of_rework)


def then_and_now() -> pd.DataFrame:
    """Return each unit's expected loss and hold beside those of a year ago."""
    require(Act.SEE_TREND)
    return _asked("then and now", _shown().then_and_now)


def first_time_right() -> pd.DataFrame:
    """Return each installation as its first complete walkdown judges it."""
    require(Act.SEE_TREND)
    return _asked("first time right", _shown().first_time_right)


def _shown() -> FleetResults:
    use = _of_session()
    usual = use.worked or _left_if_wanted(use.current)
    return use.of(day_in_address.asked(usual.fleet.first_day))


def _asked(name: str, make: Callable[[], Made]) -> Made:
    """Return a result of the day that is asked for; a page that waits for it can be left."""
    return make() if _shown().has(name) else _left_if_wanted(make, WORKING)


def _left_if_wanted(make: Callable[[], Made], words: str = READING) -> Made:
    """Work something out beside the page, which says so where it takes long, and may be left.

    A page is left when it next shows something; so one that waits shows something now and then.
    Who left it and comes back finds what has been worked out meanwhile.
    """
    if get_script_run_ctx(suppress_warning=True) is None:
        return make()
    made: Future[Made] = Future()

    def work() -> None:
        try:
            made.set_result(make())
        except BaseException as error:  # noqa: BLE001 - raised again where it is waited for
            made.set_exception(error)

    threading.Thread(target=work, daemon=True).start()
    if wait([made], NOTICED_S).done:
        return made.result()
    begun, place = time.monotonic(), st.session_state[PLACE]
    while not wait([made], LOOK_AGAIN_S).done:
        seconds = time.monotonic() - begun
        place.say(f"{_doing(words)} … {seconds:.0f} s. This page may be left meanwhile.")
    place.done()
    return made.result()


def _doing(words: str) -> str:
    """Say what is being worked out for the page."""
    use = _of_session()
    results = _shown() if use.worked else use.making
    name = "" if results is None else results.in_the_making()
    return SAID_OF.get(name, words) if name or results is None else words
