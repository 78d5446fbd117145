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
from scoring.mechanics.variable_load import damage_of_a_turn

RUNOUT, SUPPORT, ARM, SPAN, MIS_SET = 0.0002, 0.2, 0.5, 0.15, 0.001
LOAD, RATING = 12e3, 75e3
ROLLER = 10 / 3


def _loads(stiffness: float) -> tuple[list[float], list[float]]:
    """Swinging and resting load of both bearings [N], for one stiffness in all directions."""
    slope = restrained_arm.slope_of_runout(RUNOUT, SUPPORT)
    across = restrained_arm.anchor_force(stiffness, RUNOUT / 2)
    along = restrained_arm.anchor_force(stiffness, ARM * slope)
    pull = restrained_arm.anchor_force(stiffness, MIS_SET)
    swinging = restrained_arm.loads_of_both_bearings(across, along, ARM, SPAN)
    resting = restrained_arm.loads_of_both_bearings(0.0, pull, ARM, SPAN)
    return np.abs(swinging).tolist(), np.abs(resting).tolist()


@pytest.mark.parametrize(
    ("stiffness", "loads", "lives", "in_worst_direction"),
    [  # our own calculation: loads, swinging and at rest, of the bearing that gets more; lives,
        # aligned and mis-set, of both bearings, integrated round turn and directions, and of the
        # one with all loads in line
        (10e3, (8.8, 33), (1.0000, 1.0000), (1.0000, 0.9908)),
        (329.6e3, (291, 1_099), (0.9993, 0.9765), (0.9989, 0.7460)),
        (780e3, (689, 2_600), (0.9959, 0.8808), (0.9936, 0.5178)),
        (3640e3, (3_216, 12_134), (0.9178, 0.2315), (0.8773, 0.0941)),
        (20e6, (17_667, 66_667), (0.2411, 0.0027), (0.1815, 0.0)),
    ],
)
def test_what_a_restrained_arm_costs(
    stiffness: float,
    loads: tuple[float, float],
    lives: tuple[float, float],
    in_worst_direction: tuple[float, float],
) -> None:
    swing, rest = _loads(stiffness)
    assert (swing[0], rest[0]) == pytest.approx(loads, rel=1e-3, abs=0.5)
    assert rest[1] == rest[0]
    assert swing[1] < swing[0]
    life = restrained_arm.life_ratio([LOAD] * 2, [[0.0, 0.0], rest], swing, ROLLER, 1.3)
    for found, integrated, worst in zip(life, lives, in_worst_direction, strict=True):
        assert integrated / 1.06 - 1e-4 <= found <= integrated + 1e-4
        assert found >= worst - 1e-4


def test_life_of_the_floating_unit() -> None:
    # our own calculation
    speed = 60 * 2 * np.pi / 60
    life = running_time(rating_life(RATING, LOAD, ROLLER), speed) / 3600
    assert life == pytest.approx(124_920, rel=1e-4)
    assert restrained_arm.life_ratio([LOAD, 9e3], [0, 0], [0, 0], ROLLER, 1.3) == pytest.approx(
        1.0, abs=1e-12
    )


def _life_by_integration(own, at_rest, swing, slope: float) -> float:
    """Each bearing by itself, round the turn and round all directions; then both together."""
    angles = (np.arange(720) + 0.5) / 720 * 2 * np.pi
    worn, alone = 0.0, 0.0
    for load, rest, amplitude in zip(own, at_rest, swing, strict=True):
        added = rest + amplitude * np.cos(angles)
        found = np.abs(load * np.exp(1j * angles[:, np.newaxis]) + added)
        worn += (found**ROLLER).mean() ** slope
        alone += (load**ROLLER) ** slope
    return float((alone / worn) ** (1 / slope))


