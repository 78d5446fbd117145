"""Rows from which failures can be explained: one for each stretch in which nothing known changed.

A row runs from the day after ``start_on`` to the end of ``stop_on``. What explains a failure within
it is what was known by the end of ``start_on``; so what is learned on a day counts from the next.
"""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract.events import LOW_SPEED_BEARING, SEAL_LEAK
from scoring.learning.exposure_cuts import (
    SYMPTOM_LAG_DAYS,
    starts_of_periods,
)
from scoring.learning.exposure_failures import MODES, Failures, failures_recorded
from scoring.records import DAYS_PER_YEAR
from scoring.timeline import Known, Timeline
from scoring.timeline.ages_over_time import PARTS, Renewals, ServiceClock
from scoring.timeline.states_over_time import states_over_time
from scoring.timeline.unit_days import UnitDays

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Days = NDArray[np.datetime64]


@dataclass(frozen=True)
class ExposurePeriods:
    """Stretches of units' lives, and the failures that ended some of them.

    Attributes
    ----------
    rows : DataFrame, shape (n_rows, 11)
        By unit and then by day: ``place`` in ``Fleet.units``; ``start_on`` and ``stop_on``;
        ``exposure_years`` [year]; ``bearing_age_start_days``, ``bearing_age_stop_days``,
        ``seal_age_start_days`` and ``seal_age_stop_days`` in service, over all shafts of a
        reducer [d]; ``low_speed_bearing`` and ``seal_leak``, the failures (0 or 1), which fall on
        ``stop_on``; ``seal_is_at_risk``, false while a leak stands.
    timeline : Timeline
        The records.
    """

    rows: pd.DataFrame
    timeline: Timeline

    def __len__(self) -> int:
        """Return the number of rows."""
        return len(self.rows)

    def exposure_years(self, mode: str) -> Floats:
        """Return the time at risk of a failure in each row.

        Parameters
        ----------
        mode : str
            ``low_speed_bearing`` or ``seal_leak``.

        Returns
        -------
        ndarray of float, shape (n_rows,)
            0 for a seal that leaks already. [year]
        """
        years: Floats = self.rows["exposure_years"].to_numpy()
        if mode == SEAL_LEAK:
            return np.where(self.rows["seal_is_at_risk"], years, 0.0)
        return years

    def known(self, some: slice | Ints | Flags = slice(None)) -> Known:
        """Return what may explain failures in some of the rows.

        Parameters
        ----------
        some : slice or ndarray
            Which rows; a large fleet is better gone through in parts.

        Returns
        -------
        Known
            As known by the end of each row's ``start_on``, symptoms only when 30 days old.
        """
        place = self.rows["place"].to_numpy()[some]
        day = self.rows["start_on"].to_numpy()[some]
        return states_over_time(self.timeline, place, day, symptom_lag_days=SYMPTOM_LAG_DAYS)


def exposure_periods(
    timeline: Timeline, as_of: pd.Timestamp, also_on: Days | None = None
) -> ExposurePeriods:
    """Cut the life of every unit into stretches in which nothing known of it changed.

    Parameters
    ----------
    timeline : Timeline
        The records.
    as_of : Timestamp
        The day; what was written down later does not count.
    also_on : ndarray of datetime64[D], shape (n_days,), optional
        Days on which every row is cut besides, to tell what came before from what came after.

    Returns
    -------
    ExposurePeriods
        Without rows where failures are not kept.

    Notes
    -----
    A unit is observed after the later of its first run and the day since when its failures are
    written down, up to and with its last day in service or the day asked for. A failure on the
    day of entry has no time at risk before it and does not count, nor does one earlier; what they
    renewed is new. A failure on the last day counts. A leak seen dripping is a failure of that
    day; while it stands, and on the day on which the seal is renewed, no other leak counts.
    """
    as_of = as_of.normalize()
    entry, leave = _observed(timeline, as_of)
    failures = failures_recorded(timeline, as_of)
    clock = ServiceClock(timeline.fleet.units)
    ages = {part: Renewals(timeline, clock, part) for part in PARTS}
    besides = np.array([], "datetime64[D]") if also_on is None else also_on
    starts = starts_of_periods(timeline, failures, entry, leave, list(ages.values()), besides)
    following = np.append(starts.unit[1:] == starts.unit[:-1], False)[: len(starts.unit)]
    stop = np.where(following, np.roll(starts.day, -1), leave[starts.unit])
    days = (stop - starts.day) / np.timedelta64(1, "D")
    at_risk = failures.seal_is_at_risk(starts)
    columns: dict[str, NDArray[np.generic]] = {
        "place": starts.unit,
        "start_on": starts.day.astype("datetime64[s]"),
        "stop_on": stop.astype("datetime64[s]"),
        "exposure_years": days / DAYS_PER_YEAR,
    }
    for part, renewals in ages.items():
        age = renewals.age(starts.unit, starts.day)
        columns |= {f"{part}_age_start_days": age, f"{part}_age_stop_days": age + days}
    failed = failed_on(UnitDays(starts.unit, stop), failures)
    columns |= {
        LOW_SPEED_BEARING: failed[LOW_SPEED_BEARING].astype(np.int8),
        SEAL_LEAK: (failed[SEAL_LEAK] & at_risk).astype(np.int8),
        "seal_is_at_risk": at_risk,
    }
    return ExposurePeriods(pd.DataFrame(columns), timeline)


def _observed(timeline: Timeline, as_of: pd.Timestamp) -> tuple[Days, Days]:
    """Return the day after which, and the last day on which, each unit's failures count."""
    units, today = timeline.fleet.units, np.datetime64(as_of.date(), "D")

    def days(column: "pd.Series[pd.Timestamp]") -> Days:
        return column.to_numpy().astype("datetime64[D]")

    started = days(units["started_on"].fillna(units["installed_on"]))
    entry = np.fmax(started, days(units["failures_recorded_from"]))
    leave = np.fmin(days(units["out_of_service_on"]), today)
    known_events = timeline.records.known_from[timeline.records.of_table["events"]] <= today
    kept = bool(known_events.any() or units["failures_recorded_from"].notna().any())
    return entry, leave if kept else entry


def failed_on(ends: UnitDays, failures: Failures) -> dict[str, Flags]:
    """Tell for each row and mode whether a failure falls on its last day.

    Parameters
    ----------
    ends : UnitDays
        Unit and last day of each row.
    failures : Failures
        What failed.

    Returns
    -------
    dict of str to ndarray of bool, shape (n_rows,)
    """
    return {mode: np.isin(ends.key, failures.of_mode[mode].key) for mode in MODES}
