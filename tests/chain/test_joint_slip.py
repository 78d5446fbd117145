"""A joint that slips: what feeds its chance, what ends a slip, and what slips on record teach."""

import numpy as np
import pandas as pd
import pytest
from fleets import Book
from looked_at_units import AS_OF, Unit, assess_units, chance

from scoring.assessment import FleetAssessor
from scoring.contract.events import JOINT_SLIP
from scoring.contract.mountings import CLAMPED, EVERY_MOUNTING, KEYED_BORE, TAPERED_BUSHING
from scoring.learning.covariates import PARTS

LEVEL = PARTS.index("level")
DISC = {"mounting": "shrink_disc", "required_engagement_mm": 160}
SHORT = {"engagement_mm": 150}


def slips(units):
    return chance(assess_units(units), JOINT_SLIP)


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_the_chance_is_never_none_and_lies_within_its_interval(mounting):
    units = [Unit({"mounting": mounting}), Unit({"mounting": mounting, "peak_factor": 1})]
    risk = assess_units(units).risk.modes[JOINT_SLIP]
    assert (risk.low > 0).all()
    assert (risk.low < risk.probability).all()
    assert (risk.probability < risk.high).all()
    assert (risk.high < 1).all()


def test_a_worse_key_slips_more_and_renewing_a_missing_one_avoids_loss():
    plate = {"mounting": KEYED_BORE}
    words = ("right", "loose", "short", "missing")
    units = [Unit(plate, {"key_condition": word}) for word in words]
    cured = Unit(plate, {"key_condition": "missing"}, "renew_key")
    assessment = assess_units([*units, cured])
    p = chance(assessment, JOINT_SLIP)
    assert (np.diff(p[:4]) > 0).all()
    assert p[3] > 20 * p[0]
    assert p[0] < p[4] < 0.3 * p[3]
    saved = -np.diff(assessment.risk.expected_loss[[3, 4]])[0]
    assert saved > 0.5 * (p[3] - p[4]) * assessment.risk.costs.of_failure(JOINT_SLIP)[3]


@pytest.mark.parametrize("mounting", [KEYED_BORE, "shrink_disc_support_bushings"])
def test_what_holds_it_along_the_shaft_feeds_it(mounting):
    plate = {"mounting": mounting}
    p = slips([Unit(plate, {"retention": word}) for word in ("tight", "loose", "missing")])
    assert (np.diff(p) > 0).all()


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_a_worn_seat_feeds_it(mounting):
    plate = {"mounting": mounting}
    p = slips([Unit(plate, {"shaft_seat": word}) for word in ("sound", "fretted", "worn")])
    assert p[0] < p[1] < p[2]
    if mounting == KEYED_BORE:
        assert p[2] == pytest.approx(4 * p[0], rel=0.05)
    else:  # through the grip that it takes
        assert p[2] > 2 * p[0]


def test_where_grip_cannot_be_relied_on_it_is_that_of_the_worst_state_and_margin_is_blank():
    much = {**DISC, "joint_rated_torque_nm": 60_000}
    little = {**DISC, "joint_rated_torque_nm": 100}
    assessment = assess_units([Unit(plate, SHORT) for plate in (DISC, much, little)])
    p = chance(assessment, JOINT_SLIP)
    assert not assessment.consequences.grip.relied_on.any()
    assert np.isnan(assessment.consequences.grip.margin).all()
    assert p == pytest.approx(np.full(3, p[0]), rel=0.05)
    every = [{"bore_condition": "antiseize_or_grease"}, {"torque_passes": 0}, {"disc_offset_mm": 5}]
    assert p[0] >= slips([Unit(little, one) for one in every]).max()


@pytest.mark.parametrize("mounting", CLAMPED)
def test_more_torque_never_lowers_it_nor_a_greater_rating_raises_it(mounting):
    plate = {"mounting": mounting, "joint_rated_torque_nm": 6000, "peak_factor": 2}
    torques = slips([Unit({**plate, "output_torque_nm": t}) for t in range(500, 9000, 500)])
    assert (np.diff(torques) > 0).all()
    ratings = slips(
        [
            Unit({**plate, "output_torque_nm": 2000, "joint_rated_torque_nm": r})
            for r in range(1000, 20_000, 1000)
        ]
    )
    assert (np.diff(ratings) < 0).all()


def test_a_margin_below_one_is_no_slip_that_is_certain():
    """Summed over a plant it would be many times the slips on record."""
    plate = {"mounting": TAPERED_BUSHING, "output_torque_nm": 4000, "peak_factor": 2}
    weak, usual = slips([Unit({**plate, "joint_rated_torque_nm": r}) for r in (6400, 14_400)])
    assert 1.5 * usual < weak < 0.05


def test_what_has_run_for_years_is_trusted_more():
    weak = {"mounting": TAPERED_BUSHING, "output_torque_nm": 4000, "joint_rated_torque_nm": 2000}
    new, old = slips([Unit({**weak, "installed_on": day}) for day in ("2025-10-01", "2010-10-01")])
    assert old < new


