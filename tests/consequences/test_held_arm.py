"""What a held arm does, against plain loops round the turn, all directions, bearing by bearing."""

from dataclasses import replace
from math import cos, hypot, pi, sin

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scoring.consequences import spread
from scoring.consequences.bearing_loads import log_of_the_load
from scoring.consequences.nameplate import read_nameplates
from scoring.consequences.not_measured import Possible
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
FORCE_LIMIT = 0.0035 * 80**3 / 0.5  # at least that of the torque usual for such a shaft
METAL = 8e6
LEVER = 0.5 / 0.15
NEARER = 0.5 + (0.030 + 0.075) / 0.150
HALF_OF_THE_REST = (1500 / (1.5 * 0.08) + 160 * 9.80665) / 2
OWN = [HALF_OF_THE_REST + share * 1500 / 0.5 for share in (NEARER, NEARER - 1)]
USUAL_TORQUE, USUAL_MASS, USUAL_ARM = 0.0035 * 80**3, 0.025 * 80**2, 6 * 0.08
USUAL = [
    (USUAL_TORQUE / (1.5 * 0.08) + USUAL_MASS * 9.80665) / 2 + share * USUAL_TORQUE / USUAL_ARM
    for share in (1 + 0.4 / 1.9, 0.4 / 1.9)
]
DAMPED = [usual * (own / usual) ** 0.1 for own, usual in zip(OWN, USUAL, strict=True)]


def plates_of(plates):
    units = empty_table(UNITS).reindex(range(len(plates)))
    for n, plate in enumerate(plates):
        for name, value in plate.items():
            units.loc[n, name] = value
    return read_nameplates(units)


def arm_of(plates, misset=None, runout=None, squeeze=None):
    """Return what held arms do; mis-set and run-out in millimetres, squeeze as a share."""
    size = len(plates)
    values = zip(
        (misset, runout, squeeze),
        (spread.ARM_MISSET, spread.SHAFT_RUNOUT, spread.SQUEEZE_SHARE),
        strict=True,
    )
    possible = [
        Possible(
            np.broadcast_to(one.points if value is None else value, (size, len(one.points))),
            np.broadcast_to(one.shares, (size, len(one.shares))),
        )
        for value, one in values
    ]
    return held_arm(plates_of(plates), *possible)


def ways_to_share(pull, swing, cosine):
    """Return pull and swing as they would slip: one first, the other first, both alike."""
    if pull**2 + swing**2 + 2 * pull * swing * cosine == 0:
        return [(0.0, 0.0)]
    corner = FORCE_LIMIT / (2 + 2 * cosine) ** 0.5
    edge = corner / (FORCE_LIMIT - corner)  # of the polygon of all that is possible together

    def left_beside(one):
        return min(edge * (FORCE_LIMIT - one), FORCE_LIMIT - one / edge)

    first, second = min(pull, FORCE_LIMIT), min(swing, FORCE_LIMIT)
    ways = [(first, min(second, left_beside(first))), (min(first, left_beside(second)), second)]
    return [*ways, (corner, corner)] if min(first, second) > corner else ways


def by_hand(misset, runout, squeeze, *, metal=False, own=OWN):
    """Return added load and life ratio of the unit above, one point, rollers, both sides."""
    area = pi / 4 * (0.070**2 - 0.026**2)
    stiffness = 2 * 1.06e6 * area / 0.025 / (1 - squeeze) ** 2
    stiffness = max(METAL, stiffness) if metal else stiffness
    across, along = runout / 2e3, 0.5 * runout / 1e3 / (2 * 0.2)
    swing, pull = stiffness * hypot(across, along), stiffness * misset / 1e3
    cosine = along / hypot(across, along) if runout else 0.5 / hypot(0.5, 0.2)
    sine = (1 - cosine**2) ** 0.5
    added, lives, hazards = [], [], []
    for kept_pull, kept_swing in ways_to_share(pull, swing, cosine):
        most, of_sides = [], []
        for side in (1, -1):
            rest = [LEVER * kept_pull] * 2
            amplitude = [
                abs(share * sine + sign * side * cosine * LEVER) * kept_swing
                for share, sign in ((NEARER, 1), (1 - NEARER, -1))
            ]
            most.append(max(map(sum, zip(rest, amplitude, strict=True))))
            of_sides.append(life_of_the_pair(own, rest, amplitude))
        added.append(sum(most) / 2)
        lives.append(sum(of_sides) / 2)
        hazards.append(sum(life**-1.3 for life in of_sides) / 2)
    return max(added), min(lives), max(hazards)


