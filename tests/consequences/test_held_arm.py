"""What a held arm does, against plain loops over everything that was not measured."""

from dataclasses import replace
from math import cos, pi

import numpy as np
import pytest

from scoring.consequences import spread
from scoring.consequences.nameplate import read_nameplates
from scoring.consequences.restraint import held_arm
from scoring.contract import UNITS
from scoring.records import empty_table

PLATE = {
    "shaft_diameter_mm": 80.0,
    "output_torque_nm": 1500.0,
    "unit_mass_kg": 160.0,
    "arm_length_mm": 500.0,
    "bearing_span_mm": 150.0,
    "arm_offset_mm": 30.0,
    "shaft_support_distance_mm": 200.0,
    "isolator_outer_mm": 70.0,
    "isolator_inner_mm": 26.0,
    "isolator_thickness_mm": 25.0,
    "isolator_hardness_shore_a": 60.0,
}
FORCE_LIMIT = 0.5 * 1500 / 0.5
METAL = 8e6


def arm_of(plates, misset=np.nan, runout=np.nan, squeeze=np.nan):
    units = empty_table(UNITS).reindex(range(len(plates)))
    for n, plate in enumerate(plates):
        for name, value in plate.items():
            units.loc[n, name] = value
    every = [np.full(len(plates), value) for value in (misset, runout, squeeze)]
    return held_arm(read_nameplates(units), *every)


def by_hand(misset, runout, squeeze, *, metal=False):
    """Return added load and life ratio of the unit above, one point, rollers."""
    area = pi / 4 * (0.070**2 - 0.026**2)
    stiffness = 2 * 1.06e6 * area / 0.025 / (1 - squeeze) ** 2
    stiffness = max(METAL, stiffness) if metal else stiffness
    across = min(stiffness * runout / 2, FORCE_LIMIT)
    wobble = min(stiffness * 0.5 * runout / (2 * 0.2), FORCE_LIMIT)
    pulled = min(stiffness * misset, FORCE_LIMIT)
    swing = across * (0.5 + (0.030 + 0.075) / 0.150) + wobble * 0.5 / 0.15
    rest = pulled * 0.5 / 0.15
    load = (1500 / (1.5 * 0.08) + 1500 / 0.5 + 160 * 9.80665) / 2
    turn = [
        abs(load + rest + swing * cos(2 * pi * (n + 0.5) / 3600)) ** (10 / 3) for n in range(3600)
    ]
    mean = (sum(turn) / len(turn)) ** 0.3
    return swing + rest, (load / mean) ** (10 / 3)


@pytest.mark.parametrize(
    ("measured", "life_by_rubber", "life_by_metal"),
    [  # mis-set and run-out in metres, squeeze as a share; our own calculation
        ((0.0, 0.0, 0.08), 1.0, 1.0),
        ((0.001, 0.0002, 0.08), 0.664, 0.156),
        ((0.002, 0.0002, 0.25), 0.332, 0.156),
    ],
)
def test_a_measured_unit(measured, life_by_rubber, life_by_metal):
    arm = arm_of([PLATE], *measured)
    added, life = by_hand(*measured)
    assert arm.added_by_rubber @ arm.shares == pytest.approx([added])
    assert arm.life_with_rubber @ arm.shares == pytest.approx([life], rel=1e-6)
    assert life == pytest.approx(life_by_rubber, abs=0.001)
    added, life = by_hand(*measured, metal=True)
    assert arm.added_by_metal @ arm.shares == pytest.approx([added])
    assert arm.life_with_metal @ arm.shares == pytest.approx([life], rel=1e-6)
    assert life == pytest.approx(life_by_metal, abs=0.001)


def test_what_was_not_measured_is_averaged_over_its_points():
    arm = arm_of([PLATE])
    total, added, life = 0.0, 0.0, 0.0
    for misset, share_m in zip(spread.ARM_MISSET.points, spread.ARM_MISSET.shares, strict=True):
        for runout, share_r in zip(
            spread.SHAFT_RUNOUT.points, spread.SHAFT_RUNOUT.shares, strict=True
        ):
            for squeeze, share_s in zip(
                spread.SQUEEZE_SHARE.points, spread.SQUEEZE_SHARE.shares, strict=True
            ):
                share = share_m * share_r * share_s
                one_added, one_life = by_hand(misset / 1e3, runout / 1e3, squeeze)
                total, added = total + share, added + share * one_added
                life += share * one_life
    assert total == pytest.approx(1)
    assert arm.shares.sum() == pytest.approx(1)
    assert arm.added_by_rubber @ arm.shares == pytest.approx([added])
    assert arm.life_with_rubber @ arm.shares == pytest.approx([life], rel=1e-6)


def test_metal_is_never_better_than_rubber():
    sizes = np.random.default_rng(1)
    plates = [
        {**PLATE, "isolator_thickness_mm": t, "isolator_outer_mm": d, "arm_length_mm": a}
        for t, d, a in sizes.uniform((3, 40, 150), (60, 400, 2000), (40, 3))
    ]
    arm = arm_of(plates)
    assert (arm.added_by_metal >= arm.added_by_rubber).all()
    assert (arm.life_with_metal <= arm.life_with_rubber).all()
    assert (arm.life_with_rubber > 0).all()
    assert (arm.life_with_rubber <= 1 + 1e-12).all()


def test_no_anchor_pulls_harder_than_its_weakest_element():
    arm = arm_of([PLATE], misset=1.0, runout=0.5, squeeze=0.5)
    most = FORCE_LIMIT * (0.5 + 0.105 / 0.150) + 2 * FORCE_LIMIT * 0.5 / 0.15
    assert arm.added_by_rubber.ravel() == pytest.approx(most)
    assert arm.added_by_metal.ravel() == pytest.approx(most)


def test_balls_and_rollers_differ_in_life_only():
    plates = [{**PLATE, "bearing_kind": kind} for kind in ("ball", "roller")]
    arm = arm_of(plates, misset=0.002, runout=0.0002)
    assert np.ptp(arm.added_by_rubber, axis=0) == pytest.approx(0)
    assert (arm.life_with_rubber[0] > arm.life_with_rubber[1]).all()


def test_shares_that_do_not_add_up_are_refused():
    with pytest.raises(ValueError, match="adding up to 1"):
        replace(spread.ARM_MISSET, shares=(0.5, 0.1, 0.1, 0.1))
