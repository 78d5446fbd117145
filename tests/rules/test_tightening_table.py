"""Passes and orders of tightening: orders known by hand, and what every order must keep."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.errors import FixableError, OutOfRangeError
from scoring.rules.tightening_schedule import (
    screw_order,
    tightening_table,
    torque_shares,
)


@pytest.mark.parametrize(
    ("screws", "order"),
    [  # each time the screw farthest from all tightened so far, then across from the last
        (2, [1, 2]),
        (3, [1, 2, 3]),
        (4, [1, 3, 2, 4]),
        (5, [1, 3, 5, 2, 4]),
        (6, [1, 4, 2, 5, 3, 6]),
        (8, [1, 5, 3, 7, 2, 6, 4, 8]),
    ],
)
def test_stars_by_hand(screws, order):
    assert screw_order(screws, "tapered_bushing") == order


@given(st.integers(2, 48))
def test_a_star_takes_every_screw_once_and_starts_across(screws):
    order = screw_order(screws, "tapered_bushing")
    assert sorted(order) == list(range(1, screws + 1))
    assert order[0] == 1
    assert order[1] == screws // 2 + 1
    assert screw_order(screws, "shrink_disc") == list(range(1, screws + 1))


@given(st.integers(4, 48))
def test_each_screw_of_a_star_is_as_far_from_the_tightened_as_any(screws):
    order = [screw - 1 for screw in screw_order(screws, "tapered_bushing")]
    for place in range(1, screws):
        done, rest = order[:place], order[place:]
        nearest = [min(min((r - d) % screws, (d - r) % screws) for d in done) for r in rest]
        assert nearest[0] == max(nearest)


@pytest.mark.parametrize("screws", [1, 49])
def test_circles_of_a_size_that_is_not_met_are_refused(screws):
    with pytest.raises(OutOfRangeError, match="2 to 48"):
        screw_order(screws, "shrink_disc")


def test_a_mounting_without_clamp_screws_is_refused():
    with pytest.raises(FixableError, match="keyed_bore has no clamp screws"):
        screw_order(8, "keyed_bore")


@pytest.mark.parametrize(
    ("passes", "shares"),
    [
        (3, [0.25, 0.5, 1]),
        (4, [0.25, 0.25 ** (2 / 3), 0.25 ** (1 / 3), 1]),
        (5, [0.25, 0.25**0.75, 0.5, 0.25**0.25, 1]),
    ],
)
def test_each_pass_brings_the_same_factor(passes, shares):
    assert torque_shares(passes) == pytest.approx(shares)


@given(st.integers(3, 9))
def test_shares_rise_by_one_factor_from_a_quarter_to_all(passes):
    shares = torque_shares(passes)
    assert len(shares) == passes
    assert (shares[0], shares[-1]) == (0.25, 1)
    factors = [b / a for a, b in pairwise(shares)]
    assert factors == pytest.approx([factors[0]] * (passes - 1))


@pytest.mark.parametrize("passes", [2, 10])
def test_passes_out_of_range_are_refused(passes):
    with pytest.raises(OutOfRangeError, match="3 to 9"):
        torque_shares(passes)


def test_a_table_by_hand():
    table = tightening_table(80, 4, "tapered_bushing", passes=3)
    assert table["pass"].tolist() == ["1", "2", "3", "check, until no screw turns"]
    assert table["torque_nm"].tolist() == [20, 40, 80, 80]
    assert table["share"].tolist() == [0.25, 0.5, 1, 1]
    assert table["order"].tolist() == ["1 3 2 4"] * 3 + ["1 2 3 4"]


def test_torques_are_told_to_a_thousandth():
    assert tightening_table(100, 2, "shrink_disc", passes=4)["torque_nm"].tolist() == [
        25.0,
        39.685,
        62.996,
        100.0,
        100.0,
    ]


@pytest.mark.parametrize("torque", [0, -5, float("nan")])
def test_a_final_torque_that_is_none_is_refused(torque):
    with pytest.raises(OutOfRangeError, match="above 0"):
        tightening_table(torque, 8, "shrink_disc")


def test_a_torque_below_one_is_a_torque():
    assert tightening_table(0.5, 2, "shrink_disc")["torque_nm"].tolist() == [0.125, 0.25, 0.5, 0.5]
