"""Slip margins from records, against a shrink disc worked out here from first principles."""

from math import atan, exp, log, pi, radians, sqrt, tan

import numpy as np
import pytest
from looked_at_units import Unit, assess_units

from scoring.contract.mountings import (
    CLAMPED,
    KEYED_BORE,
    SHRINK_DISC,
    SHRINK_DISC_SUPPORT_BUSHINGS,
    TAPERED_BUSHING,
)

SHAFT, HUB, LENGTH = 0.080, 0.100, 0.040
DRY, ANTISEIZE, STEEL = 0.15, 0.06, 206e9
RATED_PRESSURE = 160e6
RATED = DRY * pi * SHAFT**2 * LENGTH * RATED_PRESSURE / 2
BORE_MIDDLE = 80.015  # of class H7: 0 to +30 µm
PLATE = {
    "mounting": SHRINK_DISC,
    "hub_outer_mm": 100,
    "clamp_length_mm": 40,
    "shaft_low_mm": 79.946,
    "shaft_high_mm": 79.986,
    "joint_rated_torque_nm": round(RATED, 6),
    "output_torque_nm": 1500,
    "peak_factor": 3,
    "required_engagement_mm": 80,
    "screw_count": 8,
    "screw_torque_nm": 100,
    "torque_passes_required": 9,
}
GOOD = {"bore_condition": "clean_dry", "torque_passes": 9, "engagement_mm": 80}


def closing(shaft_mm):
    """Lamé: outside pressure that takes a hollow hub's bore in by the clearance."""
    gap = (BORE_MIDDLE - shaft_mm) / 1e3
    bore_moves_per_pressure = 2 * SHAFT * HUB**2 / (STEEL * (HUB**2 - SHAFT**2))
    return gap / bore_moves_per_pressure


def after_passes(levels, screws=8):
    """Raise screw by screw; each rise takes 15 % and 3 % of itself from tight neighbours."""
    left, tight = [0.0] * screws, [False] * screws
    for level in levels:
        for place in range(screws):
            rise = max(level - left[place], 0.0)
            for apart, share in ((1, 0.15), (2, 0.03)):
                for neighbour in ((place - apart) % screws, (place + apart) % screws):
                    if tight[neighbour]:
                        left[neighbour] = max(left[neighbour] - share * rise, 0.0)
            left[place] += rise
            tight[place] = True
    return sum(left) / screws


SPECIFIED = closing(79.966)
NINE_PASSES = after_passes([0.3, 0.6] + [1.0] * 7)
ONE_PASS = after_passes([1.0]) / NINE_PASSES


def pressed(squeeze, shaft_mm=79.966):
    hub_pressure = (RATED_PRESSURE + SPECIFIED) * squeeze
    return max(hub_pressure - closing(shaft_mm), 0) / RATED_PRESSURE


CASES = [
    ({}, 1.0),
    ({"bore_condition": "antiseize_or_grease"}, 0.4),
    ({"bore_condition": "oil_film"}, 0.12 / DRY),
    ({"torque_passes": 1}, pressed(ONE_PASS)),
    ({"screws_low": 2}, pressed(1 - 2 / 8 * 0.5)),
    ({"final_torque_nm": 70}, pressed(0.7)),
    ({"shaft_diameter_measured_mm": 79.8}, pressed(1, 79.8)),
    ({"shaft_diameter_measured_mm": 80.0}, 1.0),
    ({"disc_offset_mm": 10}, 0.75),
    ({"engagement_mm": 79}, 0.0),
    ({"engagement_mm": 80, "shaft_end": "short"}, 0.0),
    (
        {"torque_passes": 1, "bore_condition": "antiseize_or_grease"},
        ANTISEIZE / DRY * pressed(ONE_PASS),
    ),
]


def grip_of(units):
    return assess_units(units).consequences.grip


def test_ratios_of_a_shrink_disc_agree_with_first_principles():
    assert pressed(ONE_PASS) == pytest.approx(0.794, abs=0.001)
    for mounting in (SHRINK_DISC, SHRINK_DISC_SUPPORT_BUSHINGS):
        grip = grip_of([Unit({**PLATE, "mounting": mounting}, {**GOOD, **c}) for c, _ in CASES])
        expected = np.array([ratio for _, ratio in CASES])
        assert grip.ratio == pytest.approx(expected, rel=1e-6)
        assert grip.margin == pytest.approx(RATED * expected / 4500, rel=1e-6)


def test_a_tapered_bushing_loses_by_share_of_engagement():
    plate = {**PLATE, "mounting": TAPERED_BUSHING}
    found = [{}, {"engagement_mm": 60}, {"engagement_mm": 60, "shaft_end": "short"}]
    grip = grip_of([Unit(plate, {**GOOD, **checks}) for checks in found])
    assert grip.ratio == pytest.approx([1, 0.75, 0.6])


def test_a_rating_is_estimated_from_the_screws_and_is_less_sure():
    blank = {**PLATE, "screw_thread": "M10", "joint_rated_torque_nm": ""}
    units = [Unit({**blank, "mounting": m}, GOOD) for m in CLAMPED]
    grip = grip_of([*units, Unit(PLATE, GOOD)])
    pull = 8 * 100 / (0.18 * 0.010)
    one_cone = 0.15 * pull / tan(radians(4) + atan(0.06)) * SHAFT / 2
    assert grip.estimated.tolist() == [True, True, True, False]
    assert grip.rating[:3] == pytest.approx([one_cone, 2 * one_cone, 2 * one_cone])
    widths = np.log(grip.high / grip.low) / 2 / 1.6449
    assert widths == pytest.approx([*[sqrt(0.1**2 + 0.45**2)] * 3, 0.1], rel=1e-3)


def test_nothing_known_of_the_joint_gives_no_margin():
    assert np.isnan(grip_of([Unit({"mounting": m}) for m in CLAMPED]).margin).all()


def test_keyed_bores_have_no_margin():
    plate = {**PLATE, "mounting": KEYED_BORE, "screw_thread": "M10"}
    grip = grip_of([Unit(plate, {"bore_condition": "antiseize_or_grease"})])
    assert np.isnan([grip.margin, grip.low, grip.high]).all()


@pytest.mark.parametrize("mounting", CLAMPED)
def test_only_an_upper_end_below_1_makes_a_hold_and_it_traces_to_its_rule(mounting):
    upper = exp(1.6448536 * 0.1)
    ratings = [4500 / upper * share for share in (0.99, 1.01)]
    plates = [{**PLATE, "mounting": mounting, "joint_rated_torque_nm": r} for r in ratings]
    assessment = assess_units([Unit(plate, GOOD) for plate in plates])
    findings = assessment.findings.table
    slipping = findings[findings["rule"] == "joint_slips"]
    assert slipping["unit_id"].tolist() == ["U0000"]
    verdicts = assessment.ranking.set_index("unit_id")["verdict"]
    assert (verdicts["U0000"], verdicts["U0001"] != "hold") == ("hold", True)


def test_dirt_makes_no_joint_carry_more_at_the_upper_end_either():
    words = ("clean_dry", "dust_or_dirt", "oil_film", "antiseize_or_grease")
    grip = grip_of([Unit(PLATE, {**GOOD, "bore_condition": word}) for word in words])
    assert (np.diff(grip.high) <= 1e-12).all()
    assert log(grip.high[0] / grip.margin[0]) == pytest.approx(0.1 * 1.6448536)
