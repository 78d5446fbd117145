"""What was worked out for one day serves the next, and moves nothing of it."""

from collections.abc import Callable

import numpy as np
import pandas as pd
import pytest
from generated_fleets import AS_OF, generated_book
from hypothesis import HealthCheck, Phase, given, settings
from random_books import books

from scoring.assessment import FleetAssessor
from scoring.contract.events import MODES
from scoring.handbook.multipliers import log_mean_multipliers
from scoring.handbook.unit_evidence import UnitEvidence
from scoring.learning import past_states as module
from scoring.learning.exposure_periods import exposure_periods
from scoring.learning.failure_rows import FailureRows

FEW = settings(
    deadline=None,
    derandomize=True,
    max_examples=10,
    phases=(Phase.generate,),
    suppress_health_check=[HealthCheck.too_slow],
)
DAYS = [pd.Timestamp(day) for day in ("2026-05-02", "2024-02-29", "2026-06-29")]
DAY = pd.Timedelta(days=1)


@pytest.fixture
def asked_before() -> FleetAssessor:
    """Return an assessor that was asked for a later day than any other."""
    assessor = FleetAssessor(generated_book(60, 7).fleet())
    assessor.failure_rows(AS_OF)
    return assessor


def assert_same(ours: FailureRows, other: FailureRows) -> None:
    assert (ours.place == other.place).all()
    assert (ours.start_on == other.start_on).all()
    for mode in MODES:
        state, expected = ours.modes[mode].state, other.modes[mode].state
        assert (state.log_multipliers == expected.log_multipliers).all()
        assert (state.bad == expected.bad).all()
        assert (ours.modes[mode].expected == other.modes[mode].expected).all()


@pytest.mark.parametrize("day", DAYS)
def test_another_day_has_the_rows_that_it_has_alone(asked_before, day):
    assert_same(asked_before.failure_rows(day), FleetAssessor(asked_before.fleet).failure_rows(day))


@FEW
@given(books())
def test_so_it_has_whatever_was_written_down_late_and_whatever_was_asked_before(drawn):
    book, as_of = drawn
    fleet, last = book.fleet(), pd.Timestamp(as_of)
    assessor = FleetAssessor(fleet)
    for day in (last - 40 * DAY, last, last - 1 * DAY, last - 400 * DAY):
        assert_same(assessor.failure_rows(day), FleetAssessor(fleet).failure_rows(day))


@FEW
@given(books())
def test_every_row_is_what_was_known_on_its_day(drawn):
    book, as_of = drawn
    assessor, day = FleetAssessor(book.fleet()), pd.Timestamp(as_of)
    assessor.failure_rows(day)
    rows = assessor.failure_rows(day - 5 * DAY)
    periods = exposure_periods(assessor.timeline, day - 5 * DAY, rows.days[:-1])
    known = periods.known()
    limits, prevalence = assessor.limits.at(known.place), assessor.prevalence(day - 5 * DAY)
    found = log_mean_multipliers(UnitEvidence.of(known, limits, prevalence))
    for mode in MODES:
        logs = rows.modes[mode].state.log_multipliers
        np.testing.assert_allclose(logs, found[mode], rtol=1e-6, atol=1e-7)


def test_states_are_looked_up_once(asked_before, monkeypatch):
    monkeypatch.setattr(module, "states_over_time", _refused)
    for day in DAYS:
        asked_before.failure_rows(day)


def test_of_more_states_than_are_kept_the_rows_are_the_same(asked_before, monkeypatch):
    expected = asked_before.failure_rows(DAYS[0])
    monkeypatch.setattr(module, "STATES_KEPT", 10)
    assert_same(FleetAssessor(asked_before.fleet).failure_rows(DAYS[0]), expected)


def test_a_later_day_is_not_answered_by_what_an_earlier_one_knew(asked_before):
    early = FleetAssessor(asked_before.fleet)
    early.failure_rows(DAYS[1])
    assert_same(early.failure_rows(AS_OF), asked_before.failure_rows(AS_OF))


def _refused(*_: object, **__: object) -> Callable[[], None]:
    raise AssertionError("worked out again")
