"""What a held arm does to bearings and seals: by the hazard and the run-out it leaves, by hand."""

from types import SimpleNamespace

import numpy as np
import pytest

from scoring.consequences.arm_restraint import ArmRestraint
from scoring.consequences.restraint import HeldArm
from scoring.handbook.held_arm_effect import (
    held_arm_mean_and_square,
    leaks_by_runout,
    usual_mean,
)

HALF_LIFE, TENTH_OF_LIFE = 2**1.3, 10**1.3
"""Hazards of a life that was halved, or has become a tenth."""


def held_by(shares, hazard, lip_runout_mm):
    """Return what an anchor does, one arm, a hazard and a run-out under the lip for each point."""
    shares = np.array([shares])
    return SimpleNamespace(
        hazard=np.array([hazard]),
        lip_runout=np.array([lip_runout_mm]) / 1e3,
        mean=lambda values: (values * shares).sum(axis=1),
    )


def restraint(rubber, metal, clamped, by_metal, shares=(1.0,)):
    """Return one arm of which rubber and metal do so much harm."""
    arm = HeldArm(np.zeros((1, 2)), held_by(shares, *rubber), held_by(shares, *metal))
    return ArmRestraint(arm, np.array([0]), np.array([clamped]), np.array([by_metal]))


@pytest.mark.parametrize(
    ("clamped", "metal", "mean", "square"),
    [  # twice the hazard by statics, and never more than 12 times
        (0, 0, 1, 1),
        (1, 0, 2 * HALF_LIFE, (2 * HALF_LIFE) ** 2),
        (0, 1, 12, 144),
        (1, 1, 12, 144),  # metal beside rubber
        (0.5, 0, 0.5 + 0.5 * 2 * HALF_LIFE, 0.5 + 0.5 * (2 * HALF_LIFE) ** 2),
        (
            0.5,
            0.2,
            0.4 + 0.4 * 2 * HALF_LIFE + 0.2 * 12,
            0.4 + 0.4 * (2 * HALF_LIFE) ** 2 + 0.2 * 144,
        ),
    ],
)
def test_mean_and_mean_square_by_hand(clamped, metal, mean, square):
    arm = restraint(([HALF_LIFE], [0.05]), ([TENTH_OF_LIFE], [0.05]), clamped, metal)
    got = held_arm_mean_and_square("low_speed_bearing", arm)
    assert got == (pytest.approx([mean]), pytest.approx([square]))


def test_points_of_what_was_not_measured_are_weighed_by_their_shares():
    points = [1.0, HALF_LIFE], [0.05, 0.05]
    arm = restraint(points, points, 1, 0, shares=(0.75, 0.25))
    mean, square = held_arm_mean_and_square("low_speed_bearing", arm)
    assert mean == pytest.approx([0.75 * 2 + 0.25 * 2 * HALF_LIFE])
    assert square == pytest.approx([0.75 * 4 + 0.25 * (2 * HALF_LIFE) ** 2])


def test_rubber_never_harms_more_than_twelvefold_either():
    arm = restraint(([100.0], [0.05]), ([100.0], [0.05]), 1, 0)
    assert held_arm_mean_and_square("low_speed_bearing", arm)[0] == pytest.approx([12])


def test_seals_leak_by_custom_and_by_what_the_lip_sees_whatever_the_hazard_of_bearings():
    """Under the lip 0.15 mm multiply leaks by 1.25, and 0.5 mm by 2.4."""
    arm = restraint(([9.0], [0.15]), ([9.0], [0.5]), 0.5, 0.2)
    mean, square = held_arm_mean_and_square("seal_leak", arm)
    assert mean == pytest.approx([0.4 + 0.4 * 1.6 * 1.25 + 0.2 * 2 * 2.4])
    assert square == pytest.approx([0.4 + 0.4 * (1.6 * 1.25) ** 2 + 0.2 * (2 * 2.4) ** 2])


def test_leaks_by_runout_between_and_beyond_its_points():
    between = np.sqrt(1.25 * 1.6)  # half way, on the scale of logarithms
    found = leaks_by_runout(np.array([0.0, 0.06, 0.2, 1.0, 5.0]) / 1e3)
    assert found == pytest.approx([1, 1, between, 3.5, 3.5])


def test_usual_mean_lies_between_that_of_an_unforced_arm_and_the_most():
    """Rubber holds 18 of 100 arms, metal some 4.6 of 100 beside it."""
    rubber, metal = 0.18 * (1 - 0.0458), 0.0458
    least = 1 + 0.6 * rubber + 1.0 * metal
    assert least < usual_mean("seal_leak") < 1 + (1.6 * 3.5 - 1) * rubber + (2 * 3.5 - 1) * metal
    least = 1 + 1.0 * (rubber + metal)
    assert least < usual_mean("low_speed_bearing") < 1 + 11 * (rubber + metal)
