"""The handbook's planning values typed a second time: a slip of a finger is seen."""

import pytest

from scoring.consequences.assumed_sizes import (
    BEARING_CLEARANCE_SHARE,
    BEARING_STIFFNESS_N_PER_MM,
    HUB_RUNOUT_MM,
    METAL_STIFFNESS_N_PER_MM,
    WEAKEST_SHARE,
)
from scoring.consequences.bearing_loads import LOAD_DAMPING, SLOPE
from scoring.consequences.spread import SQUEEZE_SHARE
from scoring.consequences.states_of_the_arm import STATES_OF_THE_ARM
from scoring.handbook import grip_effect, held_arm_effect
from scoring.handbook.base_rates import BASE_RATES, UNLIKE_UNITS
from scoring.handbook.grip_loss import HOLDS_NOTHING
from scoring.handbook.multipliers import EFFECTS
from scoring.handbook.prevalence import (
    FAULTS_OF_THE_FLEET,
    LOOKS_OF_THE_FLEET,
    LOOKS_OF_THE_HANDBOOK,
    MOST_FAULTY,
)
from scoring.handbook.slip_hazard import (
    LEAST,
    MARGIN_AS_SPECIFIED,
    MOST,
    POWER,
    SPREAD_OF_MARGINS,
    USUAL_YEARS,
)
from scoring.handbook.what_lowers_grip import GRIP_FAULTS

# Effect: states; shares in per cent; times as many bearing failures, leaks, and where any, slips
TABLE = """
bore_surface_of_a_keyed_bore: 0 1 2 3; 80 10 7 3; 1 1.1 1.1 1.1; 1 1.05 1.05 1.05
disc_seat_surface: 0 1 2 3; 88 7 3 2; 1 1.05 1.1 1.1; 1 1 1.05 1.05
support_bushings: 0 1 2; 90 8 2; 1 1.6 2.5; 1 1.5 2; 1 1.2 3
shaft_size_in_a_keyed_bore: 0 0.02 0.1 0.3; 88 5 5 2; 1 1.25 1.6 2; 1 1.2 1.6 2
shaft_seat_in_a_keyed_bore: 0 1 2; 94 5 1; 1 1 1; 1 1 1; 1 1.8 4
key: 0 1 2 3; 90 6 3 1; 1 1.5 1.5 2.5; 1 1.15 1.15 1.4; 1 2 4 60
retention: 0 1 2; 90 8 2; 1 1.4 2; 1 1.3 1.6; 1 1.6 6
arm_bolts: 0 1 2; 90 8 2; 1 1.8 2.6; 1 1.3 1.6
arm_angle: 0 15 30 45; 90 6 3 1; 1 1.15 1.4 1.8; 1 1.05 1.1 1.2
breather: 0 1; 91 9; 1 1.5; 1 3
oil_level: 0 1 2; 88 8 4; 1 1.15 2.5; 1 1.5 1.5
mounting_position: 0 1; 97 3; 1 1.4; 1 1.6
oil_condition: 0 1 2 3; 91 4 4 1; 1 1.4 2 3; 1 1.1 1.3 1.4
seal_lip: 0 1 2; 93 5 2; 1 1.05 1.15; 1 1.6 2.5
backstop_direction: 0 1; 98.5 1.5; 1 1.8; 1 1.2
running_temperature: 25 40 55 75; 50 35 10 5; 1 1.4 2.2 4; 1 1.2 1.5 2
vibration: 1.5 3 4.5 7.1; 50 30 15 5; 1 1.5 2.2 3.6; 1 1.15 1.3 1.5
seal_weep: 0 1 2; 85 13 2; 1 1.2 1.5; 1 2 3
"""
# State of the torque arm: its values; shares in per cent; chance in per cent that metal holds it
TABLE_OF_THE_ARM = """
clamped isolators: 0 1; 82 18;
metal contact: 0 1; 97 3; 0 100
anchor joint: 0 1 2 3; 87.5 7 5 0.5; 0 3 8 100
clearance: 0 1.5 2.5; 90 7 3; 0 4 8
mis-set of the arm: 0.5 2 5; 60 30 10;
shaft run-out: 0.06 0.15 0.35 0.8; 45 35 14 6;
"""
# What lowers grip: states; shares in per cent; per cent of the grip left
TABLE_OF_THE_GRIP = """
surface_in_a_bushing: 0 1 2 3; 86 8 4 2; 100 89.49 84.01 47.15
surface_in_a_disc: 0 1 2 3; 86 8 4 2; 100 86.67 80 40
torque_passes: 0 1 2 3; 85 7 7 1; 100 97 92 60
final_torque: 0 0.1 0.3; 92 6 2; 100 90 70
tightening_order: 0 1 2; 85 10 5; 100 96 90
collar_gap: 0 0.5 1.5; 88 8 4; 100 90 80
disc_offset: 0 1 4; 90 7 3; 100 98 90
shaft_size_in_a_disc: 0 0.02 0.1 0.3; 88 5 5 2; 100 95 80 50
shaft_size_in_a_bushing: 0 0.02 0.1 0.3; 88 5 5 2; 100 97 90 75
worn_seat: 0 1 2; 94 5 1; 100 90 70
engagement_in_a_disc: 0 0.1 0.3 0.6; 93 3 3 1; 100 75 50 25
engagement_in_a_bushing: 0 0.1 0.3 0.6; 93 3 3 1; 100 90 70 40
engagement_in_a_keyed_bore: 0 0.1 0.3 0.6; 93 3 3 1; 100 90 70 40
unit_home: 0 1; 93 7; 100 80
"""
ROWS_OF_THE_GRIP = [line.split(":") for line in TABLE_OF_THE_GRIP.strip().splitlines()]
ROWS = [line.split(":") for line in TABLE.strip().splitlines()]


