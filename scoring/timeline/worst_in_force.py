"""The worst of what is in force on each day, where each is in force from a day to a day."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.timeline.order import number_of_unit_day
from scoring.timeline.unit_days import UnitDays

Ints = NDArray[np.int64]
Days = NDArray[np.datetime64]


@dataclass(frozen=True)
class Spells:
    """What is in force from a day to the eve of another.

    Attributes
    ----------
    unit : ndarray of int, shape (n_spells,)
        Whose it is.
    since, until : ndarray of datetime64[D], shape (n_spells,)
        Its first day, and the first day on which it is in force no longer.
    rank : ndarray of int, shape (n_spells,)
        The highest in force counts; from 0 on, no two alike.
    """

    unit: Ints
    since: Days
    until: Days
    rank: Ints


def worst_in_force(spells: Spells, unit_days: UnitDays) -> Ints:
    """Return which spell has the highest rank of all in force on each day.

    Parameters
    ----------
    spells : Spells
        In any order.
    unit_days : UnitDays
        When it is asked.

    Returns
    -------
    ndarray of int, shape (n_unit_days,)
        Place among the spells; -1 where none is in force.

    Notes
    -----
    Spells of a unit that end on the same day form a group, in which the highest so far is a
    running maximum. On any day the groups that have not ended are compared; records written
    down in order leave one.

    Examples
    --------
    >>> days = np.array(["2024-01-01", "2024-02-01", "2024-03-01"], dtype="datetime64[D]")
    >>> spells = Spells(np.zeros(2, int), days[:2], days[[2, 2]], np.array([1, 0]))
    >>> worst_in_force(spells, UnitDays(np.zeros(3, int), days)).tolist()
    [0, 0, -1]
    """
    order = np.flatnonzero(spells.since < spells.until)
    if len(order) == 0:
        return np.full(len(unit_days.unit), -1, dtype=np.int64)
    ends = number_of_unit_day(spells.unit[order], spells.until[order])
    order = order[np.lexsort([spells.since[order], ends])]
    unit, since, until = spells.unit[order], spells.since[order], spells.until[order]
    changes = _changes(unit, since, until)
    highest = _highest(number_of_unit_day(unit, until), unit, since, spells.rank[order], changes)
    spell_of_rank = np.full(int(spells.rank.max()) + 1, -1, dtype=np.int64)
    spell_of_rank[spells.rank] = np.arange(len(spells.rank))
    winner = np.append(np.where(highest < 0, -1, spell_of_rank[highest]), -1)
    return winner[unit_days.last(changes.unit, changes.day)]


def _changes(unit: Ints, since: Days, until: Days) -> UnitDays:
    """Return the moments at which a spell begins or ends."""
    units, days = np.concatenate([unit, unit]), np.concatenate([since, until])
    _, place = np.unique(number_of_unit_day(units, days), return_index=True)
    return UnitDays(units[place], days[place])


def _highest(ends: Ints, unit: Ints, since: Days, rank: Ints, at: UnitDays) -> Ints:
    """Return the highest rank in force on some days, -1 for none; spells sorted by end."""
    group_start = np.flatnonzero(np.append(True, ends[1:] != ends[:-1]))
    group = np.repeat(np.arange(len(group_start)), np.diff(np.append(group_start, len(ends))))
    base = int(rank.max()) + 1
    so_far = np.maximum.accumulate(group * base + rank) - group * base
    begun = number_of_unit_day(group, since)
    highest = np.full(len(at.unit), -1, dtype=np.int64)
    asked = np.arange(len(at.unit))
    looked_at = np.searchsorted(ends[group_start], at.key, side="right")  # first to end later
    unit_of_group = np.append(unit[group_start], -1)
    while True:  # as often as the unit with most groups has groups
        own = unit_of_group[looked_at] == at.unit[asked]
        asked, looked_at = asked[own], looked_at[own]
        if len(asked) == 0:
            return highest
        last = np.searchsorted(begun, number_of_unit_day(looked_at, at.day[asked]), "right") - 1
        hit = (last >= 0) & (group[last] == looked_at)
        highest[asked[hit]] = np.maximum(highest[asked[hit]], so_far[last[hit]])
        looked_at = looked_at + 1
