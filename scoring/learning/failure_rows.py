"""Failures beside what may explain them, one row for each stretch in which nothing changed."""

from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.nameplate import read_nameplates
from scoring.contract.events import MODES
from scoring.handbook.base_rates import BASE_RATES
from scoring.handbook.handbook_hazard import age_exposure, log_base
from scoring.handbook.multipliers import EFFECT_NAMES, USUAL_LOG_PRODUCTS, has_multiplier
from scoring.handbook.nameplate_columns import NameplateColumns, nameplate_columns
from scoring.handbook.prevalence import Prevalence
from scoring.learning.column_prior import ColumnPrior
from scoring.learning.covariates import (
    EARLY_LIFE_YEARS,
    LEVEL_ALONE,
    OLD_AGE_YEARS,
    PLAIN_CHECKS,
    State,
)
from scoring.learning.covariates_in_parts import RepeatedRows, repeated_rows
from scoring.learning.exposure_failures import failures_recorded
from scoring.learning.exposure_periods import ExposurePeriods, exposure_periods, failed_on
from scoring.learning.own_failures import FailureTally, OwnFailures, before_each_row
from scoring.learning.past_states import PastStates, bad_as_known
from scoring.records import DAYS_PER_YEAR
from scoring.timeline import Known, Timeline
from scoring.timeline.known import Status
from scoring.timeline.unit_days import UnitDays

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Counts = NDArray[np.int8]
Days = NDArray[np.datetime64]


@dataclass(frozen=True)
class RowsOfMode:
    """What one failure mode adds to the rows.

    Attributes
    ----------
    state : State
        What may explain failures; a unit's own failures are not in it yet.
    log_base : ndarray, shape (n_rows,)
        Logarithm of the handbook's rate without faults, at the usual age. [log 1/year]
    log_kind : ndarray, shape (n_rows,)
        Logarithm of the handbook's rate of its kind: with usual faults, and with usual load, duty
        and peak. [log 1/year]
    aged_years : ndarray, shape (n_rows,)
        Time at risk, weighted by how the hazard grows with age. [year]
    age_years : ndarray, shape (n_rows,)
        Age of the part at the start. [year]
    years : ndarray, shape (n_rows,)
        Time at risk. [year]
    events : ndarray of int, shape (n_rows, n_days)
        Failures as they had been recorded by each of ``days``.
    """

    state: State
    log_base: Floats
    log_kind: Floats
    aged_years: Floats
    age_years: Floats
    years: Floats
    events: Counts

    @cached_property
    def expected(self) -> Floats:
        """Failures [-] that the handbook expects in each row."""
        log_hazard = self.log_base + self.state.log_multipliers.sum(axis=1, dtype=np.float64)
        expected: Floats = np.exp(log_hazard) * self.aged_years
        return expected

    @cached_property
    def repeated(self) -> RepeatedRows:
        """What its rows share."""
        return repeated_rows(self.state)

    @property
    def expected_of_its_kind(self) -> Floats:
        """Failures [-] that the handbook expects in each row of a unit of its kind."""
        expected: Floats = np.exp(self.log_kind) * self.aged_years
        return expected

    def failures_by(self, by: int) -> Floats:
        """Return the failures [-] of each row, as recorded by one of the days."""
        failures: Floats = np.where(self.expected > 0, self.events[:, by], 0).astype(np.float64)
        return failures

    def state_by(self, place: Ints, by: int) -> State:
        """Return what may explain failures, each unit's own as recorded by one of the days.

        Parameters
        ----------
        place : ndarray of int, shape (n_rows,)
            The unit of each row.
        by : int
            Which day.

        Returns
        -------
        State
        """
        own = before_each_row(place, self.failures_by(by), self.expected_of_its_kind)
        return replace(self.state, own=own.log_ratio)


@dataclass(frozen=True)
class FailureRows:
    """Failures beside what may explain them.

    Attributes
    ----------
    days : ndarray of datetime64[D], shape (n_days,)
        Days as of which one may learn, rising; the last is the day of the rows.
    place : ndarray of int, shape (n_rows,)
        The unit, as its place in ``Fleet.units``; rows are sorted by unit and time.
    start_on, stop_on : ndarray of datetime64[D], shape (n_rows,)
        A row runs from the day after the first to the end of the second.
    period : ndarray of int, shape (n_rows,)
        Between which days a row lies: 0 up to and with the first of ``days``, and so on.
    modes : dict of str to RowsOfMode
        For each failure.
    others : dict of str to ColumnPrior
        What the failures of other plants say beforehand, for each failure where they say anything.
    """

    days: Days
    place: Ints
    start_on: Days
    stop_on: Days
    period: Ints
    modes: dict[str, RowsOfMode]
    others: dict[str, ColumnPrior] = field(default_factory=dict)

    def __len__(self) -> int:
        """Return the number of rows."""
        return len(self.place)

    def tallies(self, n_units: int) -> dict[str, FailureTally]:
        """Return failures and what was expected, to be counted up to any day.

        Parameters
        ----------
        n_units : int
            Units of the fleet.

        Returns
        -------
        dict of str to FailureTally
            For each failure.
        """
        return {
            mode: FailureTally(
                n_units,
                self.place,
                self.start_on,
                self.stop_on,
                one.failures_by(-1),
                one.expected_of_its_kind,
            )
            for mode, one in self.modes.items()
        }


