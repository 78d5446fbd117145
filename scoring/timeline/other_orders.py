"""What stood of a unit while a record not yet written down left its day in another order."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from scoring.contract import CHECKS, Check
from scoring.timeline.order import number_of_unit_day
from scoring.timeline.timeline import Timeline
from scoring.timeline.unit_days import UnitDays
from scoring.timeline.unit_over_time import UnitOverTime, unit_over_time

Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]
Days = NDArray[np.datetime64]


def put_right(
    stands: UnitOverTime,
    timeline: Timeline,
    unit_days: UnitDays,
    symptom_lag_days: int,
    checks: Sequence[Check] = CHECKS,
) -> None:
    """Write what stood by the order of records as it was then over what they say in the end.

    Parameters
    ----------
    stands : UnitOverTime
        By the order in which all records stand; changes.
    timeline : Timeline
        The records.
    unit_days : UnitDays
        When it is asked.
    symptom_lag_days : int
        For how long a symptom is not yet used. [d]
    checks : sequence of Check
        Those that are asked for.

    Notes
    -----
    The order of a unit's records changes on few days; from one to the next it stays. First stretch
    by first stretch, then second by second: each unit is worked out anew from what was known by its
    end.
    """
    unit, since, until = timeline.other_orders
    if len(unit) == 0:
        return
    changes = _sorted_changes(unit, since, until)
    stretch = unit_days.last(changes.unit, changes.day)
    in_another = _in_a_span(changes, unit, since, until)
    asked = np.flatnonzero((stretch >= 0) & in_another[stretch])
    turn = stretch[asked] - np.searchsorted(changes.unit, unit_days.unit[asked])
    for one in np.unique(turn):  # as often as the unit with most changes has changes
        here = asked[turn == one]
        ends = np.full(len(timeline.fleet.units), np.datetime64("NaT", "D"))
        ends[unit_days.unit[here]] = changes.day[stretch[here] + 1]
        part, rows = _known_before(timeline, ends)
        place = np.cumsum(~np.isnat(ends)) - 1
        then = UnitDays(place[unit_days.unit[here]], unit_days.day[here])
        anew = unit_over_time(part, then, symptom_lag_days, checks)
        for check in anew.checks.values():
            check.row[:] = np.append(rows, -1)[check.row]
        stands.put(here, anew)


def _sorted_changes(unit: Ints, since: Days, until: Days) -> UnitDays:
    units, days = np.concatenate([unit, unit]), np.concatenate([since, until])
    _, place = np.unique(number_of_unit_day(units, days), return_index=True)
    return UnitDays(units[place], days[place])


def _in_a_span(changes: UnitDays, unit: Ints, since: Days, until: Days) -> Flags:
    """Tell for each change whether some span goes on after it."""
    step = np.zeros(len(changes.key), dtype=np.int64)
    np.add.at(step, np.searchsorted(changes.key, number_of_unit_day(unit, since)), 1)
    np.add.at(step, np.searchsorted(changes.key, number_of_unit_day(unit, until)), -1)
    return np.cumsum(step) > 0


def _known_before(timeline: Timeline, ends: Days) -> tuple[Timeline, Ints]:
    """Return the records of some units known before a day of each, and their rows in ``Looks``."""
    fleet, records = timeline.fleet, timeline.records
    kept = {
        name: np.flatnonzero(records.known_from[part] < ends[records.unit[part]])
        for name, part in records.of_table.items()
    }
    tables = {name: fleet.table(name).iloc[r].reset_index(drop=True) for name, r in kept.items()}
    units = fleet.units[~np.isnat(ends)].reset_index(drop=True)
    exceedance = timeline.exceedance.iloc[kept["walkdowns"]].reset_index(drop=True)
    rows = np.concatenate([kept["walkdowns"], kept["events"] + len(fleet.walkdowns)])
    return Timeline(replace(fleet, units=units, **tables), exceedance), rows
