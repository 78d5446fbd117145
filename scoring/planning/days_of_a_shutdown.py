"""Which job of a shutdown on which day and by whom: a plain list schedule.

Nothing is optimised: the plan has chosen the work, and this lays it out so that people can begin.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract.ranking import HOLD

USUAL_HOURS_A_DAY = 8.0
"""Hours that people work on a day; planning value of ours. [h]"""

MINUTES = 60

NEVER = np.iinfo(np.int64).max
"""The end of a shutdown of which it is not known how long it lasts. [min]"""


@dataclass(frozen=True)
class Daywork:
    """A shutdown, laid out by days.

    Attributes
    ----------
    spells : DataFrame, shape (n_spells, ...)
        One row for each job on each day: ``job`` (its row in the table of jobs), ``day`` (from 1),
        ``begins_h`` and ``ends_h`` of that day's work [h], ``who`` (tuple of int: people numbered
        from 1), ``goes_on`` (whether it is not done that day). By day and beginning.
    not_fitting : ndarray of int
        Rows of jobs for which no room was found.
    people : int
        People there at once. [-]
    people_given : bool
        Whether somebody said so; else as many are taken as the job that needs most.
    hours_a_day : float
        Hours that people work on a day. [h]
    """

    spells: pd.DataFrame
    not_fitting: NDArray[np.int64]
    people: int
    people_given: bool
    hours_a_day: float

    @property
    def days(self) -> int:
        """The last day on which something is done; 0 where nothing is."""
        return int(self.spells["day"].max()) if len(self.spells) else 0


def lay_out_by_days(
    jobs: pd.DataFrame,
    walk: NDArray[np.int64],
    *,
    crew_hours: float | None,
    people: int | None,
    hours_a_day: float = USUAL_HOURS_A_DAY,
) -> Daywork:
    """Lay the jobs of one shutdown out by days.

    Parameters
    ----------
    jobs : DataFrame, shape (n_jobs, ...)
        ``verdict``, ``verdict_after``, ``hours`` (of one person), ``people`` at once, ``crane``
        (yes, no).
    walk : ndarray of int, shape (n_jobs,)
        Where the unit of each job stands in the walk past all of them.
    crew_hours : float or None
        Hours that all people have together; None: not known, so that it lasts as long as it takes.
        Counts only where people are given. [h]
    people : int or None
        People there at once.
    hours_a_day : float
        Hours that people work on a day; above 0, at most 24. [h]

    Returns
    -------
    Daywork

    Notes
    -----
    Jobs that lift a hold come first, the others after them, each in walking order. Each begins as
    early as its people, and for a job with a crane the only crane, are free until it is done. A job
    takes its hours shared among its people, who stay together, and none is left overnight that
    fits into one day. Where jobs then find no room, nights are allowed for all if more of them
    fit so. Ways between units and sites take no time.

    Examples
    --------
    >>> jobs = pd.DataFrame({"verdict": "correct", "verdict_after": "watch",
    ...     "hours": [8.0, 12.0], "people": 2, "crane": "no"})
    >>> laid = lay_out_by_days(jobs, np.array([0, 1]), crew_hours=40, people=2)
    >>> laid.spells[["job", "day", "begins_h", "ends_h"]].to_numpy().tolist()
    [[0.0, 1.0, 0.0, 4.0], [1.0, 2.0, 0.0, 6.0]]
    """
    most = int(jobs["people"].max()) if len(jobs) else 1
    there = most if people is None else int(people)
    end = NEVER
    if people is not None and crew_hours is not None:
        end = int(np.ceil(crew_hours * MINUTES / there - 1e-6))
    day = round(hours_a_day * MINUTES)
    order = order_of_jobs(jobs, walk)
    begins = _placed(jobs, order, there, end, day, nights=False)
    if (begins < 0).any():
        with_nights = _placed(jobs, order, there, end, day, nights=True)
        if (with_nights < 0).sum() < (begins < 0).sum():
            begins = with_nights
    spells = _by_day(begins, _minutes(jobs), _who(jobs, begins), day)
    return Daywork(spells, np.flatnonzero(begins < 0), there, people is not None, day / MINUTES)


def order_of_jobs(jobs: pd.DataFrame, walk: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return rows of jobs in the order in which they find their room: lifted holds, then the walk.

    Parameters
    ----------
    jobs, walk : DataFrame, ndarray of int
        As ``lay_out_by_days`` takes them.
    """
    lifts = ((jobs["verdict"] == HOLD) & (jobs["verdict_after"] != HOLD)).to_numpy()
    order: NDArray[np.int64] = np.lexsort((walk, ~lifts))
    return order


