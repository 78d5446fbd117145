"""Cross-talk between screws, passes and orders."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.errors import OutOfRangeError
from scoring.mechanics.staged_tightening import (
    mean_and_lowest_preload,
    pass_levels,
    preload_round_the_circle,
    screw_sequence,
)

CIRCLE = screw_sequence(8, "circular")
STAR = screw_sequence(8, "star")
SCREWS = st.integers(3, 24)
ORDERS = st.sampled_from(["circular", "star"])


@pytest.mark.parametrize(
    # our own calculation: eight screws, 0.15 and 0.03 taken from the next and the next but one
    ("levels", "sequence", "mean", "lowest", "spread"),
    [
        ([1], CIRCLE, 0.820, 0.640, 1.56),
        ([1], STAR, 0.820, 0.640, 1.56),
        ([0.3, 0.6, 1], STAR, 0.892, 0.786, 1.27),
        ([0.3, 0.6, 1, 1], [STAR] * 3 + [CIRCLE], 0.979, 0.964, 1.04),
        ([0.3, 0.6, 1, 1, 1], [STAR] * 3 + [CIRCLE] * 2, 0.996, 0.992, 1.01),
        ([1, 1], CIRCLE, 0.965, 0.933, None),
        ([1, 1, 1], CIRCLE, 0.993, 0.987, None),
        ([1, 1, 1, 1], CIRCLE, 0.999, 0.997, None),
    ],
)
def test_what_passes_leave(
    levels: list[float], sequence: list[int], mean: float, lowest: float, spread: float | None
) -> None:
    left = preload_round_the_circle(levels, sequence)
    assert (left.mean(), left.min()) == pytest.approx((mean, lowest), abs=1e-3)
    if spread is not None:
        assert left.max() / left.min() == pytest.approx(spread, abs=0.006)


def test_first_screw_of_a_single_pass_loses_about_a_third() -> None:
    # Source: a technical-reference page on tightening sequences: a loss of about 35 %
    assert 1 - preload_round_the_circle([1.0], CIRCLE)[0] == pytest.approx(0.35, abs=0.015)


def test_a_fleet_gets_what_each_circle_gets() -> None:
    mean, lowest = mean_and_lowest_preload(
        [8, 8, np.nan, 8, 6, 8], [3, 1, 3, np.nan, 0, 4], ["star", "circular", "", "", "", "star"]
    )
    assert mean == pytest.approx([0.892, 0.82, np.nan, np.nan, 0, 0.979], abs=1e-3, nan_ok=True)
    assert lowest[1] == pytest.approx(0.64)
    assert mean_and_lowest_preload([[8], [10]], [1, 2, 3])[0].shape == (2, 3)
    assert mean_and_lowest_preload([], [])[0].shape == (0,)


def test_cross_talk_may_differ_from_unit_to_unit() -> None:
    left = preload_round_the_circle([0.3, 0.6, 1.0], STAR, [[0.15, 0.03], [0.0, 0.0], [0.1, 0.0]])
    assert left.shape == (3, 8)
    assert left[0] == pytest.approx(preload_round_the_circle([0.3, 0.6, 1.0], STAR))
    assert left[1] == pytest.approx(np.ones(8))


@given(SCREWS, ORDERS, st.integers(1, 8))
def test_one_more_pass_never_lowers_the_mean(screws: int, order: str, passes: int) -> None:
    mean, lowest = mean_and_lowest_preload(screws, [passes, passes + 1], order)
    assert mean[1] >= mean[0] - 1e-12
    assert 0 <= lowest[0] <= mean[0] + 1e-12 <= 1 + 2e-12


@given(SCREWS, st.integers(1, 6))
def test_in_a_single_pass_the_order_does_not_move_the_mean(screws: int, passes: int) -> None:
    one_pass, _ = mean_and_lowest_preload(screws, 1, ["star", "circular"])
    assert one_pass[0] == pytest.approx(one_pass[1])
    many, _ = mean_and_lowest_preload(screws, passes, ["star", "circular"])
    assert many[0] == pytest.approx(many[1], abs=0.02)


@given(st.integers(1, 64), ORDERS)
def test_a_sequence_takes_each_screw_once(screws: int, order: str) -> None:
    assert sorted(screw_sequence(screws, order).tolist()) == list(range(screws))


def test_a_star_starts_across() -> None:
    assert screw_sequence(6, "star").tolist() == [0, 3, 2, 5, 1, 4]
    assert screw_sequence(3, "star").tolist() == [0, 1, 2]
    assert screw_sequence(1, "star").tolist() == [0]


def test_ranges() -> None:
    assert pass_levels(0) == ()
    for wrong in (-1, 21):
        with pytest.raises(OutOfRangeError):
            pass_levels(wrong)
    with pytest.raises(OutOfRangeError, match="whole numbers"):
        mean_and_lowest_preload(7.5, 3)
    with pytest.raises(OutOfRangeError, match="each screw once"):
        preload_round_the_circle([1.0], [0, 1, 1])
