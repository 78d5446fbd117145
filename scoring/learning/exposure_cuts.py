"""The days on which something known of a unit changes."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from scoring.contract import CHECKS, Check
from scoring.learning.exposure_failures import Failures
from scoring.records import DAYS_PER_YEAR
from scoring.timeline import Timeline
from scoring.timeline.ages_over_time import Renewals
from scoring.timeline.check_over_time import void_from
from scoring.timeline.order import number_of_unit_day, unit_and_day
from scoring.timeline.symptom_days import counts_from, forgotten_from
from scoring.timeline.unit_days import NEVER, UnitDays
from scoring.timeline.what_hanging_does import lasting_exceedance

Ints = NDArray[np.int64]
Days = NDArray[np.datetime64]

SYMPTOM_LAG_DAYS = 30
"""For how long a symptom may not explain a failure. [d]"""

AGE_BANDS_YEARS = (0.0, 0.25, 1.0, 2.0, 4.0, 7.0, 12.0)
"""Ages at which a band begins; planning values of ours, narrow where parts fail early. [year]"""

AGE_BAND_DAYS = np.round(np.array(AGE_BANDS_YEARS) * DAYS_PER_YEAR)
"""The same in whole days. [d]"""

ChangeDays = tuple[Ints, Days]


def starts_of_periods(  # noqa: PLR0913, PLR0917 - what may change is many things
    timeline: Timeline,
    failures: Failures,
    observed: tuple[Days, Days],
    ages: list[Renewals],
    begins: list[ChangeDays],
    also_on: Days,
) -> UnitDays:
    """Return when each stretch begins in which nothing known of a unit changes.

    Parameters
    ----------
    timeline : Timeline
        The records.
    failures : Failures
        What failed.
    observed : tuple of ndarray of datetime64[D], shape (n_units,)
        A unit is observed after its day of entry, up to and with its day of leaving.
    ages : list of Renewals
        Of the parts that age.
    begins : list of tuple
        Units and days on which failures of some kind begin to be written down.
    also_on : ndarray of datetime64[D], shape (n_days,)
        Days on which every unit's life is cut besides.

    Returns
    -------
    UnitDays
        The day of entry and every later day, before that of leaving, on which something changes.
    """
    entry, leave = observed
    here = np.flatnonzero(entry < leave)
    entries = here, entry[here]

    def within(unit: Ints, day: Days) -> ChangeDays:
        inside = (entry[unit] < day) & (day < leave[unit])
        return unit[inside], day[inside]

    everyone = np.arange(len(entry))
    changes = [
        *((everyone, np.full(len(everyone), day)) for day in also_on),
        *begins,
        *_days_of_news(timeline),
        *((failed.unit, failed.day) for failed in failures.of_mode.values()),
        *((seen.unit, seen.until) for seen in failures.standing.values()),
    ]
    for age in ages:
        renewed = within(age.shaft, age.known_from)
        changes.extend([renewed, _days_of_ageing(age, _sorted_once([entries, renewed]))])
    return _sorted_once([entries, *(within(*change) for change in changes)])


def starts_of_states(timeline: Timeline) -> UnitDays:
    """Return when each stretch begins in which what was found of a unit in service stays as it is.

    Parameters
    ----------
    timeline : Timeline
        The records.

    Returns
    -------
    UnitDays
        The day on which each unit was first hung, and every later day in service on which something
        becomes known or, as a symptom, begins to count or is forgotten. No day that is asked for
        moves any of them.
    """
    return _starts_in_service(timeline, _days_of_news(timeline))


def starts_without_symptoms(timeline: Timeline) -> UnitDays:
    """Return the same of all that is no symptom: the first day, and those with something written.

    Parameters
    ----------
    timeline : Timeline
        The records.

    Returns
    -------
    UnitDays
        Some of ``starts_of_states``: under half of them, where fleets are walked down often.
    """
    return _starts_in_service(timeline, [_days_written(timeline)])


def _starts_in_service(timeline: Timeline, news: list[ChangeDays]) -> UnitDays:
    """Return the day on which each unit was first hung, and later days in service with news."""
    units = timeline.fleet.units
    hung, left = (
        units[column].to_numpy().astype("datetime64[D]")
        for column in ("installed_on", "out_of_service_on")
    )
    left = np.where(np.isnat(left), NEVER, left)
    here = np.flatnonzero(hung < left)
    changes = [(here, hung[here])]
    for unit, day in news:
        inside = (hung[unit] < day) & (day < left[unit])
        changes.append((unit[inside], day[inside]))
    return _sorted_once(changes)


def _days_written(timeline: Timeline) -> ChangeDays:
    """Return when something is written down."""
    return timeline.records.unit, timeline.records.known_from


def _days_of_news(timeline: Timeline) -> list[ChangeDays]:
    """Return when something is written down, and when looks at symptoms count and are forgotten."""
    changes = [_days_written(timeline)]
    for check in CHECKS:
        if check.symptom:
            changes.extend(_days_of_symptom(timeline, check))
    return changes


def _sorted_once(change_days: list[ChangeDays]) -> UnitDays:
    """Put units and days in order, each once."""
    numbers = np.sort(np.concatenate([number_of_unit_day(*one) for one in change_days]))
    once = np.append(True, numbers[1:] != numbers[:-1])[: len(numbers)]
    return UnitDays(*unit_and_day(numbers[once]))


def _days_of_symptom(timeline: Timeline, check: Check) -> list[ChangeDays]:
    """Return when looks at a symptom begin to count, and when they are forgotten."""
    looks = timeline.looks[check.name]
    gone = forgotten_from(looks.day)
    counts = counts_from(looks.day, looks.known_from, SYMPTOM_LAG_DAYS)
    # What drips is a leak: it is never forgotten, and it may give way to the event that tells it.
    drips = lasting_exceedance(check, looks) > 0
    replaced = void_from(looks, replace(looks, known_from=counts).where(~drips))
    forgotten = ~drips & (counts < gone) & (gone < replaced)
    return [(looks.unit, counts), (looks.unit[forgotten], gone[forgotten])]


def _days_of_ageing(age: Renewals, known: UnitDays) -> ChangeDays:
    """Return when a part enters each band of age, from days on which its age is known anew."""
    following = np.append(known.unit[1:] == known.unit[:-1], False)
    until = np.where(following, np.append(known.day[1:], NEVER), NEVER)
    ahead = AGE_BAND_DAYS - age.age(known.unit, known.day)[:, np.newaxis]
    day = known.day[:, np.newaxis] + ahead.astype("timedelta64[D]")
    row, band = np.nonzero((ahead > 0) & (day < until[:, np.newaxis]))
    return known.unit[row], day[row, band]