@pytest.mark.parametrize(("name", "numbers"), ROWS, ids=[name for name, _ in ROWS])
def test_each_effect_is_as_typed_again(name, numbers):
    (effect,) = (one for one in EFFECTS if one.name == name)
    states, usual, bearing, seal, *slip = (
        [float(number) for number in part.split()] for part in numbers.split(";")
    )
    assert list(effect.states) == states
    assert [100 * share for share in effect.usual] == pytest.approx(usual)
    assert list(effect.multipliers["low_speed_bearing"]) == bearing
    assert list(effect.multipliers["seal_leak"]) == seal
    assert list(effect.multipliers["joint_slip"]) == (slip[0] if slip else [1] * len(states))
    assert effect.uncertainty == 0.5
    assert effect.share_with == (0.3 if name == "backstop_direction" else 1)


@pytest.mark.parametrize("row", TABLE_OF_THE_ARM.strip().splitlines())
def test_each_state_of_the_arm_is_as_typed_again(row):
    name, numbers = row.split(":")
    (arm,) = (one for one in STATES_OF_THE_ARM if one.name == name)
    states, usual, metal = (
        [float(number) for number in part.split()] for part in numbers.split(";")
    )
    assert list(arm.spread.points) == states
    assert [100 * share for share in arm.spread.shares] == pytest.approx(usual)
    assert [100 * chance for chance in arm.metal] == pytest.approx(metal)


def test_the_held_arm_is_as_typed_again():
    assert len(TABLE_OF_THE_ARM.strip().splitlines()) == len(STATES_OF_THE_ARM)
    assert (SQUEEZE_SHARE.points, SQUEEZE_SHARE.shares) == ((0.08, 0.25), (0.6, 0.4))
    assert held_arm_effect.LIP_RUNOUTS_MM == (0.06, 0.15, 0.25, 0.5, 1)
    assert held_arm_effect.LEAKS_BY_RUNOUT == (1, 1.25, 1.6, 2.4, 3.5)
    assert (held_arm_effect.BESIDES_STATICS, held_arm_effect.MOST) == (2, 12)
    assert (held_arm_effect.SEAL_WITH_RUBBER, held_arm_effect.SEAL_WITH_METAL) == (1.6, 2)
    assert (LOAD_DAMPING, SLOPE) == (0.1, 1.3)
    assert (WEAKEST_SHARE, METAL_STIFFNESS_N_PER_MM, HUB_RUNOUT_MM) == (1, 8000, 0.05)
    assert (BEARING_CLEARANCE_SHARE, BEARING_STIFFNESS_N_PER_MM) == (0.001, 6000)


@pytest.mark.parametrize(
    ("name", "numbers"), ROWS_OF_THE_GRIP, ids=[name for name, _ in ROWS_OF_THE_GRIP]
)
def test_what_lowers_grip_is_as_typed_again(name, numbers):
    (fault,) = (one for one in GRIP_FAULTS if one.name == name)
    states, usual, left = (
        [float(number) for number in part.split()] for part in numbers.split(";")
    )
    assert list(fault.states) == states
    assert [100 * share for share in fault.usual] == pytest.approx(usual)
    assert [100 * ratio for ratio in fault.ratios] == pytest.approx(left, abs=0.006)
    assert fault.share_with == 1


def test_every_effect_is_typed_again_and_numbers_that_stand_alone_are_as_typed_again():
    assert {name for name, _ in ROWS} == {effect.name for effect in EFFECTS}
    assert {name for name, _ in ROWS_OF_THE_GRIP} == {fault.name for fault in GRIP_FAULTS}
    assert held_arm_effect.UNCERTAINTY == 0.5
    assert (UNLIKE_UNITS, MOST_FAULTY) == (0.5, 0.95)
    assert (LOOKS_OF_THE_HANDBOOK, LOOKS_OF_THE_FLEET, FAULTS_OF_THE_FLEET) == (400, 200, 40)
    for rate in (BASE_RATES["low_speed_bearing"], BASE_RATES["seal_leak"]):
        assert (rate.age_slope, rate.usual_age, rate.uncertainty) == (1.3, 3, 0.7)
    slip = BASE_RATES["joint_slip"]
    assert (slip.field_rate, slip.age_slope, slip.uncertainty) == (0.003, 1, 1)
    assert (POWER, MOST, LEAST) == (4, 60, 0.3)
    assert HOLDS_NOTHING == 0.05
    assert (MARGIN_AS_SPECIFIED, SPREAD_OF_MARGINS, USUAL_YEARS) == (1.8, 0.25, 3)
    assert list(grip_effect.UNCERTAINTY.values()) == [0.5, 0.5, 0.3]
    assert list(grip_effect.MOST.values()) == [3, 1.5]
    assert grip_effect.RATIO_OF_MOST == 0.5
    assert [rate.unlike_units for rate in BASE_RATES.values()] == [0.75, 0.75, 2.2]
