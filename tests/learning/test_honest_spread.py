"""What the spread promises is kept, and it does not jump where a bound begins to hold."""

import numpy as np
import pytest
from drawn_fleets import DrawnFleet, drawn_fleet
from scipy.integrate import quad

from scoring.learning.hazard_posterior import HazardPosterior
from scoring.learning.posterior_mode import Mode
from scoring.learning.posterior_spread import posterior_spread, square_distance_from_bound

Z90 = 1.6448536269514722
TARGETS = np.array([[0.0, 0, 0, 0], [1, 0, 0, 0], [1, 1, 0, 0], [0.4, 0.3, 0.2, 0.1]])


def coverage(events, clumped=0.0, repetitions=250, bound=-np.inf):
    """Share of 90 % intervals that hold the truth, the truth drawn from the prior."""
    hits = []
    for seed in range(repetitions):
        rng = np.random.default_rng(1000 + seed)
        fleet = drawn_fleet(seed, events=events)
        level, truth = rng.normal(0, 0.5), rng.normal(0, 0.5, 4)
        truth = np.abs(truth) if bound == 0 else truth
        mean = fleet.exposure * fleet.prior * np.exp(level + fleet.rows @ truth)
        of_unit = rng.gamma(1 / clumped, clumped, 100) if clumped else np.ones(100)
        failures = rng.poisson(mean * of_unit[fleet.unit]).astype(float)
        drawn = DrawnFleet(fleet.rows, fleet.exposure, fleet.prior, failures, fleet.unit)
        found = drawn.fit(HazardPosterior(prior_scale=0.5, lower_bound=bound, level_scale=0.5))
        error = np.log(found.predict(TARGETS)) - level - TARGETS @ truth
        hits.append(np.abs(error) <= Z90 * found.log_hazard_spread(TARGETS))
    return float(np.mean(hits))


@pytest.mark.parametrize("events", [0.01, 5.0, 50.0])
def test_nine_in_ten_intervals_hold_the_truth(events):
    assert 0.87 < coverage(events) < 0.94


def test_failures_that_clump_in_units_widen_the_sandwich():
    assert coverage(100.0, clumped=1.0) > 0.83


@pytest.mark.parametrize(("events", "least"), [(0.01, 0.83), (5.0, 0.87), (50.0, 0.87)])
def test_intervals_beside_a_bound_stay_honest(events, least):
    """Effects that cannot be negative.

    Without failures the mode lies at every bound and the truth to one side of it, which costs some
    coverage (85 % of intervals hold the truth here); failures mend that.
    """
    assert coverage(events, bound=0.0) > least


@pytest.mark.parametrize("seed", range(4))
def test_no_jump_where_a_bound_begins_to_hold(seed):
    fleet = drawn_fleet(seed)
    free = fleet.fit(HazardPosterior())
    spreads = []
    for shift in (-1e-7, 1e-7):
        bound = np.full(4, -np.inf)
        bound[1] = free.coef_[1] + shift
        found = fleet.fit(HazardPosterior(lower_bound=bound))
        assert found.held_[1] == (shift > 0)
        spreads.append(np.array([found.log_hazard_spread(TARGETS), *found.covariance_[:4, :4]]))
    np.testing.assert_allclose(spreads[0], spreads[1], rtol=1e-4, atol=1e-6)


@pytest.mark.parametrize("pressure", [0.0, 0.5, 3.0, 20.0, 49.99, 50.01, 500.0])
@pytest.mark.parametrize("precision", [0.3, 1.0, 40.0])
def test_square_distance_is_the_integral(pressure, precision):
    reach = min(12 / np.sqrt(precision), 60 / max(pressure, 1e-9))

    def moment(power):
        def density(x):
            return x**power * np.exp(-pressure * x - precision * x**2 / 2)

        return quad(density, 0, reach, epsabs=0, epsrel=1e-11, limit=200)[0]

    found = square_distance_from_bound(pressure, precision)
    assert float(found) == pytest.approx(moment(2) / moment(0), rel=1e-6)


@pytest.mark.parametrize("pressure", [0.0, 0.7, 30.0])
def test_failures_that_scatter_as_expected_make_both_spreads_equal(pressure):
    """Scores whose squares add up to the curvature, one column held at its bound."""
    curvature = np.array([[3.0, 0.8, -0.4], [0.8, 5.0, 1.1], [-0.4, 1.1, 2.5]])
    held = np.array([False, True, False])
    mode = Mode(np.zeros(3), held, np.array([0.0, pressure, 0.0]), curvature, 1, converged=True)
    found = posterior_spread(mode, np.linalg.cholesky(curvature - np.eye(3)).T)
    np.testing.assert_allclose(found.sandwich, found.laplace, atol=1e-12)


def test_sandwich_is_the_textbook_product():
    fleet = drawn_fleet(5)
    found = fleet.fit(HazardPosterior(prior_scale=0.4, level_scale=0.6))
    rows = np.column_stack([fleet.rows, np.ones(300)])
    mean = fleet.exposure * found.predict(fleet.rows, fleet.prior)
    prior = np.diag(1 / np.array([0.4, 0.4, 0.4, 0.4, 0.6]) ** 2)
    bread = np.linalg.inv(rows.T @ (mean[:, None] * rows) + prior)
    scores = np.array(
        [((fleet.events - mean)[:, None] * rows)[fleet.unit == u].sum(axis=0) for u in range(100)]
    )
    np.testing.assert_allclose(found.covariance_, bread, atol=1e-10)
    np.testing.assert_allclose(
        found.robust_covariance_, bread @ (scores.T @ scores + prior) @ bread, atol=1e-10
    )
    target = np.append(TARGETS[2], 1)
    wider = max(target @ found.covariance_ @ target, target @ found.robust_covariance_ @ target)
    assert found.log_hazard_spread(TARGETS[2:3])[0] == pytest.approx(np.sqrt(wider))
