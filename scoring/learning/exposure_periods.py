"""Rows from which failures can be explained: one for each stretch in which nothing known changed.

A row runs from the day after ``start_on`` to the end of ``stop_on``. What explains a failure within
it is what was known by the end of ``start_on``; so what is learned on a day counts from the next.
"""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract.events import JOINT_SLIP, MODES
from scoring.learning.exposure_cuts import (
    SYMPTOM_LAG_DAYS,
    starts_of_periods,
)
from scoring.learning.exposure_failures import Failures, failures_recorded
from scoring.records import DAYS_PER_YEAR
from scoring.timeline import Known, Timeline
from scoring.timeline.ages import days_on_the_shaft
from scoring.timeline.ages_over_time import PARTS, Renewals, ServiceClock
from scoring.timeline.check_over_time import MISSING, at
from scoring.timeline.states_over_time import states_over_time
from scoring.timeline.unit_days import UnitDays

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Days = NDArray[np.datetime64]


def at_risk_of(mode: str) -> str:
    """Name the column that says whether a unit is at risk of a failure that is written down.

    Examples
    --------
    >>> at_risk_of("seal_leak")
    'seal_leak_at_risk'
    """
    return f"{mode}_at_risk"


@dataclass(frozen=True)
class ExposurePeriods:
    """Stretches of units' lives, and the failures that ended some of them.

    Attributes
    ----------
    rows : DataFrame, shape (n_rows, 16)
        By unit and then by day: ``place`` in ``Fleet.units``; ``start_on`` and ``stop_on``;
        ``exposure_years`` [year]; ``bearing_age_start_days``, ``bearing_age_stop_days``,
        ``seal_age_start_days`` and ``seal_age_stop_days`` in service, over all shafts of a
        reducer, ``joint_age_start_days`` and ``joint_age_stop_days`` since it was hung [d]; for
        each of ``MODES`` the failures (0 or 1), which fall on ``stop_on``, and in the column of
        ``at_risk_of`` whether one would be written down: false while a leak or a slip stands.
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
            One of ``MODES``.

        Returns
        -------
        ndarray of float, shape (n_rows,)
            0 where such a failure stands already, or is not written down. [year]
        """
        return np.where(self.rows[at_risk_of(mode)], self.rows["exposure_years"], 0.0)

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
    timeline: Timeline,
    as_of: pd.Timestamp,
    also_on: Days | None = None,
    *,
    are_kept: bool | None = None,
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
    are_kept : bool, optional
        Whether failures are written down in the fleet of which these are some units; by default
        told by these units.

    Returns
    -------
    ExposurePeriods
        Without rows where failures are not kept.

    Notes
    -----
    A unit is observed after the later of its first run and the day since when its failures, or its
    slips, are written down, up to and with its last day in service or the day asked for. A failure
    on the day of entry has no time at risk before it and does not count, nor does one earlier; what
    they renewed is new. A failure on the last day counts. A leak seen dripping is a failure of that
    day; while it stands, and on the day on which the seal is renewed, no other leak counts.
    """
    as_of = as_of.normalize()
    kept = failures_are_kept(timeline, as_of) if are_kept is None else are_kept
    entries, leave = _observed(timeline, as_of, kept=kept)
    entry = np.minimum(*entries.values())
    failures = failures_recorded(timeline, as_of)
    clock = ServiceClock(timeline.fleet.units)
    ages = {part: Renewals(timeline, clock, part) for part in PARTS}
    besides = np.array([], "datetime64[D]") if also_on is None else also_on
    begins = [(np.arange(len(day)), day) for day in entries.values()]
    starts = starts_of_periods(
        timeline, failures, (entry, leave), list(ages.values()), begins, besides
    )
    following = np.append(starts.unit[1:] == starts.unit[:-1], False)[: len(starts.unit)]
    stop = np.where(following, np.roll(starts.day, -1), leave[starts.unit])
    days = (stop - starts.day) / np.timedelta64(1, "D")
    columns: dict[str, NDArray[np.generic]] = {
        "place": starts.unit,
        "start_on": starts.day.astype("datetime64[s]"),
        "stop_on": stop.astype("datetime64[s]"),
        "exposure_years": days / DAYS_PER_YEAR,
    }
    for part, renewals in ages.items():
        age = renewals.age(starts.unit, starts.day)
        columns |= {f"{part}_age_start_days": age, f"{part}_age_stop_days": age + days}
    hung = _hung_on(timeline, starts)
    age = days_on_the_shaft(timeline.fleet.units, starts.unit, hung, starts.day)
    columns |= {"joint_age_start_days": age, "joint_age_stop_days": age + days}
    failed = failed_on(UnitDays(starts.unit, stop), failures)
    are, slips_are = (starts.day >= entries[what][starts.unit] for what in ("failures", "slips"))
    at_risk = {
        mode: failures.at_risk(mode, starts) & (slips_are if mode == JOINT_SLIP else are)
        for mode in MODES
    }
    columns |= {mode: (failed[mode] & at_risk[mode]).astype(np.int8) for mode in MODES}
    columns |= {at_risk_of(mode): flags for mode, flags in at_risk.items()}
    return ExposurePeriods(pd.DataFrame(columns, copy=False), timeline)


def _hung_on(timeline: Timeline, starts: UnitDays) -> Days:
    """Return when each unit was hung last, as known by the end of a day."""
    hung = timeline.resets.where(timeline.resets.off_shaft)
    last = starts.newest(hung.unit, hung.known_from)
    first = timeline.fleet.units["installed_on"].to_numpy().astype("datetime64[D]")[starts.unit]
    anew = at(hung.day, last, MISSING)
    return np.where(np.isnat(anew), first, anew)


def failures_are_kept(timeline: Timeline, as_of: pd.Timestamp) -> bool:
    """Tell whether any failure was written down by a day, or since when they are."""
    part = timeline.records.of_table["events"]
    known = timeline.records.known_from[part] <= np.datetime64(as_of.date(), "D")
    since = timeline.fleet.units["failures_recorded_from"]
    return bool(known.any() or since.notna().any())


def _observed(
    timeline: Timeline, as_of: pd.Timestamp, *, kept: bool
) -> tuple[dict[str, Days], Days]:
    """Return the days after which failures and slips count, and the last on which they do."""
    units, today = timeline.fleet.units, np.datetime64(as_of.date(), "D")

    def days(column: "pd.Series[pd.Timestamp]") -> Days:
        return column.to_numpy().astype("datetime64[D]")

    started = days(units["started_on"].fillna(units["installed_on"]))
    entry = np.fmax(started, days(units["failures_recorded_from"]))
    leave = np.fmin(days(units["out_of_service_on"]), today)
    slips = days(units["slips_recorded_from"])
    never = np.maximum(leave, started)
    return {
        "failures": entry if kept else never,
        "slips": np.where(np.isnat(slips), never, np.fmax(started, slips)),
    }, leave


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
    return {mode: _among(ends.key, failures.of_mode[mode].key) for mode in MODES}


def _among(keys: Ints, few: Ints) -> Flags:
    """Tell which of some rising keys are among a few."""
    found: Flags = np.zeros(len(keys), dtype=bool)
    place = np.searchsorted(keys, few)
    here = place[place < len(keys)]
    found[here] = keys[here] == few[place < len(keys)]
    return found
