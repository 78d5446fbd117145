"""Rows of whole fleets against one unit on one day, assessed as a ranking of that day would."""

from dataclasses import replace
from datetime import date

import numpy as np
import pandas as pd
import pytest
from fleets import Book, timeline_of
from generated_fleets import AS_OF, failures_not_kept, generated_assessor, generated_book
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from naive_life import Day, life_of
from random_books import books
from scipy.integrate import quad

from scoring.assessment import FleetAssessor
from scoring.consequences import arm_restraint as arm_restraint_module
from scoring.consequences.arm_restraint import ArmsAsFound, arm_restraint
from scoring.consequences.nameplate import read_nameplates
from scoring.consequences.states_of_the_arm import UsualArms
from scoring.contract import CHECKS
from scoring.contract.events import MODES
from scoring.handbook import held_arm_effect
from scoring.handbook.base_rates import BASE_RATES
from scoring.handbook.unit_evidence import UnitEvidence
from scoring.learning import past_states as module
from scoring.learning.exposure_cuts import starts_of_states, starts_without_symptoms
from scoring.learning.exposure_periods import exposure_periods
from scoring.learning.failure_rows import FailureRows, failure_rows
from scoring.learning.past_states import PastStates
from scoring.limits import unit_limits
from scoring.risk.fleet_risk import FleetRisk, fleet_risk

FEW = settings(
    deadline=None,
    derandomize=True,
    max_examples=10,
    phases=(Phase.generate,),
    suppress_health_check=[HealthCheck.too_slow],
)
SYMPTOMS = [check.name for check in CHECKS if check.symptom]
SMALL = {"n_units": 30, "seed": 4}
FLOAT32 = 1e-6


@pytest.fixture(scope="module")
def assessor() -> FleetAssessor:
    return generated_assessor(**SMALL)


@pytest.fixture(scope="module")
def rows(assessor) -> FailureRows:
    return assessor.failure_rows(AS_OF)


def of_that_day(assessor, day: np.datetime64) -> tuple[np.ndarray, FleetRisk]:
    """Return the risk of units as of a day, symptoms of its last 30 days taken out."""
    fleet, when = assessor.fleet, pd.Timestamp(day)
    walkdowns = fleet.walkdowns.copy()
    late = when - walkdowns["inspected_on"].dt.normalize() < pd.Timedelta(days=30)
    for check in SYMPTOMS:
        walkdowns[check] = walkdowns[check].where(~late)
    then = FleetAssessor(replace(fleet, walkdowns=walkdowns))
    known = then.timeline.known(when)
    limits = then.limits.at(known.place)
    evidence = UnitEvidence.of(known, limits, assessor.prevalence(AS_OF))
    return known.place, fleet_risk(evidence, 365, {})


def lives(book: Book, as_of: date, kept_by: date) -> list[dict[date, Day]]:
    return [life_of(book, unit, as_of, kept_by) for unit in book.units]


def test_every_row_stands_on_what_a_ranking_of_its_first_day_would_say(assessor, rows):
    days, of_row = np.unique(rows.start_on, return_inverse=True)
    for place in np.random.default_rng(0).choice(len(days), 15, replace=False):
        units, risk = of_that_day(assessor, days[place])
        here = np.flatnonzero(of_row == place)
        at = np.searchsorted(units, rows.place[here])
        assert (units[at] == rows.place[here]).all()
        for mode in MODES:
            ours, plain = rows.modes[mode], risk.modes[mode]
            np.testing.assert_allclose(ours.log_base[here], plain.log_base[at], rtol=1e-12)
            logs = plain.multipliers.log_mean.to_numpy()[at]
            np.testing.assert_allclose(ours.state.log_multipliers[here], logs, atol=FLOAT32)


def test_expected_failures_are_the_hazard_summed_up_over_the_age_of_the_part(assessor, rows):
    seal_at_risk = lives(generated_book(**SMALL), AS_OF.date(), AS_OF.date())
    table = exposure_periods(assessor.timeline, AS_OF, rows.days[:-1]).rows
    for row in range(0, len(rows), 7):
        start = pd.Timestamp(rows.start_on[row])
        days = (rows.stop_on[row] - rows.start_on[row]) / np.timedelta64(1, "D")
        life = seal_at_risk[rows.place[row]][start.date() + pd.Timedelta(days=1)]
        for mode, part in zip(MODES, ("bearing", "seal", "joint"), strict=True):
            one, rate = rows.modes[mode], BASE_RATES[mode]
            name = "slip" if part == "joint" else part
            at_risk = getattr(life, f"{name}_at_risk")
            age = table[f"{part}_age_start_days"].iloc[row] / 365.25
            assert one.age_years[row] == age
            assert one.years[row] == pytest.approx(at_risk * days / 365.25)
            log_hazard = one.log_base[row] + sum(map(float, one.state.log_multipliers[row]))

            def hazard(year, rate=rate, at=log_hazard):
                return np.exp(at) * (year / rate.usual_age) ** (rate.age_slope - 1)

            expected = at_risk * quad(hazard, age, age + days / 365.25)[0]
            assert one.expected[row] == pytest.approx(expected, rel=1e-6)
            assert one.state.early[row] == (age < 91 / 365.25)


def test_rows_are_cut_at_the_days_and_know_between_which_they_lie(rows):
    for day in rows.days:
        assert not ((rows.start_on < day) & (day < rows.stop_on)).any()
    for row in range(0, len(rows), 5):
        before = [day for day in rows.days if day < rows.stop_on[row]]
        assert rows.period[row] == len(before)
    assert set(rows.period) == set(range(len(rows.days)))


