"""What stands of every check at many moments, who hung the unit last, and what leaks."""

from dataclasses import dataclass, replace

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import CHECKS
from scoring.timeline.check_along import MISSING, CheckAlong, at, check_along, void_from
from scoring.timeline.leaks import DRIPPING, told_from
from scoring.timeline.looks import Looks
from scoring.timeline.moments import NEVER, Moments
from scoring.timeline.resets import Resets
from scoring.timeline.symptom_days import counts_from
from scoring.timeline.timeline import Timeline
from scoring.timeline.worst_in_force import Spells, worst_in_force

Ints = NDArray[np.int64]
Days = NDArray[np.datetime64]


@dataclass(frozen=True)
class Along:
    """What stands at each moment.

    Attributes
    ----------
    checks : dict of str to CheckAlong
        What stands of each check.
    hung_anew_on : ndarray of datetime64[D], shape (n_moments,)
        When the unit was last hung anew; missing if never.
    crew : ndarray of str or None, shape (n_moments,)
        Who hung it last.
    leak_since : ndarray of datetime64[D], shape (n_moments,)
        Since when a leak stands that no event tells of.
    """

    checks: dict[str, CheckAlong]
    hung_anew_on: Days
    crew: NDArray[np.object_]
    leak_since: Days

    def take(self, places: Ints) -> "Along":
        """Return some of the moments, in that order."""
        return Along(
            {n: CheckAlong(c.row[places], c.cured_on[places]) for n, c in self.checks.items()},
            self.hung_anew_on[places],
            self.crew[places],
            self.leak_since[places],
        )

    def put(self, places: Ints, other: "Along") -> None:
        """Write what stands at some moments over what was said of them."""
        for name, check in self.checks.items():
            check.row[places] = other.checks[name].row
            check.cured_on[places] = other.checks[name].cured_on
        self.hung_anew_on[places] = other.hung_anew_on
        self.crew[places] = other.crew
        self.leak_since[places] = other.leak_since


def along(timeline: Timeline, moments: Moments, symptom_lag_days: int) -> Along:
    """Return what stands at each moment, in the order in which all records stand.

    Parameters
    ----------
    timeline : Timeline
        The records.
    moments : Moments
        When it is asked.
    symptom_lag_days : int
        For how long a symptom is not yet used. [d]

    Returns
    -------
    Along
    """
    resets = timeline.resets.where(_of_units(timeline.resets.unit, moments))
    checks = {}
    for check in CHECKS:
        looks = _looks(timeline, check.name, moments)
        told: Days = np.full(len(looks.unit), NEVER)
        if check.name == "seal_weep":
            told = told_from(timeline.fleet, timeline.records, looks)
        if check.symptom:
            later = counts_from(looks.day, looks.known_from, symptom_lag_days)
            looks = replace(looks, known_from=later)
        checks[check.name] = check_along(check, looks, told, resets, moments)
    hung = resets.where(resets.off_shaft)
    last = moments.newest(hung.unit, hung.known_from)
    return Along(
        checks=checks,
        hung_anew_on=at(hung.day, last, MISSING),
        crew=_crew(timeline, hung, last, moments),
        leak_since=_leak_since(timeline, resets, moments),
    )


def _of_units(unit: Ints, moments: Moments) -> slice:
    """Return where the records lie of the units between the first and the last asked for."""
    if len(moments.unit) == 0:
        return slice(0, 0)
    ends = (moments.unit[0], moments.unit[-1] + 1)
    return slice(*(int(end) for end in np.searchsorted(unit, ends)))


def _looks(timeline: Timeline, check: str, moments: Moments) -> Looks:
    looks = timeline.looks[check]
    return looks.where(_of_units(looks.unit, moments))


def _crew(timeline: Timeline, hung: Resets, last: Ints, moments: Moments) -> NDArray[np.object_]:
    """Return the crew that hung each unit last, as far as it was known at each moment."""
    installer = timeline.fleet.units["installer"].to_numpy(dtype=object)[moments.unit]
    own = at(hung.crew, last, None)
    event_known = at(hung.event_known_from, last, MISSING) <= moments.day
    from_event = pd.isna(own) & event_known
    crew = np.where(from_event, at(hung.crew_of_event, last, None), own)
    return np.where(last < 0, installer, crew)


def _leak_since(timeline: Timeline, resets: Resets, moments: Moments) -> Days:
    """Return the first look, since the seal was renewed, that saw a leak no event tells of."""
    looks = _looks(timeline, "seal_weep", moments)
    looks = looks.where(looks.badness == DRIPPING)
    renewed = void_from(looks, resets.where(resets.new_seal))
    until = np.minimum(renewed, told_from(timeline.fleet, timeline.records, looks))
    first_counts = np.arange(len(looks.unit))[::-1]
    first = worst_in_force(Spells(looks.unit, looks.known_from, until, first_counts), moments)
    return at(looks.day, first, MISSING)