def failure_rows(
    timeline: Timeline,
    past: PastStates,
    prevalence: Prevalence,
    days: Days,
    *,
    are_kept: bool | None = None,
) -> FailureRows:
    """Lay failures beside what was known before them.

    Parameters
    ----------
    timeline : Timeline
        The records.
    past : PastStates
        What was found of its units.
    prevalence : Prevalence
        How usual faults are where nobody has looked, as of the last day.
    days : ndarray of datetime64[D], shape (n_days,)
        Days as of which one may learn, rising. Nothing later than the last counts.
    are_kept : bool, optional
        As for ``exposure_periods``.

    Returns
    -------
    FailureRows
        No rows where failures are not kept, as known by the last of the days.
    """
    as_of = pd.Timestamp(days[-1])
    periods = exposure_periods(timeline, as_of, days[:-1], are_kept=are_kept)
    events = _events_by(timeline, periods, days)
    start_on, stop_on = (
        periods.rows[column].to_numpy().astype("datetime64[D]")
        for column in ("start_on", "stop_on")
    )
    period = np.searchsorted(days, stop_on)
    units = timeline.fleet.units
    plates = plates_of(units)
    base = {mode: log_base(units, plates[mode]) for mode in MODES}
    kind = {mode: log_kind(units, plates[mode], base[mode]) for mode in MODES}
    place = periods.rows["place"].to_numpy()
    states = _states(periods, past, prevalence, plates)
    modes = {}
    for mode in MODES:
        ages, years = _ages(mode, periods.rows), periods.exposure_years(mode)
        aged = aged_years(mode, periods)
        modes[mode] = RowsOfMode(
            states[mode], base[mode][place], kind[mode][place], aged, ages[0], years, events[mode]
        )
    return FailureRows(days, place, start_on, stop_on, period, modes)


def plates_of(units: pd.DataFrame) -> dict[str, NameplateColumns]:
    """Return the nameplates of units, as they shape each failure."""
    nameplate = read_nameplates(units)
    return {mode: nameplate_columns(mode, units, nameplate) for mode in MODES}


def log_kind(units: pd.DataFrame, plate: NameplateColumns, base: Floats) -> Floats:
    """Return the logarithm of the handbook's rate [log 1/year] of each unit's kind.

    With usual faults, and with usual load, duty and peak.
    """
    mounting = units["mounting"].cat.codes.to_numpy()
    usual: Floats = base + USUAL_LOG_PRODUCTS[plate.terms.mode][mounting]
    return usual - plate.log_of_harder_work


def aged_years(mode: str, periods: ExposurePeriods) -> Floats:
    """Return time at risk [year] of each row, weighted by how the hazard grows with age."""
    exposure = age_exposure(BASE_RATES[mode], *_ages(mode, periods.rows))
    return exposure * (periods.exposure_years(mode) > 0)


def state_now(
    log_multipliers: Floats,
    known: Known,
    ageing: tuple[Floats, Floats],
    own: OwnFailures,
    plate: NameplateColumns,
) -> State:
    """Return what may explain failures ahead of units as they are known.

    Parameters
    ----------
    log_multipliers : ndarray, shape (n_units, n_effects)
        Of the handbook. [-]
    known : Known
        What was known of the units.
    ageing : tuple of ndarray, shape (n_units,)
        For how much of the time ahead the part is in its early life, and for how much it is old,
        from ``shares_of_ages``. [-]
    own : OwnFailures
        What became of the units so far.
    plate : NameplateColumns
        Their nameplates, as they shape the failure.

    Returns
    -------
    State
    """
    sites = _sites(known.units)
    names = tuple(str(name) for name in sites.categories)
    bad = _bad_ahead(known)
    plates, unit = plate.over_usual, np.arange(len(bad))
    return State(log_multipliers, bad, sites.codes, names, *ageing, own.log_ratio, plates, unit)


