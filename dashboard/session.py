"""What every page shares: the fleet and what was worked out from it. The only cache.

Where the records lie in a store they change while pages are open. A page shows what was last worked
out, and has it worked out anew beside itself; a small fleet's is ready before the page is drawn.
"""

import gc
import threading
from contextlib import AbstractContextManager, nullcontext

import pandas as pd
import streamlit as st
from streamlit.runtime.scriptrunner import get_script_run_ctx

from dashboard import launch_settings
from dashboard.fleet_results import HORIZON_DAYS, FleetResults, OpenFleet, TrendSoFar
from scoring.assessment import Assessment, FleetLearning
from scoring.contract import Seen
from scoring.errors import FixableError
from scoring.explanation.what_the_fleet_says import WhatWasLearned
from scoring.looking.assessed_fleet import AssessedFleet
from scoring.planning.choose import Choice
from scoring.planning.front import Front
from scoring.planning.plan import Plan
from scoring.planning.shutdowns import Shutdowns
from scoring.planning.wishes import Wishes
from scoring.validation.validate import Validation
from scoring.what_if.candidates import Candidates

__all__ = ["HORIZON_DAYS", "OpenFleet", "TrendSoFar"]

PATIENCE_S = 3.0
"""How long a page waits for records that have changed to be worked out. [s]"""


class InUse:
    """The last state of the records that was worked out, and the thread that makes the next."""

    def __init__(self) -> None:
        self.one_at_a_time = threading.Lock()
        self.forget()

    def forget(self) -> None:
        self.worked: FleetResults | None = None
        self.renewal: threading.Thread | None = None
        self.trouble = ""

    def current(self) -> FleetResults:
        mark = launch_settings.records_mark()
        with self.one_at_a_time:
            if self.worked is None:
                self.worked = self._first(mark)
            if self.worked.mark != mark and (self.renewal is None or not self.renewal.is_alive()):
                self.renewal = threading.Thread(target=self._renew, args=(mark,), daemon=True)
                self.renewal.start()
            renewal = self.renewal if self.worked.mark != mark else None
        if renewal is not None:
            renewal.join(PATIENCE_S)
        return self.worked

    def latest(self) -> FleetResults:
        """Wait, however long it takes, for the records as they are."""
        worked = self.current()
        renewal = self.renewal
        if renewal is not None:
            renewal.join()
        return self.worked or worked

    def _first(self, mark: int) -> FleetResults:
        with _saying("Reading and checking the records …"):
            worked = FleetResults.read(mark)
        # What was imported and read stays: taking it out of the collector's sight makes every
        # rerun of a page many times cheaper.
        gc.collect()
        gc.freeze()
        with _saying("Learning from the fleet's own failures …"):
            worked.learning()
        with _saying("Judging the fleet …"):
            worked.assessment()
        return worked

    def _renew(self, mark: int) -> None:
        try:
            worked = FleetResults.read(mark)
            worked.assessment()
        except FixableError as error:
            self.trouble = str(error)
            return
        self.trouble = ""
        self.worked = worked


def _saying(words: str) -> AbstractContextManager[None]:
    """Say what is being done, where a page waits for it."""
    if get_script_run_ctx(suppress_warning=True) is None:
        return nullcontext()
    return st.spinner(words)


in_use = InUse()


def prepare() -> None:
    """Work out what the pages ask for before anybody opens one."""
    try:
        in_use.current().prepare()
    except FixableError:
        return  # the page that is opened says what is wrong


def renew() -> str:
    """Look whether the records have changed, and say where that is not shown yet.

    Returns
    -------
    str
        Empty where the pages show the records as they are.
    """
    shown = in_use.current()
    if shown.mark == launch_settings.records_mark():
        return ""
    if in_use.trouble:
        return f"The records have changed and cannot be shown: {in_use.trouble}"
    return (
        "The records have changed; the ranking is being worked out anew. "
        "This page still shows it as it was before."
    )


def open_fleet() -> OpenFleet:
    """Return the fleet that the command line named.

    Raises
    ------
    FixableError
        If no fleet was named, or its records are faulty.
    """
    return _shown().fleet


def results_beside_the_pages() -> FleetResults:
    """Return the results of the records as they are, for what runs beside the pages."""
    return in_use.latest()


def learning() -> FleetLearning:
    """Return what was learned from the failures recorded by the day the pages speak of."""
    return _shown().learning()


def assessment() -> Assessment:
    """Return the fleet's assessment as of the day the pages speak of."""
    return _shown().assessment()


def validation() -> Validation:
    """Return what was predicted as of earlier days, and how it came out."""
    with st.spinner("Trying what would have been predicted …"):
        return _shown().validation()


def what_was_learned() -> WhatWasLearned:
    """Return what the fleet's own failures say."""
    with st.spinner("Laying out what was learned …"):
        return _shown().what_was_learned()


def trend_so_far() -> TrendSoFar:
    """Return what is worked out of the trend."""
    return _shown().trend_so_far()


def assessed_fleet() -> AssessedFleet:
    """Return how the fleet stands, and how often re-work succeeds at it."""
    return _shown().assessed_fleet()


def front(shutdowns: Shutdowns, wishes: Wishes, asked: int | None) -> Front:
    """Return plans from most holds lifted to most loss avoided."""
    with st.spinner("Weighing re-work and planning …"):
        return _shown().front(shutdowns, wishes, asked)


def plan(choice: Choice, shutdowns: Shutdowns, wishes: Wishes) -> Plan:
    """Return what a plan of a front does in which shutdown."""
    return _shown().plan(choice, shutdowns, wishes)


def bundles() -> pd.DataFrame:
    """Return every set of re-work that was weighed."""
    return _shown().bundles()


def what_if(candidates: Candidates) -> pd.DataFrame:
    """Return what re-work, or another finding, would change."""
    return _shown().what_if(candidates)


def looks(state: Seen) -> pd.DataFrame:
    """Return what every look is worth that can be taken in a state of the machine."""
    with st.spinner("Weighing every look …"):
        return _shown().looks(state)


def after_rework() -> pd.DataFrame:
    """Return what re-work cured by record beside what was seen afterwards."""
    return _shown().after_rework()


def overdue_looks() -> pd.DataFrame:
    """Return re-work that nobody has looked at in time."""
    return _shown().overdue_looks()


def gain_of_rework() -> pd.DataFrame:
    """Return by how much re-work lowered expected losses."""
    with st.spinner("Working out what re-work gained …"):
        return _shown().gain_of_rework()


def cost_of_rework() -> pd.DataFrame:
    """Return what re-work cost beside what it removed of expected losses."""
    with st.spinner("Working out what re-work cost …"):
        return _shown().cost_of_rework()


def then_and_now() -> pd.DataFrame:
    """Return each unit's expected loss and hold beside those of a year ago."""
    with st.spinner("Working out how the fleet stood a year ago …"):
        return _shown().then_and_now()


def first_time_right() -> pd.DataFrame:
    """Return each installation as its first complete walkdown judges it."""
    return _shown().first_time_right()


def _shown() -> FleetResults:
    return in_use.worked or in_use.current()
