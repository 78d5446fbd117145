"""What stands of one check on many days."""

from dataclasses import dataclass, replace
from typing import Literal, TypeVar

import numpy as np
from numpy.typing import NDArray

from scoring.timeline.looks import Looks
from scoring.timeline.order import number_of_unit_day
from scoring.timeline.resets import Resets
from scoring.timeline.symptom_days import forgotten_from
from scoring.timeline.unit_days import NEVER, UnitDays
from scoring.timeline.what_hanging_does import (
    GOOD_IS_LOST,
    OF_SHAFT_AT_HOME,
    in_hangings,
    is_damage,
    lasting_exceedance,
    outlasts_looks,
)
from scoring.timeline.what_stands import Endings, WhatStands
from scoring.timeline.worst_in_force import Spells, worst_in_force

Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]
Days = NDArray[np.datetime64]
Cell = TypeVar("Cell", bound=np.generic)

MISSING = np.datetime64("NaT", "D")


@dataclass(frozen=True)
class CheckOverTime:
    """What stands of one check on each day.

    Attributes
    ----------
    row : ndarray of int, shape (n_unit_days,)
        The row whose value stands, as in ``Looks``; -1 for none.
    cured_on : ndarray of datetime64[D], shape (n_unit_days,)
        When it was reported cured, where nobody has seen it since.
    at_home : ndarray of bool, shape (n_unit_days,)
        Whether the unit was seen home when that value was seen; for two checks alone.
    """

    row: Ints
    cured_on: Days
    at_home: Flags


def check_over_time(
    stands: WhatStands, reported: Days, last_hung: Ints, unit_days: UnitDays
) -> CheckOverTime:
    """Return what stands of a check on each day.

    Parameters
    ----------
    stands : WhatStands
        The check, its looks and what may end them, whenever they became known.
    reported : ndarray of datetime64[D], shape (n_looks,)
        From when on a look counts no more, as an event tells of the leak that it saw.
    last_hung : ndarray of int, shape (n_unit_days,)
        Which of the hangings in ``stands`` is the last one known; -1 for none.
    unit_days : UnitDays
        When it is asked.

    Returns
    -------
    CheckOverTime
    """
    check, looks = stands.check, stands.looks
    ended, mended = stands.ending(damage=False), stands.ending(damage=True)
    end = unit_days.newest(ended.unit, ended.known_from)
    ended_at = at(ended.position, end, -1)
    if outlasts_looks(check):
        look = _worst_of_those_that_last(stands, reported, unit_days)
    else:
        look = unit_days.newest(looks.unit, looks.known_from)
    at_home = _seen_home(stands, look, unit_days)
    position = at(looks.position, look, -1)
    last_end = ended_at
    if mended is not ended:
        mend = unit_days.newest(mended.unit, mended.known_from)
        by_part = at_home | at(is_damage(check, looks), look, fill=False)
        last_end = np.where(by_part, at(mended.position, mend, -1), ended_at)
    look[position < last_end] = -1
    # Once seen again, a cure is no longer what is known, even where that look is forgotten or lost.
    cured = (look < 0) & at(ended.cures, end, fill=False)
    if check.name in GOOD_IS_LOST:
        last_hung = at(stands.resets.hung.position, last_hung, -1)
        cured &= last_hung <= ended_at
        good = at(looks.exceedance, look, 1.0) <= 0
        look[good & ~at_home & (last_hung > position)] = -1
    if check.symptom:
        gone = at(forgotten_from(looks.day), look, NEVER) <= unit_days.day
        look[gone & (at(lasting_exceedance(check, looks), look, 0.0) == 0)] = -1
    cured_on = np.where(cured, at(ended.day, end, MISSING), MISSING)
    return CheckOverTime(at(looks.row, look, -1), cured_on, at_home & (look >= 0))


def _worst_of_those_that_last(stands: WhatStands, reported: Days, unit_days: UnitDays) -> Ints:
    """Return on each day the last of the worst looks that no later record has ended."""
    check, looks = stands.check, stands.looks
    until = np.where(
        is_damage(check, looks),
        void_from(looks, stands.ending(damage=True)),
        void_from(looks, stands.ending(damage=False)),
    )
    if in_hangings(check):
        until = np.minimum(until, _seen_on_a_later_hanging_from(stands))
    rank = _places(np.lexsort([looks.position, lasting_exceedance(check, looks)]))
    until = np.minimum(until, reported)
    return worst_in_force(Spells(looks.unit, looks.known_from, until, rank), unit_days)


def _seen_on_a_later_hanging_from(stands: WhatStands) -> Days:
    """Return the day from which it is known that each look was followed by one on a later hanging.

    A later hanging is known once both are known: that the unit was hung anew, and a look after it.
    """
    looks, hung = stands.looks, stands.resets.hung
    ahead = np.full(len(hung.unit), NEVER)
    if len(looks.unit):
        known = number_of_unit_day(looks.unit, looks.known_from)
        soonest = np.append(np.minimum.accumulate(known[::-1])[::-1], 0)
        following = np.searchsorted(looks.position, hung.position, side="right")
        own = np.append(looks.unit, -1)[following] == hung.unit
        ahead[own] = _day_of(hung.unit[own], soonest[following[own]])
    both = replace(hung, known_from=np.maximum(hung.known_from, ahead))
    return void_from(looks, both, side="left")