def test_what_is_bad_is_a_finding_of_that_day(assessor, rows):
    known = exposure_periods(assessor.timeline, AS_OF, rows.days[:-1]).known()
    for mode in MODES:
        state = rows.modes[mode].state
        for column, check in enumerate(
            c.name for c in CHECKS if not c.symptom and c.name != "guard"
        ):
            bad = [-1 if np.isnan(b) else int(b > 0) for b in known.exceedance[check]]
            assert state.bad[:, column].tolist() == bad
        sites = [state.sites[site] for site in state.site]
        assert sites == assessor.fleet.units["site"].iloc[rows.place].tolist()


def assert_events_are_as_recorded(rows: FailureRows, book: Book) -> int:
    days = [pd.Timestamp(day).date() for day in rows.days]
    by_day = [lives(book, day, days[-1]) for day in days]
    counted = 0
    for row, (place, stop) in enumerate(zip(rows.place, rows.stop_on, strict=True)):
        last = [life[place].get(pd.Timestamp(stop).date()) for life in by_day]
        for mode, failed in zip(MODES, ("bearing_failed", "seal_failed", "slipped"), strict=True):
            reported = [day is not None and getattr(day, failed) for day in last]
            expected = [int(one and reported[-1]) for one in reported]
            assert rows.modes[mode].events[row].tolist() == expected
            counted += expected[-1]
    return counted


def test_failures_are_those_recorded_by_each_day(rows):
    book = generated_book(**SMALL)
    total = sum(int(rows.modes[mode].events[:, -1].sum()) for mode in MODES)
    assert assert_events_are_as_recorded(rows, book) == total > 0
    for mode in MODES:
        assert (np.diff(rows.modes[mode].events, axis=1) >= 0).all()


@FEW
@given(books(), st.lists(st.sampled_from((1, 2, 30, 365)), max_size=3, unique=True))
def test_so_are_those_of_random_records_written_down_late(drawn, back):
    book, as_of = drawn
    steps = sorted({0, *back}, reverse=True)
    days = np.datetime64(as_of, "D") - np.array(steps, dtype="timedelta64[D]")
    fleet = book.fleet()
    assessor = FleetAssessor(fleet)
    prevalence = assessor.prevalence(pd.Timestamp(as_of))
    timeline = timeline_of(fleet)
    past = PastStates(timeline, unit_limits(fleet.units))
    rows = failure_rows(timeline, past, prevalence, days)
    assert_events_are_as_recorded(rows, book)


@pytest.mark.parametrize("at_once", [97, 400])
def test_rows_prepared_in_parts_are_the_same(assessor, rows, monkeypatch, at_once):
    monkeypatch.setattr(module, "STATES_AT_ONCE", at_once)
    in_parts = FleetAssessor(assessor.fleet).failure_rows(AS_OF)
    for mode in MODES:
        whole, parts = rows.modes[mode].state, in_parts.modes[mode].state
        np.testing.assert_allclose(parts.log_multipliers, whole.log_multipliers, rtol=1e-6)
        assert (parts.bad == whole.bad).all()


def test_an_arm_that_comes_again_is_worked_out_once_and_as_if_alone(assessor, monkeypatch):
    periods = exposure_periods(assessor.timeline, AS_OF)
    known = periods.known()
    limits = assessor.limits.at(known.place)
    prevalence = assessor.prevalence(AS_OF)
    usual = prevalence.arms(prevalence.groups(known))
    once = arm_restraint(known, limits, usual)
    every = np.arange(len(known.place))
    monkeypatch.setattr(arm_restraint_module, "first_of_each", lambda *_: (every, every))
    alone = arm_restraint(known, limits, usual)
    for held in ("by_rubber", "by_metal"):
        ours, plain = getattr(once.arm, held), getattr(alone.arm, held)
        for what in ("added", "life", "hazard", "lip_runout"):
            mean = ours.mean(getattr(ours, what))[once.which]
            np.testing.assert_allclose(mean, plain.mean(getattr(plain, what)), rtol=1e-12)
    assert len(once.arm.own_loads) < 0.5 * len(known.place)


@FEW
@given(books())
def test_arms_as_found_are_held_as_each_is(drawn):
    """Bit for bit, though of those that float nothing is worked out."""
    book, as_of = drawn
    assessor, day = FleetAssessor(book.fleet()), pd.Timestamp(as_of)
    known = exposure_periods(assessor.timeline, day).known()
    limits, prevalence = assessor.limits.at(known.place), assessor.prevalence(day)
    as_found = ArmsAsFound(known, limits, read_nameplates(known.units))
    for usual in (prevalence.arms(prevalence.groups(known)), UsualArms()):
        expected, found = arm_restraint(known, limits, usual), as_found.restraint(usual)
        for mode in held_arm_effect.HARMS:
            mean = held_arm_effect.held_arm_mean(mode, found)
            assert (mean == held_arm_effect.held_arm_mean_and_square(mode, expected)[0]).all()
        floats = expected.share_held == 0
        assert (found.which[floats] == -1).all()
        assert (found.which_by_metal[floats] == -1).all()


def test_most_states_of_a_fleet_differ_in_symptoms_alone(assessor):
    every, some = (
        starts(assessor.timeline).key for starts in (starts_of_states, starts_without_symptoms)
    )
    assert np.isin(some, every).all()
    assert len(some) < 0.6 * len(every)


def test_where_failures_are_not_kept_there_are_no_rows():
    fleet = failures_not_kept(generated_book(**SMALL)).fleet()
    rows = FleetAssessor(fleet).failure_rows(AS_OF)
    assert len(rows) == 0
    for mode in MODES:
        assert len(rows.modes[mode].state) == len(rows.modes[mode].expected) == 0
