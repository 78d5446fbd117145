"""Time without failures lowers the level; risk never falls as failures rise."""

from dataclasses import replace
from functools import cache

import numpy as np
import pandas as pd
import pytest
from fleets import Book
from generated_fleets import AS_OF, generated_assessor, generated_book, no_failure_yet
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from rows_as_given import own_as_given

from scoring.assessment import FleetAssessor
from scoring.contract.events import MODES
from scoring.learning.covariates import PARTS
from scoring.learning.failure_rows import FailureRows
from scoring.learning.learned import LearnedMode, learn
from scoring.learning.own_failures import OwnFailures

N_UNITS = 60
FAILING = 2
"""Units of which each is let fail, one at a time."""


@cache
def quiet_book(seed: int) -> Book:
    return no_failure_yet(generated_book(N_UNITS, seed))


@cache
def quiet_rows(seed: int) -> FailureRows:
    return FleetAssessor(quiet_book(seed).fleet()).failure_rows(AS_OF)


def level(learned: LearnedMode) -> float:
    (of_level,) = np.flatnonzero(learned.columns.part_of_column == PARTS.index("level"))
    return float(learned.posterior.coefficients[of_level])


def with_failures(seed: int, unit: int, mode: str, failures: int) -> LearnedMode:
    """Learn with one unit failing on evenly spaced days of its time under observation."""
    book = quiet_book(seed)
    start, stop = observed(seed, unit)
    days = pd.date_range(start, stop, periods=failures + 2)[1:-1]
    events = [
        {"event_id": f"E{n}", "unit_id": book.units[unit]["unit_id"], "mode": mode}
        | {"occurred_on": day.strftime("%Y-%m-%d")}
        for n, day in enumerate(days)
    ]
    rows = FleetAssessor(replace(book, events=events).fleet()).failure_rows(AS_OF)
    assert rows.modes[mode].events[:, -1].sum() == failures
    return learn(rows).modes[mode]


def observed(seed: int, unit: int) -> tuple[np.datetime64, np.datetime64]:
    rows = quiet_rows(seed)
    own = rows.place == unit
    return rows.start_on[own].min(), rows.stop_on[own].max()


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_time_without_failures_lowers_the_level_and_the_fleet(seed, mode):
    rows = quiet_rows(seed)
    learned = learn(rows).modes[mode]
    state = rows.modes[mode].state
    assert learned.posterior.events == 0
    assert learned.posterior.expected > 0.5
    assert level(learned) < 0
    assert (learned.correct(state).log_ratio < 0).all()


@pytest.mark.parametrize("mode", MODES)
def test_more_time_without_failures_lowers_it_further(mode):
    rows = quiet_rows(1)
    levels = []
    for times in (1, 2, 5):
        modes = {
            m: replace(one, years=times * one.years, aged_years=times * one.aged_years)
            for m, one in own_as_given(rows).modes.items()
        }
        levels.append(level(learn(replace(rows, modes=modes)).modes[mode]))
    assert levels == sorted(levels, reverse=True)
    assert levels[-1] < levels[0] < 0


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("seed", [1, 2])
def test_none_one_two_failures_of_a_unit(seed, mode):
    """At the same states: a failure renews the part, so that a unit's own hazard may be lower."""
    rows = quiet_rows(seed)
    one = rows.modes[mode]
    spans = {unit: np.subtract(*observed(seed, unit)[::-1]) for unit in np.unique(rows.place)}
    for unit in sorted(spans, key=spans.get)[-FAILING:]:
        alike = one.state.where(np.flatnonzero(rows.place == unit)[-1:])
        expected = rows.tallies(N_UNITS)[mode].as_of(rows.days[-1]).expected[[unit]]
        reported = []
        for failures in range(3):
            learned = with_failures(seed, unit, mode, failures)
            own = OwnFailures(np.array([float(failures)]), expected).log_ratio
            states = one.state, alike, replace(alike, own=own)
            ratios = [learned.correct(state).log_ratio.mean() for state in states]
            reported.append([level(learned), *ratios])
        assert (np.diff(reported, axis=0) >= 0).all(), unit


@settings(
    deadline=None,
    derandomize=True,
    max_examples=10,
    suppress_health_check=[HealthCheck.too_slow],
)
@given(row=st.integers(0, 10_000), mode=st.sampled_from(MODES))
def test_none_one_two_failures_in_the_same_row_of_a_fleet_with_others(row, mode):
    """The rows stay as they are: then it holds of any row, whatever the rest."""
    rows = own_as_given(generated_assessor(N_UNITS, 4).failure_rows(AS_OF))
    one = rows.modes[mode]
    at_risk = np.flatnonzero(one.expected > 0)
    here = at_risk[[row % len(at_risk)]]
    ratios = []
    for failures in range(3):
        events = one.events.copy()
        events[here] = failures
        changed = replace(rows, modes={**rows.modes, mode: replace(one, events=events)})
        ratios.append(learn(changed).modes[mode].correct(one.state.where(here)).log_ratio[0])
    assert ratios[0] < ratios[1] < ratios[2]
