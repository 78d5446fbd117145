"""Exact limits and shrunk ratios give published and computed numbers.

The pinned limits were computed with SciPy 1.17.1 and statsmodels 0.15.0, unless said otherwise.
"""

import numpy as np
import pytest
from published_lifetimes import PUMP_FAILURES, PUMP_HOURS, numbers
from scipy.stats import nbinom, poisson

from scoring.learning.credible import credible_ratio
from scoring.learning.observed_expected import exact_limits, observed_over_expected

COUNTS = [0, 1, 2, 3, 4, 5, 6, 8, 10, 20, 50]


@pytest.mark.parametrize(
    ("level", "low", "high"),
    [
        (
            0.95,
            numbers(
                "0 0.025318 0.242209 0.618672 1.089865 1.623486 "
                "2.201894 3.453832 4.795389 12.21652 37.110964"
            ),
            numbers(
                "3.688879 5.571643 7.224688 8.767273 10.241589 11.668332 "
                "13.059474 15.763189 18.390356 30.888378 65.918767"
            ),
        ),
        (
            0.9,
            numbers(
                "0 0.051293 0.355362 0.817691 1.366318 1.97015 "
                "2.613015 3.980823 5.425406 13.254652 38.964733"
            ),
            numbers(
                "2.995732 4.743865 6.295794 7.753657 9.153519 10.513035 "
                "11.842396 14.43465 16.962219 29.062019 63.287074"
            ),
        ),
    ],
)
def test_exact_limits(level, low, high):
    """Garwood 1936 (from memory); 3.689 and 2.996 as in the help of epitools (read)."""
    found = exact_limits(COUNTS, level)
    np.testing.assert_allclose(found[0], low, atol=2e-6)
    np.testing.assert_allclose(found[1], high, atol=2e-6)


@pytest.mark.parametrize(
    ("given", "found"),
    [
        # Liddell 1984, JECH 38:85-88: inputs read in the help of sirCI of the R package yapomif
        ((8, 3.59, 0.9), (2.228412, 1.108864, 4.020794)),
        ((23, 17.83, 0.95), (1.289961, 0.817724, 1.935574)),
        ((210, 180, 0.95), (1.166667, 1.014201, 1.335584)),
        # OpenEpi's help text prints the ratio 1.212 (read)
        ((4, 3.3, 0.95), (1.212121, 0.330262, 3.103512)),
        # Welsh nickel workers: inputs read in the help of poisson.ci of the R package biostat3
        ((137, 24.19893, 0.95), (5.661407, 4.753125, 6.692709)),
    ],
)
def test_observed_over_expected(given, found):
    ours = observed_over_expected(*given)
    np.testing.assert_allclose([ours.ratio, ours.low, ours.high], found, atol=2e-6)


@pytest.mark.parametrize("mean", [0.05, 0.7, 3.0, 12.0])
def test_limits_hold_the_mean_at_least_as_often_as_they_say(mean):
    counts = np.arange(100)
    low, high = exact_limits(counts, 0.9)
    chance = poisson.pmf(counts, mean)
    assert chance[(low <= mean) & (mean <= high)].sum() >= 0.9


def test_nothing_expected_gives_no_ratio():
    found = observed_over_expected([0, 1], [0.0, 2.0])
    assert np.isnan(found.ratio[0])
    assert found.ratio[1] == 0.5


@pytest.mark.parametrize(
    ("worth", "mean", "low", "high"),
    [
        (1, 0.692559, 0.325039, 1.171651),
        (2, 0.720238, 0.358392, 1.183721),
        (5, 0.77973, 0.437288, 1.20236),
    ],
)
def test_a_ratio_drawn_towards_one(worth, mean, low, high):
    """Bearing cages, 6 failures where 9.107 were expected; computed with SciPy 1.17.1."""
    found = credible_ratio(6, 9.10744166, worth, worth)
    np.testing.assert_allclose([found.mean, found.low, found.high], [mean, low, high], atol=2e-6)


def test_rates_of_ten_pumps():
    """Computed with SciPy 1.17.1; statsmodels 0.15.0 agrees."""
    shape, rate = 0.822269, 1.258954
    found = credible_ratio(PUMP_FAILURES, PUMP_HOURS, shape, rate)
    expected = [0.0609158, 0.1073251, 0.0907759, 0.1166934, 0.5881359]
    expected += [0.606205, 0.7899023, 0.7899023, 1.4373575, 1.9441483]
    np.testing.assert_allclose(found.mean, expected, rtol=1e-5)
    chance = nbinom.logpmf(PUMP_FAILURES, shape, rate / (rate + PUMP_HOURS)).sum()
    assert chance == pytest.approx(-32.263067, rel=1e-5)


@pytest.mark.parametrize(
    ("arguments", "message"),
    [((-1, 1, 1, 1), "below 0"), ((1, 1, 0, 1), "above 0"), ((1, 1, 1, 1, 1.5), "level")],
)
def test_refused(arguments, message):
    with pytest.raises(ValueError, match=message):
        credible_ratio(*arguments)
    with pytest.raises(ValueError, match="below 0"):
        exact_limits(-1, 0.9)
    with pytest.raises(ValueError, match="level"):
        exact_limits(1, 1.0)
    with pytest.raises(ValueError, match="expected failures is below 0"):
        observed_over_expected(1, -1.0)
