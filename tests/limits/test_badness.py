"""How far a found value lies beyond what is good: each check by hand, and worse is never less."""

import numpy as np
import pytest
from fleets import Book, exceedance_by_look
from hypothesis import given
from hypothesis import strategies as st

from scoring.contract import CHECK_BY_NAME, CHECKS, Worse
from scoring.limits import walkdown_exceedance
from scoring.limits.exceedance import SMALLEST, exceedance_of
from scoring.limits.unit_limits import unit_limits

STATED = {
    "required_engagement_mm": "100",
    "screw_torque_nm": "200",
    "torque_passes_required": "4",
    "collar_gap_min_mm": "0.5",
    "collar_gap_max_mm": "1.5",
    "isolator_thickness_mm": "20",
    "shaft_tolerance": "h9",
}
BY_HAND = [  # found, and how far that is beyond what STATED asks for, or what is assumed
    ("engagement_mm", "100", 0),
    ("engagement_mm", "70", 30),
    ("engagement_mm", "130", 0),
    ("shaft_diameter_measured_mm", "80", 0),
    ("shaft_diameter_measured_mm", "79.926", 0),
    ("shaft_diameter_measured_mm", "79.916", 0.010),
    ("shaft_diameter_measured_mm", "80.02", 0.02),
    ("shaft_runout_mm", "0.25", 0),
    ("shaft_runout_mm", "0.4", 0.15),
    ("torque_passes", "4", 0),
    ("torque_passes", "1", 3),
    ("final_torque_nm", "190", 0),
    ("final_torque_nm", "180", 10),
    ("final_torque_nm", "210", 0),
    ("final_torque_nm", "215", 5),
    ("screws_low", "0", 0),
    ("screws_low", "2", 2),
    ("screws_missing", "1", 1),
    ("collar_gap_mm", "0.5", 0),
    ("collar_gap_mm", "0.25", 0.25),
    ("collar_gap_mm", "1.5", 0),
    ("collar_gap_mm", "2.5", 1),
    ("disc_offset_mm", "2", 0),
    ("disc_offset_mm", "5", 3),
    ("isolators_free", "2", 0),
    ("isolators_free", "1", 0),
    ("isolators_free", "0", 1),
    ("isolator_squeeze_mm", "3", 0),
    ("isolator_squeeze_mm", "4.5", 1.5),
    ("smallest_clearance_mm", "3", 0),
    ("smallest_clearance_mm", "0", 3),
    ("arm_misset_mm", "1", 0),
    ("arm_misset_mm", "3.5", 2.5),
    ("arm_angle_deg", "75", 0),
    ("arm_angle_deg", "60", 15),
    ("running_temperature_c", "90", 0),
    ("running_temperature_c", "97", 7),
    ("vibration_mm_s", "4.5", 0),
    ("vibration_mm_s", "7", 2.5),
    ("bore_condition", "clean_dry", 0),
    ("bore_condition", "dust_or_dirt", 1),
    ("bore_condition", "antiseize_or_grease", 3),
    ("oil_level", "high", 1),
    ("oil_level", "low", 2),
    ("guard", "missing", 1),
]


def exceedance(mounting, check, value, **cells):
    """Return how bad one value is at one unit."""
    book = Book().unit(mounting=mounting, **cells).look("2024-01-02", **{check: value})
    return exceedance_by_look(book.fleet())["W1", check]


def mounting_with(check):
    return CHECK_BY_NAME[check].mountings[0]


@pytest.mark.parametrize(("check", "value", "beyond"), BY_HAND)
def test_exceedance_by_hand(check, value, beyond):
    assert exceedance(mounting_with(check), check, value, **STATED) == pytest.approx(beyond)


@pytest.mark.parametrize(
    ("check", "value", "beyond"),
    [
        ("torque_passes", "1", 2),  # three are assumed
        ("collar_gap_mm", "0.75", 0.25),  # one to two millimetres are
        ("collar_gap_mm", "2.5", 0.5),
        ("isolator_squeeze_mm", "4", 0.25),  # 15 % of 25 mm
        ("engagement_mm", "60", 20),  # one diameter of 80 mm in a keyed bore
        ("engagement_mm", "80", 0),
    ],
)
def test_exceedance_by_hand_where_the_limit_is_assumed(check, value, beyond):
    assert exceedance(mounting_with(check), check, value) == pytest.approx(beyond)


def test_what_needs_a_limit_that_nobody_stated_is_seen_and_not_bad():
    assert exceedance("tapered_bushing", "final_torque_nm", "1") == 0


@pytest.mark.parametrize(
    ("mounting", "order", "beyond"),
    [
        ("tapered_bushing", "star", 0),
        ("tapered_bushing", "circular", 1),
        ("tapered_bushing", "no_order", 2),
        ("shrink_disc", "star", 1),
        ("shrink_disc", "circular", 0),
        ("shrink_disc", "no_order", 2),
        ("shrink_disc_support_bushings", "circular", 0),
    ],
)
def test_the_right_order_depends_on_the_mounting(mounting, order, beyond):
    assert exceedance(mounting, "tightening_order", order) == beyond


def test_what_was_not_seen_is_missing_and_not_good():
    book = Book().unit(mounting="keyed_bore").look("2024-01-02", guard="fitted")
    fleet = book.fleet()
    bad = walkdown_exceedance(fleet.walkdowns, unit_limits(fleet.units).table)
    assert list(bad.columns) == [check.name for check in CHECKS]
    assert bad.columns[bad.notna().to_numpy()[0]].tolist() == ["guard"]


@pytest.mark.parametrize(("over", "bad"), [(0.5, 0), (1.5, 1.5e-9)])
def test_a_rounding_of_the_arithmetic_is_no_finding(over, bad):
    fleet = Book().unit().look("2024-01-02", shaft_runout_mm="0.25").fleet()
    walkdowns = fleet.walkdowns.assign(shaft_runout_mm=0.25 + over * SMALLEST)
    found = walkdown_exceedance(walkdowns, unit_limits(fleet.units).table)
    assert found["shaft_runout_mm"].iloc[0] == pytest.approx(bad, rel=1e-6)


MORE_IS_WORSE = [check for check in CHECKS if check.worse is Worse.MORE]
LESS_IS_WORSE = [check for check in CHECKS if check.worse is Worse.LESS]
LIMITS = unit_limits(Book().unit(mounting="shrink_disc", **STATED).fleet().units).table


@pytest.mark.parametrize("check", [*MORE_IS_WORSE, *LESS_IS_WORSE], ids=lambda check: check.name)
@given(values=st.lists(st.floats(0, 500), min_size=2, max_size=20))
def test_a_worse_value_is_never_less_bad(check, values):
    ordered = np.sort(values) if check.worse is Worse.MORE else -np.sort(-np.array(values))
    bad = np.concatenate([exceedance_of(check, np.array([value]), LIMITS) for value in ordered])
    assert (np.diff(bad) >= 0).all()


@pytest.mark.parametrize("check", ["shaft_diameter_measured_mm", "collar_gap_mm"])
@given(away=st.floats(0.001, 50))
def test_outside_a_range_either_way_counts_alike(check, away):
    low, high = {"shaft_diameter_measured_mm": (79.926, 80), "collar_gap_mm": (0.5, 1.5)}[check]
    ends = np.array([low - away]), np.array([high + away])
    below, above = (exceedance_of(CHECK_BY_NAME[check], value, LIMITS) for value in ends)
    assert below == pytest.approx(above)
    assert below == pytest.approx([away])
