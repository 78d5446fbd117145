"""Rubber, the arm that cannot float, and the link that holds it."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.errors import OutOfRangeError
from scoring.mechanics import restrained_arm, rubber_modulus
from scoring.mechanics.anchor_stiffness import pendulum_stiffness, rod_bending_stiffness
from scoring.mechanics.bearing_rating_life import ROLLER_EXPONENT, rating_life, running_time
from scoring.mechanics.rubber_isolator import (
    annulus_area,
    annulus_shape_factor,
    compression_modulus,
    pad_stiffness,
    thin_ring_compression_modulus,
)
from scoring.mechanics.squeezed_rubber import (
    compressive_stress,
    squeezed_shear_stiffness,
    stiffening,
)
from scoring.mechanics.torque_arm_reaction import link_force, misalignment_factor

RUNOUT, SUPPORT, ARM, SPAN, MIS_SET = 0.0002, 0.2, 0.5, 0.15, 0.001
LOAD, RATING = 12e3, 75e3
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
    life = restrained_arm.life_ratio(LOAD, [0.0, rest], swing, ROLLER_EXPONENT)
    assert life[0] == pytest.approx(aligned, abs=2e-4)
    if mis_set is not None:
        assert life[1] == pytest.approx(mis_set, abs=2e-4)


def test_life_of_the_floating_unit() -> None:
    # our own calculation
    speed = 60 * 2 * np.pi / 60
    life = running_time(rating_life(RATING, LOAD, ROLLER_EXPONENT), speed) / 3600
    assert life == pytest.approx(124_920, rel=1e-4)
    assert restrained_arm.life_ratio(LOAD, 0, 0, ROLLER_EXPONENT) == pytest.approx(1.0, abs=1e-12)


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
    swing = restrained_arm.life_ratio(LOAD, rest, [gentle, harsh], ROLLER_EXPONENT)
    push = restrained_arm.life_ratio(LOAD, [gentle, harsh], rest, ROLLER_EXPONENT)
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


def test_modulus_from_hardness() -> None:
    # Source of both formulas: Gent 1958, abstract, and as coded in three unrelated public files;
    # a page with the log10 fit. The values are our own calculation.
    shore = [40, 50, 60, 70, 80]
    assert rubber_modulus.gent_modulus(shore) / 1e6 == pytest.approx(
        [1.690, 2.456, 3.605, 5.521, 9.351], abs=1e-3
    )
    assert rubber_modulus.rival_modulus(shore[:4]) / 1e6 == pytest.approx(
        [1.99, 3.43, 5.88, 10.1], rel=3e-3
    )


def test_table_of_constants_where_it_was_read() -> None:
    # Source: a one-page note quoting "Designing with Rubber": hardness 65 and 75, k = 0.54 and
    # 0.52, Young's modulus 830 and 1340 psi; the table from memory is within 3 % of that
    assert rubber_modulus.compression_factor([65, 75]).tolist() == [0.54, 0.52]
    psi = 6894.757
    assert rubber_modulus.young_modulus([65, 75]) / psi == pytest.approx([830, 1340], rel=0.03)


def test_isolators() -> None:
    # our own calculation
    assert compression_modulus(4.45e6, 0.57, 1.0) / 1e6 == pytest.approx(9.523, abs=1e-3)
    area = annulus_area(0.075, 0.026)
    assert area * 1e6 == pytest.approx(3886.9, abs=0.1)
    shape = annulus_shape_factor(0.075, 0.026, 0.025)
    assert shape == pytest.approx(0.49)
    hardness = np.array([60, 50, 70])
    young = rubber_modulus.young_modulus(hardness)
    k = rubber_modulus.compression_factor(hardness)
    modulus = compression_modulus(young, k, shape, rubber_modulus.bulk_modulus(hardness))
    assert modulus[0] / 1e6 == pytest.approx(5.640, abs=1e-3)
    pressed = pad_stiffness(modulus, area, 0.025) / 1e3
    assert pressed == pytest.approx([876.9, 460.6, 1423.3], rel=1e-3)
    sheared = pad_stiffness(rubber_modulus.shear_modulus(hardness), area, 0.025) / 1e3
    assert sheared == pytest.approx([164.8, 99.5, 269.0], rel=1e-3)
    ring = pad_stiffness(thin_ring_compression_modulus(4.45e6, 0.57, shape), area, 0.025) / 1e3
    assert ring == pytest.approx(1048.7, rel=1e-3)


def test_squeezed_rubber() -> None:
    # our own calculation
    strain = [0.05, 0.10, 0.15, 0.20, 0.30, 0.35, 0.40, 0.50]
    assert compressive_stress(1.0, strain) == pytest.approx(
        [0.0527, 0.1115, 0.1780, 0.2542, 0.4469, 0.5723, 0.7259, 1.1667], abs=1e-4
    )
    assert stiffening(strain) == pytest.approx(
        [1.111, 1.248, 1.419, 1.635, 2.277, 2.761, 3.420, 5.667], abs=1e-3
    )
    # the stiffness is the slope of the stress
    small = 1e-6
    slope = (compressive_stress(1.0, 0.3 + small) - compressive_stress(1.0, 0.3 - small)) / small
    assert slope / 2 == pytest.approx(stiffening(0.3), rel=1e-6)
    assert squeezed_shear_stiffness(329.6e3, 0.35) / 1e3 == pytest.approx(780, abs=0.5)


def test_anchor_without_rubber() -> None:
    # our own calculation
    assert rod_bending_stiffness(0.030, 0.300, 206e9) / 1e3 == pytest.approx(3640, rel=1e-3)
    assert pendulum_stiffness(6e3, 0.6) == pytest.approx(10e3)


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
        rubber_modulus.young_modulus(80)
    with pytest.raises(OutOfRangeError, match="less than the outside"):
        annulus_area(0.02, 0.02)
    with pytest.raises(OutOfRangeError):
        stiffening(0.7)
    assert np.isnan(rubber_modulus.young_modulus(np.nan))
