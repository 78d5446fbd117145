"""What stands of every check on many days, who hung the unit last, and what leaks."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import CHECKS, Check
from scoring.timeline.check_over_time import MISSING, CheckOverTime, at, check_over_time, void_from
from scoring.timeline.leaks import DRIPPING
from scoring.timeline.looks import Looks
from scoring.timeline.resets import Resets
from scoring.timeline.symptom_days import counts_from
from scoring.timeline.timeline import Timeline
from scoring.timeline.unit_days import NEVER, UnitDays
from scoring.timeline.what_hanging_does import SEATED, SHAFT_SEAT
from scoring.timeline.what_stands import WhatStands
from scoring.timeline.worst_in_force import Spells, worst_in_force

Ints = NDArray[np.int64]
Days = NDArray[np.datetime64]

SEAL = "seal_weep"


@dataclass(frozen=True)
class UnitOverTime:
    """What stands on each day.

    Attributes
    ----------
    checks : dict of str to CheckOverTime
        What stands of each check.
    hung_anew_on : ndarray of datetime64[D], shape (n_unit_days,)
        When the unit was last hung anew; missing if never.
    crew : ndarray of str or None, shape (n_unit_days,)
        Who hung it last.
    leak_since : ndarray of datetime64[D], shape (n_unit_days,)
        Since when a leak stands that no event tells of.
    """

    checks: dict[str, CheckOverTime]
    hung_anew_on: Days
    crew: NDArray[np.object_]
    leak_since: Days

    def take(self, places: Ints) -> "UnitOverTime":
        """Return some of the days, in that order."""
        return UnitOverTime(
            {
                name: CheckOverTime(c.row[places], c.cured_on[places], c.at_home[places])
                for name, c in self.checks.items()
            },
            self.hung_anew_on[places],
            self.crew[places],
            self.leak_since[places],
        )

    def put(self, places: Ints, other: "UnitOverTime") -> None:
        """Write what stands on some days over what was said of them."""
        for name, check in self.checks.items():
            check.row[places] = other.checks[name].row
            check.cured_on[places] = other.checks[name].cured_on
            check.at_home[places] = other.checks[name].at_home
        self.hung_anew_on[places] = other.hung_anew_on
        self.crew[places] = other.crew
        self.leak_since[places] = other.leak_since


def unit_over_time(
    timeline: Timeline,
    unit_days: UnitDays,
    symptom_lag_days: int,
    checks: Sequence[Check] = CHECKS,
) -> UnitOverTime:
    """Return what stands on each day, in the order in which all records stand.

    Parameters
    ----------
    timeline : Timeline
        The records.
    unit_days : UnitDays
        When it is asked.
    symptom_lag_days : int
        For how long a symptom is not yet used. [d]
    checks : sequence of Check
        What is asked for.

    Returns
    -------
    UnitOverTime
    """
    resets = timeline.resets.where(_of_units(timeline.resets.unit, unit_days))
    slipped = timeline.slipped_seats
    slipped = slipped.where(_of_units(slipped.unit, unit_days))
    seated, seat = (_looks(timeline, name, unit_days) for name in (SEATED, SHAFT_SEAT))
    hung = resets.hung
    last = unit_days.newest(hung.unit, hung.known_from)
    stood = {}
    for check in checks:
        looks = _looks(timeline, check.name, unit_days)
        if check.name == SHAFT_SEAT:
            looks = looks.joined(slipped)
        reported: Days = np.full(len(looks.unit), NEVER)
        if check.name == SEAL:
            reported = timeline.reported_from[_of_units(timeline.looks[SEAL].unit, unit_days)]
        if check.symptom:
            later = counts_from(looks.day, looks.known_from, symptom_lag_days)
            looks = replace(looks, known_from=later)
        stands = WhatStands(check, looks, resets, seated, seat)
        stood[check.name] = check_over_time(stands, reported, last, unit_days)
    return UnitOverTime(
        checks=stood,
        hung_anew_on=at(hung.day, last, MISSING),
        crew=_crew(timeline, hung, last, unit_days),
        leak_since=_leak_since(timeline, resets, unit_days),
    )


def _of_units(unit: Ints, unit_days: UnitDays) -> slice:
    """Return where the records lie of the units between the first and the last asked for."""
    if len(unit_days.unit) == 0:
        return slice(0, 0)
    ends = (unit_days.unit[0], unit_days.unit[-1] + 1)
    return slice(*(int(end) for end in np.searchsorted(unit, ends)))


def _looks(timeline: Timeline, check: str, unit_days: UnitDays) -> Looks:
    looks = timeline.looks[check]
    return looks.where(_of_units(looks.unit, unit_days))


def _crew(timeline: Timeline, hung: Resets, last: Ints, unit_days: UnitDays) -> NDArray[np.object_]:
    """Return the crew that hung each unit last, as far as it was known on each day."""
    first_crew = timeline.fleet.units["installer"].to_numpy(dtype=object)[unit_days.unit]
    own = at(hung.crew, last, None)
    event_known = at(hung.event_known_from, last, MISSING) <= unit_days.day
    from_event = pd.isna(own) & event_known
    crew = np.where(from_event, at(hung.crew_of_event, last, None), own)
    return np.where(last < 0, first_crew, crew)


def _leak_since(timeline: Timeline, resets: Resets, unit_days: UnitDays) -> Days:
    """Return the first look, since the seal was renewed, that saw a leak no event tells of."""
    looks = _looks(timeline, SEAL, unit_days)
    drips = looks.exceedance == DRIPPING
    reported = timeline.reported_from[_of_units(timeline.looks[SEAL].unit, unit_days)][drips]
    looks = looks.where(drips)
    renewed = void_from(looks, resets.where(resets.new_seal))
    until = np.minimum(renewed, reported)
    first_counts = np.arange(len(looks.unit))[::-1]
    first = worst_in_force(Spells(looks.unit, looks.known_from, until, first_counts), unit_days)
    return at(looks.day, first, MISSING)
