"""One fact of the joint counts once: two checks that show one cause are no worse than the worse.

The table was written by hand, from what each check is told by, not from the program.
"""

from itertools import pairwise

import numpy as np
import pytest
from looked_at_units import Unit, assess_units, chance

from scoring.contract.events import MODES
from scoring.contract.mountings import (
    CLAMPED,
    EVERY_MOUNTING,
    KEYED_BORE,
    SHRINK_DISCS,
    TAPERED_BUSHING,
)

BEARING, SEAL, SLIP = MODES
PLATE = {
    "required_engagement_mm": 80,
    "screw_torque_nm": 100,
    "screw_count": 8,
    "shaft_tolerance": "h8",
    "clamp_length_mm": 40,
}

# what one look shows; what another shows of the same; on which mountings
SHOW_ONE_CAUSE = [
    # the unit is not home, and so its shaft ends short in the bore
    ({"seated": "short"}, {"shaft_end": "short"}, EVERY_MOUNTING),
    ({"seated": "short"}, {"engagement_mm": 66}, EVERY_MOUNTING),
    ({"shaft_end": "short"}, {"engagement_mm": 50}, EVERY_MOUNTING),
    ({"shaft_end": "short"}, {"engagement_mm": 79}, EVERY_MOUNTING),
    # a seat worn down is undersize
    ({"shaft_seat": "worn"}, {"shaft_diameter_measured_mm": 79.6}, CLAMPED),
    ({"shaft_seat": "fretted"}, {"shaft_diameter_measured_mm": 79.9}, CLAMPED),
    # screws that are low are what the wrench reads
    ({"screws_low": 8}, {"final_torque_nm": 55}, CLAMPED),
    ({"screws_low": 3}, {"final_torque_nm": 70}, CLAMPED),
]
PAIRS = [
    (one, other, mounting) for one, other, mountings in SHOW_ONE_CAUSE for mounting in mountings
]

WORST = {
    "bore_condition": "antiseize_or_grease",
    "clamp_seat_condition": "clean_dry",  # a disc's outer seat carries no torque
    "seated": "short",
    "shaft_end": "short",
    "engagement_mm": 20,
    "shaft_diameter_measured_mm": 79.4,
    "shaft_seat": "worn",
    "torque_passes": 0,
    "tightening_order": "no_order",
    "final_torque_nm": 50,
    "screws_low": 8,
    "screws_missing": 4,
    "collar_gap_mm": 9,
    "disc_offset_mm": 20,
}
GOOD = {
    "bore_condition": "clean_dry",
    "clamp_seat_condition": "clean_dry",
    "seated": "home",
    "shaft_end": "reaches",
    "engagement_mm": 80,
    "shaft_diameter_measured_mm": 80,
    "shaft_seat": "sound",
    "torque_passes": 3,
    "tightening_order": "circular",
    "final_torque_nm": 100,
    "screws_low": 0,
    "screws_missing": 0,
    "collar_gap_mm": 1.5,
    "disc_offset_mm": 0,
}
ONLY_ON = {
    "clamp_seat_condition": SHRINK_DISCS,
    "torque_passes": CLAMPED,
    "tightening_order": CLAMPED,
    "final_torque_nm": CLAMPED,
    "screws_low": CLAMPED,
    "screws_missing": CLAMPED,
    "collar_gap_mm": (TAPERED_BUSHING,),
    "disc_offset_mm": SHRINK_DISCS,
}
PLAIN_AT_A_KEYED_BORE = ("bore_condition", "shaft_diameter_measured_mm", "shaft_seat")
"""Nothing there grips by surface or size, so these have effects of their own."""


def on(mounting, found):
    here = {n: v for n, v in found.items() if mounting in ONLY_ON.get(n, EVERY_MOUNTING)}
    if mounting == TAPERED_BUSHING and here.get("tightening_order") == "circular":
        here["tightening_order"] = "star"
    if mounting == KEYED_BORE:
        here = {n: v for n, v in here.items() if n not in PLAIN_AT_A_KEYED_BORE}
    return here


@pytest.fixture(scope="module")
def chances_of_pairs():
    """Of each pair the three chances: one look alone, the other alone, both."""
    units = []
    for one, other, mounting in PAIRS:
        plate = {**PLATE, "mounting": mounting}
        good = on(mounting, GOOD)
        units += [Unit(plate, {**good, **found}) for found in (one, other, {**one, **other})]
    assessment = assess_units(units)
    return {mode: chance(assessment, mode).reshape(-1, 3) for mode in MODES}


@pytest.mark.parametrize("place", range(len(PAIRS)), ids=lambda n: f"{PAIRS[n]}")
def test_two_looks_that_show_one_cause_give_the_chance_of_the_worse(chances_of_pairs, place):
    for mode in MODES:
        one, other, both = chances_of_pairs[mode][place]
        assert both == pytest.approx(max(one, other), rel=1e-9), mode


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_all_that_lowers_grip_at_its_worst_together_stays_below_the_most(mounting):
    good, worst = (Unit({**PLATE, "mounting": mounting}, on(mounting, f)) for f in (GOOD, WORST))
    risk = assess_units([good, worst]).risk
    for mode, most in ((BEARING, 3.0), (SEAL, 1.5)):
        logs = risk.modes[mode].multipliers.log_mean.to_numpy().sum(axis=1)
        times = np.exp(logs[1] - logs[0])
        assert times <= most * (1 + 1e-9), mode
        assert times > 0.99 * most  # the worst is not forgotten, too


@pytest.mark.parametrize("mounting", CLAMPED)
def test_a_joint_that_cannot_be_relied_on_has_the_worst_grip(mounting):
    short = {**on(mounting, GOOD), "torque_passes": 0}
    assessment = assess_units([Unit({**PLATE, "mounting": mounting}, short)])
    assert not assessment.consequences.grip.relied_on[0]
    for mode, most in ((BEARING, 3.0), (SEAL, 1.5)):
        grip = assessment.risk.modes[mode].multipliers.log_mean["grip"]
        assert np.exp(grip[0]) == pytest.approx(most)


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_each_finding_more_at_the_joint_never_lowers_a_chance(mounting):
    plate, found = {**PLATE, "mounting": mounting}, on(mounting, GOOD)
    units = [Unit(plate, found)]
    for name, value in on(mounting, WORST).items():
        found = {**found, name: value}
        units.append(Unit(plate, found))
    assessment = assess_units(units)
    for mode in MODES:
        p = chance(assessment, mode)
        assert all(after >= before * (1 - 1e-12) for before, after in pairwise(p)), mode


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_what_nobody_saw_of_the_joint_lies_between_good_and_worst(mounting):
    plate = {**PLATE, "mounting": mounting}
    looked = [{}, on(mounting, GOOD), on(mounting, WORST)]
    assessment = assess_units([Unit(plate, found) for found in looked])
    for mode in MODES:
        nobody, good, worst = chance(assessment, mode)
        assert good <= nobody <= worst
        assert good < nobody < worst or (mode, mounting) == (SLIP, KEYED_BORE)
