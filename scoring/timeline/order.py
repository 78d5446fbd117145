"""The order of a unit's records.

Without times a day runs: failure, walkdown, re-work, walkdown after re-work; ties by natural
order of the id. Where every record of a unit's day has a time, the times decide first.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract.walkdowns import AFTER_REWORK
from scoring.records import DAY_COLUMN, Fleet, timed

FAILURE, WALKDOWN, REWORK, WALKDOWN_AFTER_REWORK = range(4)

N_TURNS = 4
"""How many turns a day has, of failure, walkdown, re-work, and walkdown after it. [-]"""

SECONDS_OF_A_DAY = 86_400
"""No day counted here has leap seconds. [s]"""

DAYS_APART = 1_000_000
"""Numbers of a unit's days lie so far from those of the next; no day is further from 1970 than
half of it. Ours. [d]"""

_KEY = {"events": "event_id", "walkdowns": "walkdown_id", "rework": "rework_id"}


@dataclass(frozen=True)
class Records:
    """Events, walkdowns and re-work of a fleet in one order.

    Attributes
    ----------
    unit : ndarray of int, shape (n_records,)
        Which unit, as its place in ``Fleet.units``.
    day : ndarray of datetime64[D], shape (n_records,)
        When it happened.
    known_from : ndarray of datetime64[D], shape (n_records,)
        From when on it is known: the later of its day and the day it was written down.
    timed : ndarray of bool, shape (n_records,)
        Whether it came with a time.
    turn : ndarray of int, shape (n_records,)
        FAILURE, WALKDOWN, REWORK or WALKDOWN_AFTER_REWORK.
    position : ndarray of int, shape (n_records,)
        Place in the order of all records, by unit and then in time.
    record_at : ndarray of int, shape (n_records,)
        The record at each position.
    of_table : dict of str to slice
        Where each table's records lie; within it they keep the order of the table.
    """

    unit: NDArray[np.int64]
    day: NDArray[np.datetime64]
    known_from: NDArray[np.datetime64]
    timed: NDArray[np.bool_]
    turn: NDArray[np.int64]
    position: NDArray[np.int64]
    record_at: NDArray[np.int64]
    of_table: dict[str, slice]

    @cached_property
    def walkdowns_in_order(self) -> NDArray[np.int64]:
        """Rows of the table ``walkdowns``, by ``position``."""
        return np.argsort(self.position[self.of_table["walkdowns"]])

    @property
    def unit_day(self) -> NDArray[np.int64]:
        """A number for each record's unit and day."""
        return number_of_unit_day(self.unit, self.day)


def number_of_unit_day(unit: NDArray[np.int64], day: NDArray[np.datetime64]) -> NDArray[np.int64]:
    """Return one number for each unit and day.

    Examples
    --------
    >>> number_of_unit_day(np.array([2]), np.array(["1970-01-03"], dtype="datetime64[D]")).tolist()
    [2000002]
    """
    return unit * DAYS_APART + day.astype("datetime64[D]").astype(np.int64)