def shares_of_ages(mode: str, age: Floats, end: Floats) -> tuple[Floats, Floats]:
    """Return for how much of a stretch a part is in its early life, and for how much it is old.

    Parameters
    ----------
    mode : str
        The failure.
    age, end : ndarray
        Age of the part at both ends. [year]

    Returns
    -------
    tuple of ndarray
        Shares of the time, weighted by how the handbook's hazard grows with age. [-]

    Examples
    --------
    >>> early, old = shares_of_ages("seal_leak", np.array([0.0, 3.0, 6.5]), np.array([0.1, 4, 7.5]))
    >>> early.tolist(), old.round(2).tolist()
    ([1.0, 0.0, 0.0], [0.0, 0.0, 0.5])
    """
    rate = BASE_RATES[mode]
    whole = age_exposure(rate, age, end)
    early = age_exposure(rate, age, np.clip(EARLY_LIFE_YEARS, age, end))
    old = age_exposure(rate, np.clip(OLD_AGE_YEARS, age, end), end)
    shares = (
        np.divide(part, whole, out=np.zeros_like(whole), where=whole > 0) for part in (early, old)
    )
    return next(shares), next(shares)


def _bad_ahead(known: Known) -> NDArray[np.int8] | Floats:
    """Return what is bad; of what hypothetical re-work would cure, the chance that it stays."""
    bad = bad_as_known(known)
    if known.hypothetical is None:
        return bad
    before, checks = bad_as_known(known.hypothetical.before), list(PLAIN_CHECKS)
    cured = (known.status[checks] == Status.REPORTED_CURED).to_numpy() & (before >= 0)
    success = known.hypothetical.success[checks].fillna(0.0).to_numpy()
    return np.where(cured, (1 - success) * before, bad)


def _sites(units: pd.DataFrame) -> pd.Categorical:
    return pd.Categorical(units["site"].astype(object))


def _events_by(timeline: Timeline, periods: ExposurePeriods, days: Days) -> dict[str, Counts]:
    """Count the failures of each row as recorded by each day, shape (n_rows, n_days)."""
    rows = periods.rows
    ends = UnitDays(rows["place"].to_numpy(), rows["stop_on"].to_numpy().astype("datetime64[D]"))
    by_day: dict[str, list[Counts]] = {mode: [] for mode in MODES}
    for day in days[:-1]:
        failed = failed_on(ends, failures_recorded(timeline, pd.Timestamp(day)))
        for mode in MODES:
            by_day[mode].append(failed[mode] * rows[mode].to_numpy())
    return {mode: np.stack([*by_day[mode], rows[mode].to_numpy()], axis=1) for mode in MODES}


def _states(
    periods: ExposurePeriods,
    past: PastStates,
    prevalence: Prevalence,
    plates: dict[str, NameplateColumns],
) -> dict[str, State]:
    """Lay out what may explain failures, some rows at a time, and kept small."""
    size = len(periods)
    bad = np.full((size, len(PLAIN_CHECKS)), -1, dtype=np.int8)
    logs = {mode: _room_for_logs(mode, size) for mode in MODES}
    place = periods.rows["place"].to_numpy()
    day = periods.rows["start_on"].to_numpy().astype("datetime64[D]")
    for some in past.of_rows(place, day, prevalence):
        bad[some.rows] = some.bad
        for mode in MODES:
            for columns in _filled(mode):
                logs[mode][some.rows, columns] = some.log_multipliers[mode][:, columns]
    sites = _sites(periods.timeline.fleet.units)
    site = sites.codes[place]
    names = tuple(str(name) for name in sites.categories)
    age = {mode: _ages(mode, periods.rows)[0] for mode in MODES}
    early = {mode: (age[mode] < EARLY_LIFE_YEARS).astype(np.float32) for mode in MODES}
    old = {mode: (age[mode] >= OLD_AGE_YEARS).astype(np.float32) for mode in MODES}
    return {
        mode: State(
            logs[mode],
            bad,
            site,
            names,
            early[mode],
            old[mode],
            np.zeros(size),
            plates[mode].over_usual,
            place,
        )
        for mode in MODES
    }


def _room_for_logs(mode: str, size: int) -> NDArray[np.float32]:
    """Make room for the multipliers of all effects, which takes memory only where it is filled."""
    if mode in LEVEL_ALONE:
        return np.zeros((len(EFFECT_NAMES), size), dtype=np.float32).T
    return np.empty((size, len(EFFECT_NAMES)), dtype=np.float32)


def _filled(mode: str) -> list[slice]:
    """Return the columns to fill: all, or the few that a failure has that is hardly learned of."""
    if mode not in LEVEL_ALONE:
        return [slice(None)]
    return [slice(n, n + 1) for n, name in enumerate(EFFECT_NAMES) if has_multiplier(name, mode)]


def _ages(mode: str, rows: pd.DataFrame) -> tuple[Floats, Floats]:
    """Return the age [year] of the part at both ends of each row."""
    part = BASE_RATES[mode].part
    start, stop = (
        rows[f"{part}_age_{end}_days"].to_numpy(dtype=np.float64) / DAYS_PER_YEAR
        for end in ("start", "stop")
    )
    return start, stop
