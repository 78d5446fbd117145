"""What a held arm does to bearings: by the life it leaves, by hand."""

import numpy as np
import pytest

from scoring.consequences.arm_restraint import ArmRestraint
from scoring.consequences.restraint import HeldArm
from scoring.handbook.held_arm_effect import held_arm_mean_and_square, usual_mean

NOTHING = np.array([np.nan])


def restraint(rubber_life, metal_life, clamped, metal, shares=(1.0,)):
    """Return one arm whose bearings live so long when rubber, or metal, holds it."""
    lives = np.array([rubber_life]), np.array([metal_life])
    arm = HeldArm(np.array(shares), NOTHING, *(np.zeros_like(lives[0]),) * 2, *lives)
    shares_held = np.array([clamped]), np.array([metal])
    return ArmRestraint(arm, np.array([0]), *shares_held, NOTHING, NOTHING, NOTHING)


@pytest.mark.parametrize(
    ("clamped", "metal", "mean", "square"),
    [  # half the life: 1.4 * 2^1.3 = 3.447; a tenth: 1.4 * 10^1.3 = 27.9, never more than 12
        (0, 0, 1, 1),
        (1, 0, 1.4 * 2**1.3, (1.4 * 2**1.3) ** 2),
        (0, 1, 12, 144),
        (1, 1, 12, 144),  # metal beside rubber
        (0.5, 0, 0.5 + 0.5 * 1.4 * 2**1.3, 0.5 + 0.5 * (1.4 * 2**1.3) ** 2),
        (
            0.5,
            0.2,
            0.4 + 0.4 * 1.4 * 2**1.3 + 0.2 * 12,
            0.4 + 0.4 * (1.4 * 2**1.3) ** 2 + 0.2 * 144,
        ),
    ],
)
def test_mean_and_mean_square_by_hand(clamped, metal, mean, square):
    got = held_arm_mean_and_square("low_speed_bearing", restraint([0.5], [0.1], clamped, metal))
    assert got == (pytest.approx([mean]), pytest.approx([square]))


def test_points_of_what_was_not_measured_are_weighed_by_their_shares():
    arm = restraint([1.0, 0.5], [1.0, 0.1], 1, 0, shares=(0.75, 0.25))
    mean, square = held_arm_mean_and_square("low_speed_bearing", arm)
    assert mean == pytest.approx([0.75 * 1.4 + 0.25 * 1.4 * 2**1.3])
    assert square == pytest.approx([0.75 * 1.4**2 + 0.25 * (1.4 * 2**1.3) ** 2])


def test_rubber_never_harms_more_than_twelvefold_either():
    mean, _ = held_arm_mean_and_square("low_speed_bearing", restraint([0.01], [0.5], 1, 0))
    assert mean == pytest.approx([12])


def test_seals_leak_by_custom_whatever_the_life():
    mean, square = held_arm_mean_and_square("seal_leak", restraint([0.1], [0.1], 0.5, 0.2))
    assert mean == pytest.approx([0.4 + 0.4 * 1.6 + 0.2 * 2])
    assert square == pytest.approx([0.4 + 0.4 * 1.6**2 + 0.2 * 4])


def test_usual_mean_by_hand():
    """Rubber holds 18 of 100 arms, metal 3 of 100 beside it: leaks 1.6 and 2 times."""
    assert usual_mean("seal_leak") == pytest.approx(1 + 0.6 * 0.18 * 0.97 + 1.0 * 0.03)
    assert 1 < usual_mean("low_speed_bearing") < 1 + 11 * (0.18 * 0.97 + 0.03)