def life_of_the_pair(own, rest, amplitude, steps=90):
    """Integrate the damage of each bearing; the first one to fail ends the life of both."""
    turn = [2 * pi * (n + 0.5) / steps for n in range(steps)]
    worn = alone = 0.0
    for load, steady, swinging in zip(own, rest, amplitude, strict=True):
        damage = sum(
            hypot(load * cos(way) + steady + swinging * cos(angle), load * sin(way)) ** (10 / 3)
            for angle in turn
            for way in turn
        )
        worn += (damage / steps**2) ** 1.3
        alone += load ** (1.3 * 10 / 3)
    return (alone / worn) ** (1 / 1.3)


@pytest.mark.parametrize(
    ("measured", "life_by_rubber", "life_by_metal"),
    [  # mis-set and run-out in millimetres, squeeze as a share; integrated, our own calculation
        ((0.0, 0.0, 0.08), 1.0, 1.0),
        ((1.0, 0.2, 0.08), 0.964, 0.167),
        ((2.0, 0.2, 0.25), 0.751, 0.167),
        ((0.1, 0.6, 0.08), 0.990, 0.333),
    ],
)
def test_a_measured_unit(measured, life_by_rubber, life_by_metal):
    arm = arm_of([PLATE], *measured)
    for held, metal, typed in (
        (arm.by_rubber, False, life_by_rubber),
        (arm.by_metal, True, life_by_metal),
    ):
        added, life, hazard = by_hand(*measured, metal=metal)
        assert held.mean(held.added) == pytest.approx([added])
        assert life == pytest.approx(typed, abs=0.001)
        # damage is at most 6 % above what is integrated, and never below
        assert life / 1.06 <= held.mean(held.life)[0] <= life * (1 + 1e-6)
        _, _, hazard = by_hand(*measured, metal=metal, own=DAMPED)
        assert hazard * (1 - 1e-6) <= held.mean(held.hazard)[0] <= hazard * 1.06**1.3


def test_own_loads_of_both_bearings_by_hand():
    arm = arm_of([PLATE])
    assert arm.own_loads[0] == pytest.approx(OWN)
    assert OWN[0] - OWN[1] == pytest.approx(1500 / 0.5)  # the arm hangs outside both


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
                one = arm_of([PLATE], misset, runout, squeeze).by_rubber
                total, added = total + share, added + share * one.mean(one.added)[0]
                life += share * one.mean(one.life)[0]
    assert total == pytest.approx(1)
    for held in (arm.by_rubber, arm.by_metal):
        assert held.shares.sum() == pytest.approx(1)
    assert arm.by_rubber.mean(arm.by_rubber.added) == pytest.approx([added])
    assert arm.by_rubber.mean(arm.by_rubber.life) == pytest.approx([life], rel=1e-6)


def test_metal_is_never_better_than_rubber():
    sizes = np.random.default_rng(1)
    plates = [
        {**PLATE, "isolator_thickness_mm": t, "isolator_outer_mm": d, "arm_length_mm": a}
        for t, d, a in sizes.uniform((3, 40, 150), (60, 400, 2000), (40, 3))
    ]
    for measured in ((0.5, 0.1, 0.2), (3, 0.5, 0.01), (0.1, 1, 0.5)):
        arm = arm_of(plates, *measured)
        rubber, metal = arm.by_rubber, arm.by_metal
        assert (metal.mean(metal.added) >= rubber.mean(rubber.added) - 1e-9).all()
        assert (metal.mean(metal.life) <= rubber.mean(rubber.life) + 1e-12).all()
        assert (metal.mean(metal.hazard) >= rubber.mean(rubber.hazard) - 1e-12).all()
        assert (metal.lip_runout.min(axis=1) >= rubber.lip_runout.max(axis=1) - 1e-15).all()
        assert ((rubber.life > 0) & (rubber.life <= 1 + 1e-12)).all()