@given(*[st.tuples(*[st.floats(low, 4e4)] * 2) for low in (2e3, 0, 0)])
def test_life_of_both_bearings_a_second_way(own, at_rest, swing) -> None:
    found = float(restrained_arm.life_ratio(own, at_rest, swing, ROLLER, 1.3))
    by_hand = _life_by_integration(own, at_rest, swing, 1.3)
    assert by_hand / 1.06 <= found <= by_hand * (1 + 1e-6)


@given(
    st.floats(1e3, 5e4),
    *[st.tuples(*[st.floats(0, 5e4)] * 2)] * 2,
    st.sampled_from([0, 1]),
    st.floats(0, 5e4),
)
def test_more_load_never_lengthens_life(own, at_rest, swing, bearing, more) -> None:
    life = restrained_arm.life_ratio([own, own], at_rest, swing, ROLLER, 1.3)
    assert 0 < life <= 1 + 1e-12
    for loads in (at_rest, swing):
        harsh = [load + (n == bearing) * more for n, load in enumerate(loads)]
        rest, amplitude = (harsh, swing) if loads is at_rest else (at_rest, harsh)
        harsher = restrained_arm.life_ratio([own, own], rest, amplitude, ROLLER, 1.3)
        assert harsher <= life * (1 + 1e-12)


FORCES = st.one_of(st.sampled_from([0.0, 500.0, 1000.0]), st.floats(0, 3000))


@given(FORCES, FORCES, FORCES, st.floats(0, 1))
def test_pull_and_swing_together_never_pass_the_weakest_element(pull, swing, weakest, cosine):
    pulls, swings = restrained_arm.shared_at_the_anchor(pull, swing, weakest, cosine)
    most = np.sqrt(pulls**2 + swings**2 + 2 * pulls * swings * cosine)
    assert (most <= weakest * (1 + 1e-12)).all()
    assert (pulls <= pull).all()
    assert (swings <= swing).all()
    if np.sqrt(pull**2 + swing**2 + 2 * pull * swing * cosine) < 0.92 * weakest:
        assert pulls.tolist() == pytest.approx([pull] * 3)
        assert swings.tolist() == pytest.approx([swing] * 3)
    elif pull and swing and weakest:
        assert most.max() >= 0.92 * weakest * (1 - 1e-12)


def test_how_pull_and_swing_share_by_hand() -> None:
    """In line their sum is what the weakest element bears; at right angles their hypotenuse."""
    in_line = restrained_arm.shared_at_the_anchor(800, 900, 1000, 1.0)
    assert np.transpose(in_line).tolist() == [
        pytest.approx([800, 200]),
        pytest.approx([100, 900]),
        pytest.approx([500, 500]),
    ]
    square = restrained_arm.shared_at_the_anchor(2000, 2000, 1000, 0.0)
    assert np.transpose(square).tolist() == [
        pytest.approx([1000, 0]),
        pytest.approx([0, 1000]),
        pytest.approx([1000 / 2**0.5] * 2),
    ]
    assert not np.any(restrained_arm.shared_at_the_anchor(2000, 2000, 0, 0.5))


@given(
    st.tuples(*[FORCES] * 3),
    st.tuples(st.floats(0, 1), st.floats(0.01, 3), st.floats(0.01, 3)),
    st.floats(0, 2000),
    st.sampled_from([0, 1, 2]),
)
def test_more_pull_swing_or_strength_never_lowers_the_worst_damage(
    forces, geometry, more, which
) -> None:
    cosine, of_pull, of_swing = geometry

    def worst(pull_swing_and_weakest):
        pulls, swings = restrained_arm.shared_at_the_anchor(*pull_swing_and_weakest, cosine)
        return damage_of_a_turn(1000.0, of_pull * pulls, of_swing * swings, ROLLER).max() ** 1.3

    harsher = [force + (n == which) * more for n, force in enumerate(forces)]
    assert worst(harsher) >= worst(forces) * (1 - 1e-12)


def test_share_of_the_nearer_bearing() -> None:
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