# What a walkdown or an event tells of a slip

MOVED = {"witness_mark": "moved"}


def book(**cells):
    return Book().unit(slips_recorded_from="2024-01-01", **cells)


def of_the_day(some: Book, day="2026-01-01"):
    return FleetAssessor(some.fleet()).assess(pd.Timestamp(day)).risk.modes[JOINT_SLIP]


def test_a_moved_mark_is_a_slip_that_stands_until_the_seat_was_seen():
    moved = book().look("2024-06-01", kind="periodic", **MOVED)
    assert of_the_day(moved, "2024-05-31").probability[0] < 0.1
    standing = of_the_day(moved)
    assert (standing.probability[0], standing.low[0], standing.high[0]) == (1, 1, 1)
    seen = moved.reworked("2024-08-01", "clean_and_refit").look("2024-08-02", shaft_seat="fretted")
    assert of_the_day(seen).probability[0] < 0.1


def slip_rows(some: Book, day="2026-01-01"):
    return FleetAssessor(some.fleet()).failure_rows(pd.Timestamp(day)).modes[JOINT_SLIP]


def test_it_is_one_slip_however_often_it_is_told():
    told = (
        book()
        .look("2024-06-01", kind="periodic", **MOVED)
        .look("2024-07-01", kind="periodic", **MOVED)
        .failed("2024-08-01", JOINT_SLIP)
    )
    rows = slip_rows(told)
    assert rows.events[:, -1].sum() == 1
    # from the first of July to the event the joint had slipped already
    assert rows.years.sum() == pytest.approx((152 + 518) / 365.25, abs=2 / 365.25)


def test_slips_count_only_where_and_since_when_they_are_written_down():
    silent = Book().unit(failures_recorded_from="2024-01-01").failed("2024-08-01", JOINT_SLIP)
    assert slip_rows(silent).years.sum() == 0
    late = Book().unit(slips_recorded_from="2025-01-01").failed("2024-08-01", JOINT_SLIP)
    rows = slip_rows(late)
    assert rows.events[:, -1].sum() == 0
    assert rows.years.sum() == pytest.approx(1, abs=0.01)


def fleet_with_slips(number, recorded="2024-01-01"):
    some = Book()
    for n in range(40):
        some.unit(f"U{n}", slips_recorded_from=recorded, failures_recorded_from="2024-01-01")
        some.look("2024-01-02", f"U{n}", bore_condition="oil_film" if n % 4 == 0 else "clean_dry")
    for n in range(number):
        some.failed("2025-06-01", JOINT_SLIP, f"U{4 * n}")
    return some


def learned_from(some: Book):
    assessor = FleetAssessor(some.fleet())
    learning = assessor.learn(AS_OF)
    return assessor.assess(AS_OF, learning=learning), learning.basis[JOINT_SLIP]


def test_two_slips_teach_the_level_and_nothing_else():
    assessment, basis = learned_from(fleet_with_slips(2))
    assert basis.used
    assert basis.learned.posterior.events == 2
    parts = assessment.risk.modes[JOINT_SLIP].correction.parts
    assert np.ptp(parts, axis=0).max() == 0
    assert (np.delete(parts, LEVEL, axis=1) == 0).all()
    assert (parts[:, LEVEL] > 0).all()
    # how unsure it leaves the level: within a factor of some two and a half, nine times in ten
    known_within = np.exp(1.645 * np.sqrt(basis.learned.posterior.laplace[0, 0]))
    assert 2 < known_within < 3.5


def test_more_slips_on_record_never_lower_a_chance():
    """At the units that stay as they are: none, one, two, three slips elsewhere."""
    stay = np.arange(20, 40)
    levels = [
        learned_from(fleet_with_slips(n))[0].risk.modes[JOINT_SLIP].expected[stay] for n in range(4)
    ]
    assert (np.diff(levels, axis=0) > 0).all()


def test_where_slips_are_not_written_down_the_handbook_stands_alone():
    assessment, basis = learned_from(fleet_with_slips(3, recorded=""))
    assert basis.learned is None
    assert "slips_recorded_from" in basis.why
    alone = FleetAssessor(fleet_with_slips(3, recorded="").fleet()).assess(AS_OF)
    for what in ("expected", "probability", "low", "high"):
        one, other = (getattr(a.risk.modes[JOINT_SLIP], what) for a in (alone, assessment))
        np.testing.assert_array_equal(one, other)


def test_a_slip_costs_what_the_unit_says():
    plate = {"mounting": KEYED_BORE, "slip_repair_cost": 5000, "slip_repair_h": 0}
    dear, cheap = Unit(plate), Unit({**plate, "slip_repair_cost": 1000})
    assessment = assess_units([dear, cheap])
    more = 4000 * chance(assessment, JOINT_SLIP)[0]
    assert -np.diff(assessment.risk.expected_loss)[0] == pytest.approx(more)
