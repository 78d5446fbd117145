"""What was known of units at many days at once: what ``Timeline.known`` says of one day."""

from collections.abc import Sequence

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import CHECKS, Check
from scoring.records import TEXT
from scoring.timeline.ages import days_on_the_shaft
from scoring.timeline.ages_over_time import Renewals, ServiceClock
from scoring.timeline.check_over_time import MISSING, at
from scoring.timeline.known import Known, Status
from scoring.timeline.order import number_of_unit_day
from scoring.timeline.other_orders import put_right
from scoring.timeline.timeline import Timeline
from scoring.timeline.unit_days import UnitDays
from scoring.timeline.unit_over_time import UnitOverTime, unit_over_time
from scoring.timeline.what_hanging_does import OF_SHAFT_AT_HOME, at_home_column

Ints = NDArray[np.int64]
Days = NDArray[np.datetime64]

IGNORED = ("unit_id", "walkdown_id", "check", "value", "standing")
"""Columns of ``Known.better_but_ignored``."""


NOT_SEEN, SEEN, REPORTED_CURED = (np.int8(status) for status in Status)

TEXT_THAT_TELLS_OF_THE_JOINT = "screw_thread"
"""The one text of the nameplate from which anything is worked out."""


def states_over_time(
    timeline: Timeline,
    place: Ints,
    day: Days,
    *,
    symptom_lag_days: int = 0,
    only: Sequence[Check] | None = None,
) -> Known:
    """Return what was known of units in service by the end of days, one row for each asked pair.

    Parameters
    ----------
    timeline : Timeline
        The records.
    place : ndarray of int, shape (n_rows,)
        The unit, as its place in ``Fleet.units``; units may come again and again.
    day : ndarray of datetime64[D], shape (n_rows,)
        The day.
    symptom_lag_days : int
        For how long after it was seen a symptom, good or bad, is not yet known, at least 0. A
        standing leak is known at once as ``leak_since``. [d]
    only : sequence of Check, optional
        What is asked for, where it is what was found of these checks alone: then nothing is said
        of when it was seen, nor of what hazards do not rest on (names, dates and ages but the
        joint's).

    Returns
    -------
    Known
        Rows as asked; ``as_of`` is the latest day, and ``better_but_ignored`` is empty.

    Raises
    ------
    ValueError
        If a unit is asked for on a day on which it is not in service.
    """
    place, day = np.asarray(place, np.int64), np.asarray(day, "datetime64[D]")
    _refuse_out_of_service(timeline.fleet.units, place, day)
    number, checks = number_of_unit_day(place, day), CHECKS if only is None else only
    in_order = bool((number[1:] >= number[:-1]).all())
    order = np.arange(len(place)) if in_order else np.argsort(number, kind="stable")
    unit_days = UnitDays(place[order], day[order])
    rows = unit_over_time(timeline, unit_days, symptom_lag_days, checks)
    put_right(rows, timeline, unit_days, symptom_lag_days, checks)
    if not in_order:
        back = np.empty(len(order), dtype=np.int64)
        back[order] = np.arange(len(order))
        rows = rows.take(back)
    return _as_known(timeline, place, day, rows, dated=only is None)


def _refuse_out_of_service(units: pd.DataFrame, place: Ints, day: Days) -> None:
    hung = units["installed_on"].to_numpy().astype("datetime64[D]")[place]
    left = units["out_of_service_on"].to_numpy().astype("datetime64[D]")[place]
    wrong = np.flatnonzero((day < hung) | (day >= left))
    if len(wrong):
        first = wrong[0]
        raise ValueError(f"unit {units['unit_id'].iloc[place[first]]} on {day[first]}: no service")


def _as_known(
    timeline: Timeline, place: Ints, day: Days, rows: UnitOverTime, *, dated: bool
) -> Known:
    """Lay out what stands as the frames that everything after the timeline works on."""
    of_table, recorded = timeline.records.of_table, timeline.records.day
    found, exceedance, status, seen_on = {}, {}, {}, {}
    if dated:
        day_of_row = np.concatenate([recorded[of_table[of]] for of in ("walkdowns", "events")])
    for name, check in rows.checks.items():
        row, cured = check.row, ~np.isnat(check.cured_on)
        said, bad = timeline.said_and_found(name)
        found[name] = pd.Series(pd.api.extensions.take(said, row, allow_fill=True))
        exceedance[name] = at(bad, row, np.nan)
        status[name] = np.where(row >= 0, SEEN, np.where(cured, REPORTED_CURED, NOT_SEEN))
        if dated:
            day_of = np.where(row >= 0, at(day_of_row, row, MISSING), check.cured_on)
            seen_on[name] = day_of.astype("datetime64[s]")
    units = timeline.fleet.units
    return Known(
        as_of=pd.Timestamp(day.max()) if len(day) else pd.NaT,  # type: ignore[arg-type]
        units=_units_at(units, place) if dated else _plates_at(units, place),
        place=place,
        found=pd.DataFrame(found, copy=False),
        exceedance=pd.DataFrame(exceedance, copy=False),
        status=pd.DataFrame(status, copy=False),
        seen_on=pd.DataFrame(seen_on, copy=False),
        history=_history(timeline, place, day, rows, dated=dated),
        better_but_ignored=pd.DataFrame(columns=list(IGNORED)),
    )


def _units_at(units: pd.DataFrame, place: Ints) -> pd.DataFrame:
    return units.iloc[place].reset_index(drop=True)


def _plates_at(units: pd.DataFrame, place: Ints) -> pd.DataFrame:
    """Return the numbers and choices of the nameplates, without names and dates."""
    first, end = (int(place.min()), int(place.max()) + 1) if len(place) else (0, 0)
    some = units.iloc[first:end]  # not all of a large fleet for a part of it
    plates = some.select_dtypes(["number", "category"])
    plates = plates.assign(**{TEXT_THAT_TELLS_OF_THE_JOINT: some[TEXT_THAT_TELLS_OF_THE_JOINT]})
    return _units_at(plates, place - first)


def _history(
    timeline: Timeline, place: Ints, day: Days, rows: UnitOverTime, *, dated: bool
) -> pd.DataFrame:
    units = timeline.fleet.units
    hung = units["installed_on"].to_numpy().astype("datetime64[D]")[place]
    hung_on = np.where(np.isnat(rows.hung_anew_on), hung, rows.hung_anew_on)
    of_the_joint = {
        "crew": pd.Series(rows.crew, dtype=TEXT),
        "hung_on": hung_on.astype("datetime64[s]"),
        "joint_age_days": days_on_the_shaft(units, place, hung_on, day),
    }
    if not dated:
        return pd.DataFrame(of_the_joint)
    clock = ServiceClock(units)
    started = units["started_on"].fillna(units["installed_on"])
    recorded_from = units["failures_recorded_from"].fillna(started)
    return pd.DataFrame(
        {
            "crew": of_the_joint["crew"],
            "hung_on": of_the_joint["hung_on"],
            "bearing_age_days": Renewals(timeline, clock, "bearing").age(place, day),
            "seal_age_days": Renewals(timeline, clock, "seal").age(place, day),
            "joint_age_days": of_the_joint["joint_age_days"],
            "leak_since": rows.leak_since.astype("datetime64[s]"),
            "failures_recorded_from": recorded_from.to_numpy()[place],
            **{at_home_column(name): rows.checks[name].at_home for name in OF_SHAFT_AT_HOME},
        }
    )