def unit_and_day(
    number: NDArray[np.int64],
) -> tuple[NDArray[np.int64], NDArray[np.datetime64]]:
    """Return the unit and the day of which ``number_of_unit_day`` made a number.

    Examples
    --------
    >>> unit, day = unit_and_day(np.array([2000002, 2999999]))
    >>> unit.tolist(), day.astype(str).tolist()
    ([2, 3], ['1970-01-03', '1969-12-31'])
    """
    unit = (number + DAYS_APART // 2) // DAYS_APART
    return unit, (number - unit * DAYS_APART).astype("datetime64[D]")


def order_records(fleet: Fleet) -> Records:
    """Put all records of a fleet in order.

    Parameters
    ----------
    fleet : Fleet
        Checked tables.

    Returns
    -------
    Records
    """
    lengths = [len(fleet.table(name)) for name in _KEY]
    ends = np.cumsum([0, *lengths])
    of_table = {
        name: slice(int(a), int(b)) for name, a, b in zip(_KEY, ends[:-1], ends[1:], strict=True)
    }
    unit_ids = pd.Index(fleet.units["unit_id"])
    unit = _of_tables(lambda name: unit_ids.get_indexer(pd.Index(fleet.table(name)["unit_id"])))
    moment = _of_tables(lambda name: fleet.table(name)[DAY_COLUMN[name]].to_numpy())
    written = _of_tables(lambda name: fleet.table(name)["recorded_at"].to_numpy())
    has_time = _of_tables(lambda name: fleet.table(name)[timed(DAY_COLUMN[name])].to_numpy())
    turn = _of_tables(lambda name: _turns(fleet, name))
    day = moment.astype("datetime64[D]")
    unit_day = number_of_unit_day(unit, day)
    second = np.zeros(len(day), dtype=np.int64)
    if has_time.any():
        in_the_day = ((moment - day) // np.timedelta64(1, "s")).astype(np.int64)
        second = np.where(_all_timed(unit_day, has_time), in_the_day, 0)
    # A unit's day, the second in it, and the turn in that, as one number
    key = (unit_day * SECONDS_OF_A_DAY + second) * N_TURNS + turn
    order = np.argsort(key, kind="stable")
    in_order = key[order]
    tied = np.zeros(len(key), dtype=bool)
    same = np.flatnonzero(in_order[1:] == in_order[:-1])
    tied[order[same]] = tied[order[same + 1]] = True
    if len(same):
        order = np.lexsort([_natural_order_of_ties(fleet, of_table, tied), key])
    position = np.empty(len(order), dtype=np.int64)
    position[order] = np.arange(len(order))
    return Records(
        unit=unit,
        day=day,
        known_from=np.fmax(day, written.astype("datetime64[D]")),
        timed=has_time,
        turn=turn,
        position=position,
        record_at=order.astype(np.int64),
        of_table=of_table,
    )


def _of_tables(of_one: Callable[[str], NDArray[Any]]) -> NDArray[Any]:
    """Put together what is told of the records of each table."""
    return np.concatenate([of_one(name) for name in _KEY])


def _turns(fleet: Fleet, name: str) -> NDArray[np.int64]:
    table = fleet.table(name)
    if name == "walkdowns":
        again = (table["kind"] == AFTER_REWORK).to_numpy()
        return np.where(again, WALKDOWN_AFTER_REWORK, WALKDOWN).astype(np.int64)
    return np.full(len(table), FAILURE if name == "events" else REWORK, dtype=np.int64)


def _all_timed(unit_day: NDArray[np.int64], has_time: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Tell of which records all of that unit's day have a time."""
    place, distinct = pd.factorize(unit_day)
    all_timed = np.ones(len(distinct), dtype=bool)
    all_timed[place[~has_time]] = False
    return all_timed[place]


def _natural_order_of_ties(
    fleet: Fleet, of_table: dict[str, slice], tied: NDArray[np.bool_]
) -> NDArray[np.int64]:
    """Rank the ids of records that nothing else puts in order; 0 for all others."""
    rank = np.zeros(len(tied), dtype=np.int64)
    ids = np.concatenate(
        [
            fleet.table(name)[key].array[tied[of_table[name]]].to_numpy(dtype=object)
            for name, key in _KEY.items()
        ]
    )
    distinct = sorted(set(ids), key=natural_key)
    rank[tied] = pd.Index(distinct, dtype=object).get_indexer(pd.Index(ids, dtype=object))
    return rank


def natural_key(text: str) -> list[tuple[int, str]]:
    """Return a key that sorts numbers within text as numbers.

    Examples
    --------
    >>> sorted(["W10", "W9", "W09"], key=natural_key)
    ['W09', 'W9', 'W10']
    """
    parts = re.split(r"([0-9]+)", text)
    key = [(int(p), "") if p.isascii() and p.isdigit() else (-1, p) for p in parts if p]
    return [*key, (-2, text)]
