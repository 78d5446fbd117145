"""The order of a unit's records.

Without times a day runs: failure, walkdown, re-work, walkdown after re-work; ties by natural
order of the id. Where every record of a unit's day has a time, the times decide first.
"""

import re
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract.walkdowns import AFTER_REWORK
from scoring.records import DAY_COLUMN, Fleet, timed

FAILURE, WALKDOWN, REWORK, WALKDOWN_AFTER_REWORK = range(4)

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
    unit_ids = pd.Index(fleet.units["unit_id"])
    parts = [_records_of(fleet, name, unit_ids) for name in _KEY]
    frame = pd.concat(parts, ignore_index=True)
    ends = np.cumsum([0] + [len(part) for part in parts])
    of_table = {
        name: slice(int(a), int(b)) for name, a, b in zip(_KEY, ends[:-1], ends[1:], strict=True)
    }
    day = frame["moment"].dt.normalize()
    second = np.zeros(len(frame), dtype=np.int64)
    if frame["timed"].any():
        all_timed = frame["timed"].groupby([frame["unit"], day], sort=False).transform("all")
        in_the_day = (frame["moment"] - day) // pd.Timedelta(seconds=1)
        second = in_the_day.where(all_timed, 0).to_numpy()
    keys = pd.DataFrame(
        {"unit": frame["unit"], "day": day, "second": second, "turn": frame["turn"]}
    )
    ids = pd.concat([fleet.table(name)[key] for name, key in _KEY.items()], ignore_index=True)
    keys["natural"] = _natural_order_of_ties(keys, ids)
    order = np.lexsort([keys[name] for name in reversed(keys.columns)])
    position = np.empty(len(order), dtype=np.int64)
    position[order] = np.arange(len(order))
    day_of = day.to_numpy().astype("datetime64[D]")
    written = frame["recorded_at"].to_numpy().astype("datetime64[D]")
    return Records(
        unit=frame["unit"].to_numpy(dtype=np.int64),
        day=day_of,
        known_from=np.fmax(day_of, written),
        timed=frame["timed"].to_numpy(dtype=bool),
        turn=frame["turn"].to_numpy(dtype=np.int64),
        position=position,
        record_at=order.astype(np.int64),
        of_table=of_table,
    )


def _records_of(fleet: Fleet, name: str, unit_ids: "pd.Index[str]") -> pd.DataFrame:
    table = fleet.table(name)
    day_column = DAY_COLUMN[name]
    if name == "walkdowns":
        again = (table["kind"] == AFTER_REWORK).to_numpy()
        turn = np.where(again, WALKDOWN_AFTER_REWORK, WALKDOWN)
    else:
        turn = np.full(len(table), FAILURE if name == "events" else REWORK)
    return pd.DataFrame(
        {
            "unit": unit_ids.get_indexer(pd.Index(table["unit_id"])),
            "moment": table[day_column].to_numpy(),
            "timed": table[timed(day_column)].to_numpy(),
            "recorded_at": table["recorded_at"].to_numpy(),
            "turn": turn,
        }
    )


def _natural_order_of_ties(keys: pd.DataFrame, ids: "pd.Series[str]") -> NDArray[np.int64]:
    """Rank the ids of records that nothing else puts in order; 0 for all others."""
    rank = np.zeros(len(keys), dtype=np.int64)
    tied = keys.duplicated(keep=False).to_numpy()
    if tied.any():
        distinct = sorted(set(ids[tied]), key=natural_key)
        place = pd.Series(range(len(distinct)), index=distinct)
        rank[tied] = place.loc[ids[tied]].to_numpy()
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
