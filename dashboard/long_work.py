"""Work that a page waits for: done beside it, said where it takes long, and left by who leaves."""

import threading
import time
from collections.abc import Callable
from concurrent.futures import Future, wait
from typing import Protocol, TypeVar

import streamlit as st
from streamlit.runtime.scriptrunner import get_script_run_ctx

from scoring.contract import Seen

NOTICED_S = 0.3
LOOK_AGAIN_S = 0.25
"""From when on a page says that it waits, and how often it then looks whether it was left. [s]"""

RECORDS = "records"
READING, WORKING = "Reading and checking the records", "Working it out"

SAID_OF = {
    RECORDS: READING,
    "failure rows": "Laying failures beside what may explain them",
    "learning": "Learning from the fleet's own failures",
    "as found": "Judging the fleet",
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

Made = TypeVar("Made")


class Says(Protocol):
    """A place of the page where it is said what is worked out."""

    def say(self, words: str) -> None:
        """Say it; a page that has been left ends here."""

    def done(self) -> None:
        """Say no more."""


def say_what_is_worked_out(place: Says) -> None:
    """Say at a place of the page what is worked out, where that takes long."""
    st.session_state[PLACE] = place


def left_if_wanted(make: Callable[[], Made], words: str, in_the_making: Callable[[], str]) -> Made:
    """Work something out beside the page, which says so where it takes long, and may be left.

    A page is left when it next shows something; so one that waits shows something now and then.
    Who left it and comes back finds what has been worked out meanwhile.

    Parameters
    ----------
    make : callable
        Works it out.
    words : str
        What is said of it.
    in_the_making : callable
        Returns the name of the result that is being made. What ``SAID_OF`` says of it is said in
        place of ``words``.
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
        doing = SAID_OF.get(in_the_making(), words)
        place.say(f"{doing} … {seconds:.0f} s. This page may be left meanwhile.")
    place.done()
    return made.result()
