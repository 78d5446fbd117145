"""What stands of one check on many days."""

from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from scoring.contract import Check
from scoring.timeline.check_state import lasting_exceedance, outlasts_looks
from scoring.timeline.looks import Looks
from scoring.timeline.order import number_of_unit_day
from scoring.timeline.resets import Resets
from scoring.timeline.symptom_days import forgotten_from
from scoring.timeline.unit_days import NEVER, UnitDays
from scoring.timeline.worst_in_force import Spells, worst_in_force

Ints = NDArray[np.int64]
Days = NDArray[np.datetime64]
Cell = TypeVar("Cell", bound=np.generic)

MISSING = np.datetime64("NaT", "D")


@dataclass(frozen=True)
class CheckOverTime:
    """What stands of one check on each day.

    Attributes
    ----------
    row : ndarray of int, shape (n_unit_days,)
        The row of the table ``walkdowns`` whose value stands; -1 for none.
    cured_on : ndarray of datetime64[D], shape (n_unit_days,)
        When it was reported cured, where nobody has seen it since.
    """

    row: Ints
    cured_on: Days


def check_over_time(
    check: Check, looks: Looks, reported: Days, resets: Resets, unit_days: UnitDays
) -> CheckOverTime:
    """Return what stands of a check on each day.

    Parameters
    ----------
    check : Check
        The check.
    looks : Looks
        The walkdowns that saw it.
    reported : ndarray of datetime64[D], shape (n_looks,)
        From when on a look counts no more, as an event tells of the leak that it saw.
    resets : Resets
        What makes looks void.
    unit_days : UnitDays
        When it is asked.

    Returns
    -------
    CheckOverTime
    """
    voiding = resets.where(resets.void(check.name))
    void = unit_days.newest(voiding.unit, voiding.known_from)
    if outlasts_looks(check):
        until = np.minimum(void_from(looks, voiding), reported)
        rank = _places(np.lexsort([looks.position, lasting_exceedance(check, looks)]))
        look = worst_in_force(Spells(looks.unit, looks.known_from, until, rank), unit_days)
    else:
        look = unit_days.newest(looks.unit, looks.known_from)
        look[at(looks.position, look, -1) < at(voiding.position, void, -1)] = -1
    # Once seen again, a cure is no longer what is known, even where that look is forgotten.
    cured = (look < 0) & at(voiding.cures[check.name], void, fill=False)
    if check.symptom:
        gone = at(forgotten_from(looks.day), look, NEVER) <= unit_days.day
        look[gone & (at(lasting_exceedance(check, looks), look, 0.0) == 0)] = -1
    cured_on = np.where(cured, at(voiding.day, void, MISSING), MISSING)
    return CheckOverTime(at(looks.row, look, -1), cured_on)


def void_from(looks: Looks, voiding: Resets | Looks) -> Days:
    """Return the day from which each look is known to be void.

    Parameters
    ----------
    looks : Looks
        Looks at a check.
    voiding : Resets or Looks
        What makes earlier looks void, in the order in which it happened.

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
    following = np.searchsorted(voiding.position, looks.position, side="right")
    own = np.append(voiding.unit, -1)[following] == looks.unit
    first_day = number_of_unit_day(looks.unit[own], np.zeros(int(own.sum()), "datetime64[D]"))
    until[own] = (soonest[following[own]] - first_day).astype("datetime64[D]")
    return until


def at(values: NDArray[Cell], places: Ints, fill: object) -> NDArray[Cell]:
    """Return the values at some places, and ``fill`` where a place is -1.

    Examples
    --------
    >>> at(np.array([5, 6]), np.array([1, -1]), 0).tolist()
    [6, 0]
    """
    filled: NDArray[Cell] = np.append(values, np.array([fill], dtype=values.dtype))
    return filled[places]


def _places(order: Ints) -> Ints:
    """Return at which place of an order each element stands."""
    places = np.empty(len(order), dtype=np.int64)
    places[order] = np.arange(len(order))
    return places