def _minutes(jobs: pd.DataFrame) -> NDArray[np.int64]:
    """Return how long each job takes with its people together, begun minutes counted whole."""
    each = jobs["hours"].to_numpy(np.float64) * MINUTES / jobs["people"].to_numpy(np.float64)
    lasts: NDArray[np.int64] = np.maximum(np.ceil(each - 1e-6), 1).astype(np.int64)
    return lasts


def _placed(  # noqa: PLR0913 - what there is, and how it may be used
    jobs: pd.DataFrame,
    order: NDArray[np.int64],
    there: int,
    end: int,
    day: int,
    *,
    nights: bool,
) -> NDArray[np.int64]:
    """Return when each job begins, in minutes of working time; -1 where it finds no room."""
    people, lasts = jobs["people"].to_numpy(np.int64), _minutes(jobs)
    crane = (jobs["crane"] == "yes").to_numpy()
    begins = np.full(len(jobs), -1, dtype=np.int64)
    taken = _Taken()
    for job in order:
        kept_in_a_day = 0 if nights or lasts[job] > day else day
        begins[job] = taken.earliest(
            int(lasts[job]), there - int(people[job]), bool(crane[job]), end, kept_in_a_day
        )
        if begins[job] >= 0:
            taken.take(int(begins[job]), int(lasts[job]), int(people[job]), bool(crane[job]))
    return begins


class _Taken:
    """How many people, and whether the crane, are taken from each moment to the next."""

    def __init__(self) -> None:
        self.breaks = [0, NEVER]
        self.people = [0]
        self.crane = [False]

    def earliest(self, lasts: int, spare: int, crane: bool, end: int, day: int) -> int:  # noqa: FBT001
        """Return the earliest beginning at which no more than ``spare`` others are at work.

        ``day`` is the length of the day that it has to fit into; 0 where nights are allowed.
        """
        begin: int | None = None
        for place, (start, stop) in enumerate(pairwise(self.breaks)):
            if self.people[place] > spare or (crane and self.crane[place]):
                begin = None
                continue
            begin = _next_morning(start if begin is None else begin, lasts, day)
            if begin + lasts > end:
                return -1
            if begin + lasts <= stop:
                return begin
        return -1

    def take(self, begin: int, lasts: int, people: int, crane: bool) -> None:  # noqa: FBT001
        """Take people, and perhaps the crane, for a time."""
        for moment in (begin, begin + lasts):
            place = int(np.searchsorted(self.breaks, moment))
            if self.breaks[place] != moment:
                self.breaks.insert(place, moment)
                self.people.insert(place, self.people[place - 1])
                self.crane.insert(place, self.crane[place - 1])
        first, last = (self.breaks.index(at) for at in (begin, begin + lasts))
        for place in range(first, last):
            self.people[place] += people
            self.crane[place] |= crane


def _next_morning(begin: int, lasts: int, day: int) -> int:
    """Return a moment from which work is done before the night: this one, or the next morning."""
    if day and begin % day + lasts > day:
        return (begin // day + 1) * day
    return begin


def _who(jobs: pd.DataFrame, begins: NDArray[np.int64]) -> list[tuple[int, ...]]:
    """Give each job people by number, in the order of their beginning: the lowest that are free."""
    lasts, needs = _minutes(jobs), jobs["people"].to_numpy(np.int64)
    free_from: list[int] = []
    who: list[tuple[int, ...]] = [()] * len(jobs)
    for job in np.argsort(begins, kind="stable"):
        if begins[job] < 0:
            continue
        free = [n for n, moment in enumerate(free_from) if moment <= begins[job]]
        new = range(len(free_from), len(free_from) + int(needs[job]) - len(free))
        chosen = [*free, *new][: needs[job]]
        free_from += [0] * len(new)
        for one in chosen:
            free_from[one] = int(begins[job] + lasts[job])
        who[job] = tuple(one + 1 for one in chosen)
    return who


def _by_day(
    begins: NDArray[np.int64],
    lasts: NDArray[np.int64],
    who: list[tuple[int, ...]],
    day: int,
) -> pd.DataFrame:
    """Return one row for each job on each day."""
    placed = np.flatnonzero(begins >= 0)
    first, last = begins // day, (begins + lasts - 1) // day
    job = np.repeat(placed, (last - first + 1)[placed])
    nth = np.concatenate([np.arange(n) for n in (last - first + 1)[placed]] or [np.zeros(0, int)])
    on = first[job] + nth
    spells = pd.DataFrame(
        {
            "job": job,
            "day": on + 1,
            "begins_h": (np.maximum(begins[job], on * day) - on * day) / MINUTES,
            "ends_h": (np.minimum((begins + lasts)[job], (on + 1) * day) - on * day) / MINUTES,
            "who": [who[one] for one in job],
            "goes_on": on < last[job],
        }
    )
    return spells.sort_values(["day", "begins_h", "job"], ignore_index=True)
