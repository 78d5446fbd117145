"""Which units are due, worked out beside the pages and kept, so that Today opens at once."""

import threading
import time
from dataclasses import dataclass

import pandas as pd

from dashboard import launch_settings
from dashboard.cut_fleet import WHOLE, Cut, cut_for
from dashboard.fleet_results import FleetResults
from dashboard.results_in_use import CUTS_KEPT, results_beside_the_pages
from scoring.access.acts import Act
from scoring.access.who_asks import require
from scoring.contract import Seen
from scoring.errors import FixableError
from scoring.looking.due_looks import due_looks
from scoring.looking.look_plan import plan_looks

PATIENCE_S = 4.0
"""How long Today waits for the first list. [s]"""

WEIGHED_ANEW_S = 900.0
"""How old the worth of looks may grow before it is worked out anew; planning value of ours. [s]"""

SHIFT_H = 8.0
"""Looks are suggested that fill so many hours at each site; planning value of ours. [h]"""


@dataclass(frozen=True)
class DueUnits:
    """Which units are due.

    Attributes
    ----------
    table : DataFrame
        From ``due_looks``.
    day : Timestamp
        As of when.
    are_weighed : bool
        Whether looks are suggested too; it takes longer.
    """

    table: pd.DataFrame
    day: pd.Timestamp
    are_weighed: bool


class Kept:
    """The last list, and the thread that makes the next.

    Parameters
    ----------
    cut : Cut
        Which records: those that somebody may see.
    """

    def __init__(self, cut: Cut = WHOLE) -> None:
        self._cut = cut
        self._one_at_a_time = threading.Lock()
        self._first_is_there = threading.Event()
        self._worker: threading.Thread | None = None
        self._last: DueUnits | None = None
        self._state: tuple[int, pd.Timestamp] | None = None
        self._visits: pd.DataFrame | None = None
        self._weighed_at = -WEIGHED_ANEW_S
        self._trouble = ""

    def now(self, patience_s: float = PATIENCE_S) -> DueUnits | None:
        """Return the last list, and have it made anew where records or day have changed.

        Raises
        ------
        FixableError
            If the records cannot be read, or are faulty.
        """
        state = launch_settings.records_mark(), launch_settings.day_spoken_of()
        with self._one_at_a_time:
            is_idle = self._worker is None or not self._worker.is_alive()
            if is_idle and (self._state != state or self._visits is None) and not self._trouble:
                self._worker = threading.Thread(target=self._work, args=(state,), daemon=True)
                self._worker.start()
            trouble, self._trouble = self._trouble, ""
        if trouble and self._last is None:
            raise FixableError(trouble)
        self._first_is_there.wait(patience_s)
        return self._last

    def _work(self, state: tuple[int, pd.Timestamp]) -> None:
        try:
            results = FleetResults.read(state[0], self._cut)
            self._list(results)
            self._state = state
            if time.monotonic() - self._weighed_at >= WEIGHED_ANEW_S:
                results = results_beside_the_pages(self._cut)
                looks = results.looks(Seen.STOPPED)
                sites = map(str, results.assessment().known.units["site"].unique())
                self._visits = plan_looks(looks, dict.fromkeys(sites, SHIFT_H)).visits
                self._weighed_at = time.monotonic()
                self._list(results)
        except FixableError as error:
            self._trouble = str(error)
        finally:
            self._first_is_there.set()

    def _list(self, results: FleetResults) -> None:
        judged = results.fleet.assessor.judge(results.fleet.as_of)
        table = due_looks(judged, results.overdue_looks(), self._visits)
        self._last = DueUnits(table, results.fleet.as_of, self._visits is not None)
        self._first_is_there.set()


_LISTS: dict[Cut, Kept] = {}
_CHOOSING = threading.Lock()


def kept() -> Kept:
    """Return the list of who asks; the few asked for last are kept."""
    cut = cut_for(require(Act.SEE))
    with _CHOOSING:
        found = _LISTS.pop(cut, None) or Kept(cut)
        _LISTS[cut] = found
        while len(_LISTS) > CUTS_KEPT:
            del _LISTS[next(iter(_LISTS))]
    return found
