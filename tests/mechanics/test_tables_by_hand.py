"""Tables and short formulas held against numbers typed or worked out a second way."""

import numpy as np
import pytest

from scoring.errors import OutOfRangeError
from scoring.mechanics.friction_coefficients import BORE_FRICTION
from scoring.mechanics.restrained_arm import loads_of_both_bearings, slope_of_runout
from scoring.mechanics.rubber_modulus import shear_modulus
from scoring.mechanics.screw_threads import COARSE_PITCH_MM, thread_size
from scoring.mechanics.seal import RUNOUT_ALLOWANCE
from scoring.mechanics.staged_tightening import (
    pass_levels,
    preload_round_the_circle,
    screw_sequence,
)
from scoring.mechanics.stress_area import metric_stress_area, proof_load
from scoring.mechanics.torque_to_preload import NUT_FACTORS
from scoring.mechanics.wedge import CONE_FRICTION, CONE_HALF_ANGLE
from scoring.mechanics.weibull_life import BEARING_SLOPES


def width(one):
    return one.low, one.typical, one.high


# Stress areas as tables of coarse threads print them, from memory. [mm²]
AREAS = {
    4: 8.78,
    5: 14.2,
    6: 20.1,
    8: 36.6,
    10: 58.0,
    12: 84.3,
    14: 115,
    16: 157,
    18: 192,
    20: 245,
    22: 303,
    24: 353,
    27: 459,
    30: 561,
    33: 694,
    36: 817,
}


@pytest.mark.parametrize("diameter", AREAS)
def test_coarse_pitches_give_the_areas_of_the_usual_tables(diameter):
    area = metric_stress_area(*thread_size(f"M{diameter}"))
    assert area * 1e6 == pytest.approx(AREAS[diameter], rel=5e-3)
    assert set(COARSE_PITCH_MM) == set(AREAS)


def test_classes_change_above_16_mm():
    area = metric_stress_area([0.016, 0.018], [0.002, 0.0025])
    for name, stresses in (
        ("8.8", (580e6, 600e6)),
        ("10.9", (830e6, 830e6)),
        ("12.9", (970e6, 970e6)),
        ("9.8", (650e6, np.nan)),
    ):
        loads = proof_load([0.016, 0.018], [0.002, 0.0025], name)
        assert loads == pytest.approx(area * stresses, rel=1e-12, nan_ok=True)


@pytest.mark.parametrize(
    ("thread", "size"),
    [
        ("M10x9.9", (10, 9.9)),
        ("M10x10", (np.nan, np.nan)),
        ("M10x0", (np.nan, np.nan)),
        ("M10x1.25", (10, 1.25)),
        ("M2.5x0.45", (2.5, 0.45)),
        ("1/20-20", (np.nan, np.nan)),  # as thick as its pitch
        ("1/10-20", (2.54, 1.27)),
        ("2-4.5", (np.nan, np.nan)),
        ("2-4", (50.8, 6.35)),
    ],
)
def test_threads_at_the_edge_of_what_can_be(thread, size):
    assert np.ravel(thread_size(thread)) * 1000 == pytest.approx(size, nan_ok=True)


def test_widths_to_calculate_with():
    """Each low, typical and high, typed again: a slip of a finger moves every joint."""
    assert {name: width(one) for name, one in BORE_FRICTION.items()} == {
        "clean and dry": (0.15, 0.15, 0.20),
        "dust or dirt": (0.10, 0.13, 0.20),
        "oil film": (0.08, 0.12, 0.15),
        "anti-seize or grease": (0.05, 0.06, 0.08),
    }
    assert {name: width(one) for name, one in NUT_FACTORS.items()} == {
        "as received": (0.158, 0.20, 0.267),
        "zinc-plated": (0.20, 0.20, 0.295),
        "lubricated": (0.12, 0.18, 0.20),
        "anti-seize": (0.08, 0.12, 0.23),
        "not known": (0.12, 0.20, 0.30),
    }
    assert np.degrees(width(CONE_HALF_ANGLE)) == pytest.approx([3, 4, 5])
    assert width(CONE_FRICTION) == (0.05, 0.06, 0.10)
    assert width(RUNOUT_ALLOWANCE) == (0.13e-3, 0.25e-3, 0.25e-3)
    assert width(BEARING_SLOPES["ball"]) == pytest.approx((10 / 9, 1.3, 1.5))
    assert width(BEARING_SLOPES["roller"]) == pytest.approx((9 / 8, 1.3, 1.5))