def _seen_home(stands: WhatStands, look: Ints, unit_days: UnitDays) -> Flags:
    """Tell whether the unit was seen home on the hanging of what was looked at, as known by a day.

    Each look is held against every look at the unit's seat that is known while no re-hang
    between the two is.
    """
    home = np.zeros(len(look), dtype=bool)
    looks, seated = stands.looks, stands.seated
    if stands.check.name not in OF_SHAFT_AT_HOME or len(seated.unit) == 0:
        return home
    of, other = _pairs(looks.unit, seated.unit)
    low = np.minimum(looks.position[of], seated.position[other])
    high = np.maximum(looks.position[of], seated.position[other])
    hung = stands.resets.hung
    apart = _first_known_between(hung, looks.unit[of], low, high)
    since = seated.known_from[other]
    spells = Spells(of, since, apart, _places(np.lexsort([of, seated.position[other]])))
    asked = np.flatnonzero(look >= 0)
    asked = asked[np.argsort(number_of_unit_day(look[asked], unit_days.day[asked]), kind="stable")]
    newest = worst_in_force(spells, UnitDays(look[asked], unit_days.day[asked]))
    home[asked] = at(seated.exceedance[other], newest, 1.0) <= 0
    return home


def _pairs(unit: Ints, other: Ints) -> tuple[Ints, Ints]:
    """Pair each element with every other one of its unit; units rise.

    Examples
    --------
    >>> [part.tolist() for part in _pairs(np.array([0, 1, 1]), np.array([1, 1, 2]))]
    [[1, 1, 2, 2], [0, 1, 0, 1]]
    """
    first = np.searchsorted(other, unit, side="left")
    count = np.searchsorted(other, unit, side="right") - first
    of = np.repeat(np.arange(len(unit)), count)
    step = np.arange(len(of)) - np.repeat(np.cumsum(count) - count, count)
    return of, first[of] + step


def _first_known_between(hung: Resets, unit: Ints, low: Ints, high: Ints) -> Days:
    """Return the day from which a re-hang between two positions of a unit is known."""
    until = np.full(len(unit), NEVER)
    first = np.searchsorted(hung.position, low, side="right")
    last = np.searchsorted(hung.position, high, side="left")
    for step in range(int((last - first).max(initial=0))):  # as often as a unit was hung anew
        here = np.flatnonzero(first + step < last)
        until[here] = np.minimum(until[here], hung.known_from[first[here] + step])
    return until


def void_from(
    looks: Looks, voiding: "Looks | Resets | Endings", side: Literal["left", "right"] = "right"
) -> Days:
    """Return the day from which each look is known to be void.

    Parameters
    ----------
    looks : Looks
        Looks at a check.
    voiding : Looks, Resets or Endings
        What makes earlier looks void, in the order in which it happened.
    side : str
        Whether what lies at the place of a look itself makes it void ("left") or not ("right").

    Returns
    -------
    ndarray of datetime64[D], shape (n_looks,)
        The first day by whose end something later is known that makes it void.
    """
    until = np.full(len(looks.unit), NEVER)
    if len(voiding.unit) == 0:
        return until
    known = number_of_unit_day(voiding.unit, voiding.known_from)
    soonest = np.minimum.accumulate(known[::-1])[::-1]  # of this and all that happened later
    following = np.searchsorted(voiding.position, looks.position, side=side)
    own = np.append(voiding.unit, -1)[following] == looks.unit
    until[own] = _day_of(looks.unit[own], soonest[following[own]])
    return until


def _day_of(unit: Ints, number: Ints) -> Days:
    """Return the day of a number of a unit and a day."""
    first_day = number_of_unit_day(unit, np.zeros(len(unit), "datetime64[D]"))
    day: Days = (number - first_day).astype("datetime64[D]")
    return day


def at(values: NDArray[Cell], places: Ints, fill: object) -> NDArray[Cell]:
    """Return the values at some places, and ``fill`` where a place is -1.

    Examples
    --------
    >>> at(np.array([5, 6]), np.array([1, -1]), 0).tolist()
    [6, 0]
    """
    otherwise = np.array([fill], dtype=values.dtype)
    if len(values) <= len(places):
        filled: NDArray[Cell] = np.append(values, otherwise)[places]
        return filled
    found: NDArray[Cell] = values[places]  # not put behind all values, which may be many
    found[places < 0] = otherwise
    return found


def _places(order: Ints) -> Ints:
    """Return at which place of an order each element stands."""
    places = np.empty(len(order), dtype=np.int64)
    places[order] = np.arange(len(order))
    return places
