"""Held and floating arms, from records to bearing load, life and chance."""

import numpy as np
import pytest
from looked_at_units import Unit, assess_units

from scoring.consequences import spread
from scoring.consequences.usual_states import CHANCE_OF_A_CLAMP_MISSED
from scoring.contract.events import MODES
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.explanation import explain
from scoring.handbook.multipliers import SEEN

SOUND = {"metal_contact": "no", "isolator_stack": "complete", "smallest_clearance_mm": 12}
FREE = {**SOUND, "isolators_free": 1}
CLAMPED = {**SOUND, "isolators_free": 0}
METAL = {**SOUND, "isolators_free": 1, "metal_contact": "yes"}
MEASURED = {"arm_misset_mm": 1.2, "shaft_runout_mm": 0.2}


def consequences_of(*looks, plate=None):
    return assess_units([Unit(plate or {}, look) for look in looks]).consequences


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_free_adds_nothing_metal_adds_more_than_rubber(mounting):
    units = [Unit({"mounting": mounting}, look) for look in (FREE, CLAMPED, METAL)]
    assessment = assess_units(units)
    added = assessment.consequences.added_bearing_load
    life = assessment.consequences.bearing_life_ratio
    assert (added[0], life[0]) == (0, 1)
    assert added[0] < added[1] < added[2]
    assert life[0] > life[1] > life[2]
    for mode in MODES:
        multiplier = np.exp(assessment.risk.modes[mode].multipliers.log_mean["held_arm"])
        assert multiplier[0] == 1
        assert multiplier.is_monotonic_increasing
        assert multiplier.max() <= 12


def test_the_chance_that_an_arm_is_held_counts_rubber_and_metal():
    assessment = assess_units([Unit({}, look) for look in (FREE, CLAMPED, METAL, {})])
    restraint = assessment.consequences.restraint
    clamped, metal = restraint.share_clamped[3], restraint.share_metal[3]
    assert (clamped, metal) == pytest.approx(
        (0.18, 0.046), rel=0.1
    )  # drawn a little to what was seen
    for n, chance_held in enumerate((0, 1, 1, 1 - (1 - clamped) * (1 - metal))):
        effects = explain(assessment, f"U{n:04d}").effects.set_index("effect")
        assert set(effects.loc["held_arm", "state"]) == {f"held with a chance of {chance_held:.0%}"}


def test_two_free_is_as_good_as_one():
    found = consequences_of(FREE, {**FREE, "isolators_free": 2})
    assert found.restraint.share_clamped.tolist() == [0, 0]


def test_too_much_squeeze_clamps_unless_an_isolator_turned_by_hand():
    squeezed = {"isolator_squeeze_mm": 6}
    found = consequences_of(squeezed, {**CLAMPED, **squeezed}, {**FREE, **squeezed})
    assert found.restraint.share_clamped.tolist() == [1, 1, CHANCE_OF_A_CLAMP_MISSED]


def test_an_isolator_tried_by_hand_was_seen_however_far_it_is_squeezed():
    doubtful = {**FREE, "isolator_squeeze_mm": 6}
    multipliers = assess_units([Unit({}, doubtful)]).risk.modes[MODES[0]].multipliers
    assert multipliers.basis["held_arm"].tolist() == [SEEN]
    assert multipliers.unseen_variance["held_arm"].gt(0).all()


def test_not_seen_is_the_usual_mix_of_floating_rubber_and_metal():
    found = consequences_of({}, CLAMPED, METAL)
    nothing, rubber, metal = found.added_bearing_load
    by_rubber, by_metal = found.restraint.share_clamped[0], found.restraint.share_metal[0]
    assert nothing == pytest.approx(by_rubber * (1 - by_metal) * rubber + by_metal * metal)


def test_a_squeeze_not_measured_is_the_mean_over_its_points():
    thickness = 25
    looks = [
        {**CLAMPED, **MEASURED, "isolator_squeeze_mm": point * thickness}
        for point in spread.SQUEEZE_SHARE.points
    ]
    found = consequences_of(
        {**CLAMPED, **MEASURED}, *looks, plate={"isolator_thickness_mm": thickness}
    )
    unknown, *known = found.bearing_life_ratio
    assert unknown == pytest.approx(np.dot(known, spread.SQUEEZE_SHARE.shares))


def lip_runout_mm(found):
    return 0.25 * found.seal_runout_ratio  # what a lip follows is 0.25 mm


def test_the_lip_of_a_floating_unit_sees_its_own_hub_alone():
    runouts = [{**FREE, "shaft_runout_mm": runout} for runout in (0, 0.5, 2)]
    assert lip_runout_mm(consequences_of(*runouts)) == pytest.approx([0.05] * 3)


def test_the_lip_of_a_held_unit_sees_what_is_forced_through_its_bearings():
    """The clearance, 0.08 mm of a shaft of 80 mm, and twice the added load over 480 N/µm."""
    found = consequences_of({**METAL, "shaft_runout_mm": 1, "arm_misset_mm": 4})
    usual = (0.0035 * 80**3 / 0.12 + 0.025 * 80**2 * 9.80665) / 2
    usual += (0.0035 * 80**3 / 0.48) * (1 + 2 * 0.4 / 1.9) / 2
    added = found.added_bearing_load[0]
    by_hand = 0.05 + 0.08 * min(added / usual, 1) + 2 * added / 480e3
    assert lip_runout_mm(found) == pytest.approx([by_hand])


def test_the_lip_sees_what_is_to_be_expected_of_what_holds_the_arm():
    nothing, rubber, metal, free = lip_runout_mm(consequences_of({}, CLAMPED, METAL, FREE))
    share = consequences_of({}, CLAMPED, METAL, FREE).restraint
    by_rubber, by_metal = share.share_clamped[0], share.share_metal[0]
    by_hand = by_metal * metal + (1 - by_metal) * (by_rubber * rubber + (1 - by_rubber) * free)
    assert nothing == pytest.approx(by_hand)
