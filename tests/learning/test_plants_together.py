"""What plants say together: by hand, a second way, and what must hold whatever they say."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from scoring.contract.events import MODES
from scoring.learning.covariates import handbook_columns
from scoring.learning.plant_share import PlantShare
from scoring.learning.plants_together import (
    LEVEL_SPREAD,
    MOST_USUAL_SPREAD,
    given_spread,
    mean_spread,
    next_plant,
)

FREE = np.array([-np.inf])
SEAL = "seal_leak"


def estimate(value, deviation):
    """Return the share of a plant whose failures give one coefficient with a standard error."""
    precision = np.atleast_2d(deviation**-2.0)
    return PlantShare(precision @ np.atleast_1d(float(value)), precision)


def test_two_plants_give_the_textbook_result_by_hand():
    # handbook 0 +- 0.5, plants differ by 0.3: of what is common it is sure within 0.4;
    # estimates 0.6 and 0.2, both +- 0.4, so each tells of it with variance 0.16 + 0.09 = 0.25
    found = given_spread(
        [estimate(0.6, 0.4), estimate(0.2, 0.4)], np.array([0.5]), np.array([0.3]), FREE
    )
    precision = 1 / 0.16 + 1 / 0.25 + 1 / 0.25  # 14.25
    assert found.mean[0] == pytest.approx((0.6 / 0.25 + 0.2 / 0.25) / precision)
    assert found.mean[0] == pytest.approx(0.2245614)
    assert found.covariance[0, 0] == pytest.approx(1 / 14.25 + 0.09)


def test_what_is_below_its_bound_stops_there():
    below = [estimate(-2.0, 0.2)]
    found = given_spread(below, np.array([0.5]), np.array([0.1]), np.array([-0.3]))
    free = given_spread(below, np.array([0.5]), np.array([0.1]), FREE)
    assert found.mean.tolist() == [-0.3]
    np.testing.assert_array_equal(found.covariance, free.covariance)


@pytest.mark.parametrize("mode", MODES)
def test_no_plant_leaves_the_handbook(mode):
    columns = handbook_columns(mode)
    found = next_plant(columns, [])
    np.testing.assert_array_equal(found.mean, 0)
    np.testing.assert_allclose(found.deviation, columns.scale[columns.passes])


def drawn_shares(seed, size, count):
    """Draw shares of which some columns are known through each other alone."""
    rng = np.random.default_rng(seed)
    shares = []
    for _ in range(count):
        rows = rng.normal(size=(size - 1, size)) * rng.lognormal(0.5, 1.0, (size - 1, 1))
        precision = rows.T @ rows
        shares.append(PlantShare(precision @ rng.normal(0, 0.5, size), precision))
    return shares


@pytest.mark.parametrize("seed", range(5))
def test_a_second_way_all_plants_and_what_is_common_at_once(seed):
    """One Gaussian of the common effects and of every plant's own, solved whole."""
    size, shares = 3, drawn_shares(seed, 3, 4)
    scale, spread = np.array([0.5, 0.3, 0.8]), np.array([0.2, 0.25, 0.5])
    whole, score = np.zeros((5 * size, 5 * size)), np.zeros(5 * size)
    whole[:size, :size] = np.diag(1 / (scale**2 - spread**2))
    for plant, share in enumerate(shares, start=1):
        own = slice(plant * size, (plant + 1) * size)
        tie = np.diag(spread**-2.0)
        whole[own, own] = share.precision + tie
        whole[:size, :size] += tie
        whole[own, :size] = whole[:size, own] = -tie
        score[own] = share.score
    covariance = np.linalg.inv(whole)
    found = given_spread(shares, scale, spread, np.full(size, -np.inf))
    np.testing.assert_allclose(found.mean, (covariance @ score)[:size], rtol=1e-8)
    expected = covariance[:size, :size] + np.diag(spread**2)
    np.testing.assert_allclose(found.covariance, expected, rtol=1e-8, atol=1e-12)


def test_the_mean_spread_a_second_way():
    """Numerically, over what is common and over how far plants differ."""
    values, errors = np.array([0.7, -0.2, 0.5]), np.array([0.3, 0.2, 0.4])
    scale, widest = 0.6, 0.3
    common, spread = np.meshgrid(np.linspace(-4, 4, 4001), np.linspace(0.001, 0.599, 600))
    left = scale**2 - spread**2
    log = -0.5 * spread**2 / widest**2 - 0.5 * common**2 / left - 0.5 * np.log(left)
    for value, error in zip(values, errors, strict=True):
        wide = spread**2 + error**2
        log += -0.5 * (value - common) ** 2 / wide - 0.5 * np.log(wide)
    density = np.exp(log - log.max())
    shares = [estimate(*one) for one in zip(values, errors, strict=True)]
    found = mean_spread(shares, np.array([scale]), np.array([widest]))
    assert found[0] == pytest.approx((density * spread).sum() / density.sum(), abs=2e-3)


def test_plants_that_agree_differ_less_than_plants_that_do_not():
    scale, widest = np.array([0.6]), np.array([0.3])
    alike, unlike = (
        mean_spread([estimate(one, 0.1), estimate(other, 0.1)], scale, widest)[0]
        for one, other in ((0.4, 0.4), (0.9, -0.1))
    )
    assert 0 < alike < 0.2
    assert 0.3 < unlike < 0.6


def test_more_plants_that_agree_move_the_prior_further_and_leave_less_doubt():
    columns = handbook_columns(SEAL)
    size = int(columns.passes.sum())
    share = PlantShare(np.full(size, 2.0), np.diag(np.full(size, 4.0)))
    found = [next_plant(columns, [share] * count) for count in (1, 2, 4, 8)]
    for fewer, more in pairwise(found):
        assert (more.mean > fewer.mean).all()
        assert (more.deviation < fewer.deviation).all()


def test_the_level_may_differ_most():
    columns = handbook_columns(SEAL)
    size = int(columns.passes.sum())
    widest = np.where(np.arange(size) == size - 1, LEVEL_SPREAD, MOST_USUAL_SPREAD)
    scale = columns.scale[columns.passes]
    shares = [PlantShare(np.full(size, 1.0), np.diag(np.full(size, 4.0)))] * 2
    spread = mean_spread(shares, scale, widest)
    found = next_plant(columns, shares)
    expected = given_spread(shares, scale, spread, columns.floor[columns.passes])
    np.testing.assert_allclose(found.mean, expected.mean)
    assert columns.part_of_column[columns.passes][-1] == columns.part_of_column.max()


SIZE = int(handbook_columns(SEAL).passes.sum())


@settings(max_examples=30, deadline=None)
@given(
    scores=arrays(np.float64, (3, SIZE), elements=st.floats(-50, 50)),
    seed=st.integers(0, 1000),
    strength=st.floats(0, 100),
)
def test_whatever_plants_say_no_mean_lies_below_its_bound_and_no_doubt_above_the_handbooks(
    scores, seed, strength
):
    rng = np.random.default_rng(seed)
    shares = []
    for score in scores:
        rows = rng.normal(size=(10, SIZE)) * np.sqrt(strength)
        precision = rows.T @ rows
        shares.append(PlantShare(precision @ (score / 50), precision))
    columns = handbook_columns(SEAL)
    found = next_plant(columns, shares)
    assert (found.mean >= columns.floor[columns.passes]).all()
    assert (found.deviation <= columns.scale[columns.passes] * (1 + 1e-9)).all()
    assert np.linalg.eigvalsh(found.covariance)[0] > 0
    again = next_plant(columns, shares[::-1])
    np.testing.assert_allclose(again.mean, found.mean, rtol=1e-6, atol=1e-9)
