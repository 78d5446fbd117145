"""What was worked out of a fleet, kept for all who may see the same, and renewed. The only cache.

Where the records lie in a store they change while pages are open. A page shows what was last worked
out, and has it worked out anew beside itself; a small fleet's is ready before the page is drawn.
What another day or horizon asks for is kept for the few that were asked for last.
"""

import gc
import threading
from dataclasses import dataclass
from typing import TYPE_CHECKING

import pandas as pd

from dashboard import launch_settings
from dashboard.cut_fleet import WHOLE, Cut
from dashboard.day_in_address import Asked
from dashboard.fleet_results import FleetResults
from dashboard.results_key import results_key
from scoring.assessment.kept_ranking import KeptRanking
from scoring.errors import FixableError

if TYPE_CHECKING:
    from dashboard.results_folder import ResultsFolder

PATIENCE_S = 3.0
"""How long a page waits for records that have changed to be worked out. [s]"""

OTHERS_KEPT = 4
"""So many other days and horizons are kept beside the usual one. Ours."""

CUTS_KEPT = 8
"""For so many choices of sites results are kept, beside those of the whole fleet. Ours."""


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
        """Begin anew with nothing worked out."""
        self.folder: ResultsFolder | None = None
        self.worked: FleetResults | None = None
        self.making: FleetResults | None = None
        self.renewal: threading.Thread | None = None
        self.trouble = ""
        self.others: dict[Asked, FleetResults] = {}
        self.ahead: RankedAhead | None = None

    def current(self) -> FleetResults:
        """Return what was last worked out, or what is, where that does not take long."""
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
        """Return the results for a day and a horizon; the few asked for last are kept.

        One that is being learned of is kept beside them: pages look again and again whether it is
        ready, and would have it begun anew.
        """
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
            idle = [one for one, kept in same.items() if not kept.is_learning_beside]
            for one in idle[:-OTHERS_KEPT]:
                del same[one]
            self.others = same
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


def results_beside_the_pages(cut: Cut = WHOLE) -> FleetResults:
    """Return the results of the records as they are, for what runs beside the pages."""
    return in_use_of(cut).latest()
