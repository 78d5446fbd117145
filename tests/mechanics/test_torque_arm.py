"""Rubber, the arm that cannot float, and the link that holds it."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.errors import OutOfRangeError
from scoring.mechanics import restrained_arm, rubber_modulus
from scoring.mechanics.bearing_rating_life import rating_life, running_time
from scoring.mechanics.rubber_isolator import annulus_area, pad_stiffness
from scoring.mechanics.squeezed_rubber import squeezed_shear_stiffness
from scoring.mechanics.torque_arm_reaction import link_force, misalignment_factor

RUNOUT, SUPPORT, ARM, SPAN, MIS_SET = 0.0002, 0.2, 0.5, 0.15, 0.001
LOAD, RATING = 12e3, 75e3
ROLLER = 10 / 3
INF = float("inf")


def _loads(stiffness: float) -> tuple[float, float]:
    """Swinging and resting load per bearing, in newtons, for one stiffness in all directions."""
    slope = restrained_arm.slope_of_runout(RUNOUT, SUPPORT)
    swinging = restrained_arm.load_per_bearing(
        restrained_arm.anchor_force(stiffness, RUNOUT / 2, INF),
        restrained_arm.anchor_force(stiffness, ARM * slope, INF),
        ARM,
        SPAN,
    )
    along = restrained_arm.anchor_force(stiffness, MIS_SET, INF)
    return float(swinging), float(restrained_arm.load_per_bearing(0.0, along, ARM, SPAN))


@pytest.mark.parametrize(
    ("stiffness", "swinging", "resting", "aligned", "mis_set"),
    [  # our own calculation
        (10e3, 8.8, 33, 1.0000, 0.9908),
        (329.6e3, 291, 1_099, 0.9989, 0.7460),
        (780e3, 689, 2_600, 0.9936, 0.5178),
        (3640e3, 3_216, 12_134, 0.8773, 0.0941),
        (20e6, 17_667, 66_667, 0.1815, None),
    ],
)
def test_what_a_restrained_arm_costs(
    stiffness: float, swinging: float, resting: float, aligned: float, mis_set: float | None
) -> None:
    swing, rest = _loads(stiffness)
    assert (swing, rest) == pytest.approx((swinging, resting), rel=1e-3, abs=0.5)
    life = restrained_arm.life_ratio(LOAD, [0.0, rest], swing, ROLLER)
    assert life[0] == pytest.approx(aligned, abs=2e-4)
    if mis_set is not None:
        assert life[1] == pytest.approx(mis_set, abs=2e-4)


def test_life_of_the_floating_unit() -> None:
    # our own calculation
    speed = 60 * 2 * np.pi / 60
    life = running_time(rating_life(RATING, LOAD, ROLLER), speed) / 3600
    assert life == pytest.approx(124_920, rel=1e-4)
    assert restrained_arm.life_ratio(LOAD, 0, 0, ROLLER) == pytest.approx(1.0, abs=1e-12)


@given(st.floats(0, 1e8), st.floats(0, 5e-3), st.floats(0, 1e-3), st.sampled_from([3.0, 10 / 3]))
def test_a_free_arm_always_lives_longest(
    stiffness: float, mis_set: float, runout: float, exponent: float
) -> None:
    across = restrained_arm.anchor_force(stiffness, runout / 2, INF)
    slope = restrained_arm.slope_of_runout(runout, SUPPORT)
    along = restrained_arm.anchor_force(stiffness, ARM * slope, INF)
    swinging = restrained_arm.load_per_bearing(across, along, ARM, SPAN)
    pushed = restrained_arm.anchor_force(stiffness, mis_set, INF)
    resting = restrained_arm.load_per_bearing(0, pushed, ARM, SPAN)
    ratio = restrained_arm.life_ratio(LOAD, resting, swinging, exponent)
    assert 0 < ratio <= 1 + 1e-12


@given(st.floats(0, 5e4), st.floats(0, 5e4), st.floats(0, 5e4))
def test_more_load_never_lengthens_life(rest: float, one: float, other: float) -> None:
    gentle, harsh = sorted((one, other))
    swing = restrained_arm.life_ratio(LOAD, rest, [gentle, harsh], ROLLER)
    push = restrained_arm.life_ratio(LOAD, [gentle, harsh], rest, ROLLER)
    for ratio in (swing, push):
        assert ratio[1] <= ratio[0] * (1 + 1e-9)


def test_forces_stop_at_the_weakest_element() -> None:
    assert restrained_arm.anchor_force(20e6, 0.001, [INF, 8e3, np.nan]) == pytest.approx(
        [20e3, 8e3, np.nan], nan_ok=True
    )
    with pytest.raises(OutOfRangeError):
        restrained_arm.anchor_force(20e6, 0.001, -1.0)
    with pytest.raises(OutOfRangeError):
        restrained_arm.anchor_force(20e6, 0.001, -INF)
    assert restrained_arm.share_of_nearer_bearing([0, 0.075, 0.15], 0.15) == pytest.approx(
        [0.5, 1.0, 1.5]
    )


def test_modulus_from_hardness_a_second_way() -> None:
    # Source: Gent 1958, abstract, and as coded in three unrelated public files: Young's modulus
    # from Shore A. Rubber keeps its volume, so its shear modulus is a third of that. Hardness
    # tells either within about 30 % at best.
    shore = np.array([40, 50, 60, 70])
    young = 0.0981e6 * (56 + 7.62336 * shore) / (0.137505 * (254 - 2.54 * shore))
    assert rubber_modulus.shear_modulus(shore) == pytest.approx(young / 3, rel=0.25)


def test_isolators() -> None:
    # our own calculation
    area = annulus_area(0.075, 0.026)
    assert area * 1e6 == pytest.approx(3886.9, abs=0.1)
    sheared = pad_stiffness(rubber_modulus.shear_modulus([60, 50, 70]), area, 0.025) / 1e3
    assert sheared == pytest.approx([164.8, 99.5, 269.0], rel=1e-3)


def test_squeezed_rubber() -> None:
    # our own calculation
    assert squeezed_shear_stiffness(329.6e3, 0.35) / 1e3 == pytest.approx(780, abs=0.5)


def test_link_force() -> None:
    # our own calculation: 3000 N·m, 0.5 m, 2 kN at 0.15 m to either side
    square = link_force(3000, 0.5, np.pi / 2, [0, 300, -300])
    assert square == pytest.approx([6000, 5400, 6600])
    assert link_force(3000, 0.5, np.radians(60)) == pytest.approx(6928, abs=1)
    assert misalignment_factor(np.radians([90, 75, 60, 45])) == pytest.approx(
        [1, 1.0353, 1.1547, 1.4142], abs=1e-4
    )
    with pytest.raises(OutOfRangeError):
        misalignment_factor(0.0)


def test_ranges() -> None:
    with pytest.raises(OutOfRangeError):
        rubber_modulus.shear_modulus(80)
    with pytest.raises(OutOfRangeError, match="less than the outside"):
        annulus_area(0.02, 0.02)
    with pytest.raises(OutOfRangeError):
        squeezed_shear_stiffness(1.0, 0.7)
    assert np.isnan(rubber_modulus.shear_modulus(np.nan))
