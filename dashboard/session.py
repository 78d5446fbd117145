"""What the pages of one browser's session show: its fleet, as of the day that is asked for.

A page asks here, and nowhere else, for what is worked out. It gets that of the records that the
session shows, which are its own or those that all share, cut to what its person may see.
"""

from collections.abc import Callable
from typing import Any, TypeVar

import pandas as pd
import streamlit as st
from streamlit.runtime.scriptrunner import get_script_run_ctx

from dashboard import day_in_address, launch_settings
from dashboard.cut_fleet import cut_for
from dashboard.fleet_results import (
    BY_HANDBOOK,
    FleetResults,
    OpenFleet,
    RankedSoFar,
    TrendSoFar,
)
from dashboard.long_work import READING, RECORDS, WORKING, left_if_wanted
from dashboard.results_in_use import InUse, in_use_of
from dashboard.shown_chart import ShownChart
from scoring.access.acts import Act
from scoring.access.who_asks import require
from scoring.assessment import Assessment, FleetLearning
from scoring.contract import Seen
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

OWN = "records that only this session sees"

Made = TypeVar("Made")


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


def ranked_so_far() -> RankedSoFar:
    """Return the ranking as pages show it, which may still go on to change.

    Of a day that nobody asked for before, a large fleet is first ranked by the handbook alone;
    ``is_ranked_to_the_end`` tells when the rest is there. Units whose records changed are judged
    anew before all else is.
    """
    shown = _shown()
    if shown.ranks_by_handbook_first:
        if not shown.has(BY_HANDBOOK):
            _left_if_wanted(shown.ranked_by_handbook, WORKING)
        return RankedSoFar(shown.ranked_by_handbook(), BY_HANDBOOK, is_learned=False)
    if not shown.has("ranked"):
        _left_if_wanted(shown.ranked)
    return RankedSoFar(*_of_session().ranked(shown), is_learned=True)


def is_ranked_to_the_end() -> bool:
    """Tell whether the ranking rests on what failures say; else have that worked out beside."""
    shown = _shown()
    shown.learn_beside()
    return not shown.ranks_by_handbook_first


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
    return left_if_wanted(make, words, _in_the_making)


def _in_the_making() -> str:
    """Return the name of the result that is being made for the page; empty for none."""
    use = _of_session()
    results = _shown() if use.worked else use.making
    return RECORDS if results is None else results.in_the_making()