def test_shear_modulus_by_hardness():
    hardness = np.arange(30, 80, 5)
    modulus = [0.30, 0.37, 0.45, 0.54, 0.64, 0.81, 1.06, 1.37, 1.73, 2.22]
    assert shear_modulus(hardness) / 1e6 == pytest.approx(modulus)
    halfway = (np.array(modulus[1:]) + modulus[:-1]) / 2
    assert shear_modulus(hardness[1:] - 2.5) / 1e6 == pytest.approx(halfway)


def test_forces_on_the_arm_by_hand():
    # 100 N across, half on each; 40 N along with a lever of 0.5 m over 0.2 m tips with 100 N
    assert loads_of_both_bearings(100, 40, 0.5, 0.2).tolist() == pytest.approx([150, -50])
    assert loads_of_both_bearings(100, 40, 0.5, 0.2, 0.8).tolist() == pytest.approx([180, -80])
    # an arm outside both bearings lifts the farther one: 1.2 times across, -0.2 times
    assert loads_of_both_bearings(100, -40, 0.5, 0.2, 1.2).tolist() == pytest.approx([20, 80])
    # a total reading of 0.2 mm is 0.1 mm off the axis, over 0.4 m
    assert slope_of_runout(2e-4, 0.4) == pytest.approx(2.5e-4)


# Screws, one at a time


def by_plain_loops(levels, orders, shares):
    """Tighten screw by screw; each rise slackens what is tight already, and never below nothing."""
    screws = len(orders[0])
    left, tight = [0.0] * screws, [False] * screws
    for level, order in zip(levels, orders, strict=True):
        for place in order:
            rise = max(level - left[place], 0.0)
            for other in range(screws):
                apart = min(abs(place - other), screws - abs(place - other))
                if other != place and tight[other] and apart <= len(shares):
                    left[other] = max(left[other] - shares[apart - 1] * rise, 0.0)
            left[place] += rise
            tight[place] = True
    return left


@pytest.mark.parametrize("seed", range(12))
def test_cross_talk_is_that_of_plain_loops(seed):
    draw = np.random.default_rng(seed)
    screws, passes = int(draw.integers(1, 12)), int(draw.integers(1, 5))
    levels = draw.random(passes) * (1 if seed % 2 else 0.4)
    orders = [draw.permutation(screws) for _ in range(passes)]
    shares = draw.random(int(draw.integers(1, 4))) * 0.49
    found = preload_round_the_circle(levels, orders, shares)
    assert found == pytest.approx(by_plain_loops(levels, orders, shares), abs=1e-12)


def test_levels_and_orders_by_hand():
    assert [pass_levels(n) for n in range(6)] == [
        (),
        (1.0,),
        (0.5, 1.0),
        (0.3, 0.6, 1.0),
        (0.3, 0.6, 1.0, 1.0),
        (0.3, 0.6, 1.0, 1.0, 1.0),
    ]
    assert screw_sequence(2, "star").tolist() == [0, 1]
    assert screw_sequence(4, "star").tolist() == [0, 2, 1, 3]
    assert screw_sequence(5, "star").tolist() == [0, 2, 1, 3, 4]
    assert screw_sequence(12, "star").tolist() == [0, 6, 4, 10, 2, 8, 1, 7, 5, 11, 3, 9]
    assert screw_sequence(5, "no_order").tolist() == [0, 1, 2, 3, 4]
    for screws in (0, 65):
        with pytest.raises(OutOfRangeError):
            screw_sequence(screws, "star")
    for level, share in ((-0.1, 0.1), (1.0, -0.1), (1.0, 0.491)):
        with pytest.raises(OutOfRangeError):
            preload_round_the_circle([level], [0, 1, 2], [share])