def test_the_anchor_s_weakest_element_bears_mis_set_and_wobble_together():
    """One cap on both: in line with the shaft, a mis-set alone already takes all there is."""
    pulled = arm_of([PLATE], misset=1000.0, runout=0.0, squeeze=0.5)
    assert pulled.by_rubber.added == pytest.approx(FORCE_LIMIT * LEVER)
    both = arm_of([PLATE], misset=1000.0, runout=500.0, squeeze=0.5)
    direction = np.array([0.2, 0.5]) / hypot(0.2, 0.5)
    swung = FORCE_LIMIT * (direction @ [NEARER, LEVER] + abs(direction @ [-NEARER, LEVER])) / 2
    alike = FORCE_LIMIT / (2 + 2 * direction[1]) ** 0.5
    at_most = max(FORCE_LIMIT * LEVER, swung, alike * (LEVER + swung / FORCE_LIMIT))
    # of two bearings the one that gets more: at the one farther off, force and couple differ
    assert both.by_metal.added.min() >= FORCE_LIMIT * LEVER * (1 - 1e-9)
    assert both.by_metal.added.max() <= 1.05 * at_most


def test_balls_and_rollers_differ_in_life_only():
    plates = [{**PLATE, "bearing_kind": kind} for kind in ("ball", "roller")]
    arm = arm_of(plates, misset=2, runout=0.2).by_rubber
    assert np.ptp(arm.added, axis=0) == pytest.approx(0)
    assert (arm.life[0] > arm.life[1]).all()


SIZES = {
    "output_torque_nm": st.floats(50, 20_000),
    "arm_length_mm": st.floats(150, 2000),
    "bearing_span_mm": st.floats(60, 500),
    "arm_offset_mm": st.floats(10, 300),
    "shaft_support_distance_mm": st.floats(50, 900),
    "isolator_thickness_mm": st.floats(8, 70),
}
MEASURED = st.tuples(st.floats(0, 20), st.floats(0, 2), st.floats(0, 0.6))


def harms(plates, misset, runout, squeeze):
    """Return whatever a held arm does that may only get worse; one row for each plate."""
    column = [np.reshape(np.asarray(one, float), (-1, 1)) for one in (misset, runout, squeeze)]
    arm = arm_of(plates, *column)
    harms = [
        np.stack([held.mean(held.hazard), -held.mean(held.life), held.mean(held.lip_runout)])
        for held in (arm.by_rubber, arm.by_metal)
    ]
    return np.concatenate(harms)


@settings(deadline=None)
@given(
    st.fixed_dictionaries({}, optional=SIZES), MEASURED, st.sampled_from([0, 1, 2]), st.floats(0, 1)
)
def test_more_mis_set_run_out_or_squeeze_is_never_better(sizes, measured, which, more):
    scale = (20, 2, 0.6)
    worse = [value + (n == which) * more * scale[n] for n, value in enumerate(measured)]
    values = [np.array([one, other]) for one, other in zip(measured, worse, strict=True)]
    found = harms([{**PLATE, **sizes}] * 2, *values)
    assert (np.diff(found) >= -1e-12 * np.abs(found[:, :1])).all()


@settings(deadline=None)
@given(st.fixed_dictionaries({}, optional=SIZES), MEASURED, st.floats(1, 50))
def test_more_running_torque_never_makes_a_held_unit_safer(sizes, measured, times):
    """The hazard of the pair, with what its own load makes of it, and the run-out under the lip."""
    plate = {**PLATE, **sizes}
    plates = [plate, {**plate, "output_torque_nm": times * plate["output_torque_nm"]}]
    found = harms(plates, *[np.full(2, value) for value in measured])
    load = np.exp(log_of_the_load(plates_of(plates)))
    assert load[1] >= load[0] * (1 - 1e-12)
    for hazard in (found[0] * load, found[3] * load, found[2], found[5]):
        assert hazard[1] >= hazard[0] * (1 - 1e-12)


def test_what_its_own_load_makes_of_a_hazard_by_hand():
    found = np.exp(log_of_the_load(plates_of([PLATE, {"shaft_diameter_mm": 80.0}])))
    power = 1.3 * 10 / 3
    pair = [sum(load**power for load in loads) for loads in (DAMPED, USUAL)]
    assert found == pytest.approx([pair[0] / pair[1], 1])


def test_shares_that_do_not_add_up_are_refused():
    with pytest.raises(ValueError, match="adding up to 1"):
        replace(spread.ARM_MISSET, shares=(0.5, 0.1, 0.1))
