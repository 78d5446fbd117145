"""The fit is at the one best point: slopes, bounds, and other programs agree."""

import numpy as np
import pytest
from drawn_fleets import drawn_fleet
from scipy import sparse
from scipy.optimize import minimize
from sklearn.linear_model import PoissonRegressor

from scoring.learning.hazard_posterior import HazardPosterior
from scoring.learning.posterior_mode import PoissonProblem, posterior_mode


def problem_of(fleet, scale=0.5, floor=-np.inf):
    columns = fleet.rows.shape[1]
    return PoissonProblem(
        fleet.rows,
        fleet.events,
        fleet.exposure * fleet.prior,
        np.full(columns, scale),
        np.full(columns, floor),
    )


def central_differences(function, point, step=1e-5):
    return np.array(
        [
            (function(point + d) - function(point - d)) / (2 * step)
            for d in step * np.eye(len(point))
        ]
    )


@pytest.mark.parametrize("seed", range(3))
def test_slope_and_curvature_are_those_of_the_objective(seed):
    problem = problem_of(drawn_fleet(seed))
    point = np.random.default_rng(seed).normal(size=4)
    slope = central_differences(lambda p: problem.objective(p)[0], point)
    np.testing.assert_allclose(problem.gradient(point), slope, rtol=1e-6, atol=1e-6)
    curvature = central_differences(problem.gradient, point)
    np.testing.assert_allclose(problem.hessian(point), curvature, rtol=1e-6, atol=1e-6)


@pytest.mark.parametrize("seed", range(20))
@pytest.mark.parametrize("events", [0.5, 8.0, 400.0])
def test_bounds_hold_and_press_only_from_below(seed, events):
    """Karush-Kuhn-Tucker: flat where free, and rising into the bound where held."""
    fleet = drawn_fleet(seed, events=events, n_columns=8)
    bounds = np.random.default_rng(seed).choice([0.0, -0.2, 0.1, -np.inf], 8)
    found = fleet.fit(HazardPosterior(prior_scale=0.4, lower_bound=bounds, level_scale=None))
    problem = problem_of(fleet, scale=1.0)
    slope = problem.gradient(found.coef_) - found.coef_ + found.coef_ / 0.4**2
    assert (found.coef_ >= bounds).all()
    np.testing.assert_array_equal(found.coef_[found.held_], bounds[found.held_])
    assert (slope[found.held_] > 0).all()
    np.testing.assert_allclose(slope[~found.held_], 0, atol=1e-7 * (1 + events))


@pytest.mark.parametrize("seed", range(5))
def test_a_general_optimiser_finds_nothing_better(seed):
    fleet = drawn_fleet(seed, n_columns=6)
    problem = problem_of(fleet, floor=0.0)
    found = posterior_mode(problem, max_iter=100, tol=1e-10)
    other = minimize(
        lambda p: problem.objective(p)[0],
        np.zeros(6),
        jac=problem.gradient,
        method="L-BFGS-B",
        bounds=[(0, None)] * 6,
        options={"ftol": 1e-15, "gtol": 1e-10},
    )
    assert found.converged
    assert problem.objective(found.point)[0] <= other.fun + 1e-12 * abs(other.fun)
    np.testing.assert_allclose(found.point, other.x, atol=2e-5)


@pytest.mark.parametrize("events", [5.0, 40.0, 400.0])
def test_agrees_with_a_ridge_poisson_regression(events):
    """Precision 1/s^2 on each column is alpha = 1 / (s^2 sum of weights); the level is a column."""
    fleet = drawn_fleet(7, events=events)
    weights = fleet.exposure * fleet.prior
    columns = np.column_stack([fleet.rows, np.full(len(weights), 0.7 / 0.4)])
    ridge = PoissonRegressor(
        alpha=1 / (0.4**2 * weights.sum()), fit_intercept=False, solver="newton-cholesky", tol=1e-12
    ).fit(columns, fleet.events / weights, sample_weight=weights)
    ours = fleet.fit(HazardPosterior(prior_scale=0.4, level_scale=0.7))
    np.testing.assert_allclose(ours.coef_, ridge.coef_[:-1], atol=1e-8)
    assert ours.level_ == pytest.approx(ridge.coef_[-1] * 0.7 / 0.4, abs=1e-8)


def test_a_free_level_agrees_with_a_free_intercept():
    """A fixed alpha is a precision of alpha times the sum of weights, the intercept left free."""
    fleet = drawn_fleet(8)
    weights = fleet.exposure * fleet.prior
    ridge = PoissonRegressor(alpha=0.1, solver="newton-cholesky", tol=1e-12).fit(
        fleet.rows, fleet.events / weights, sample_weight=weights
    )
    scale = 1 / np.sqrt(0.1 * weights.sum())
    ours = fleet.fit(HazardPosterior(prior_scale=scale, level_scale=1e5))
    np.testing.assert_allclose(ours.coef_, ridge.coef_, atol=1e-8)
    assert ours.level_ == pytest.approx(ridge.intercept_, abs=1e-8)


@pytest.mark.parametrize("factor", [1e-4, 1.0, 1e4])
def test_a_start_far_from_the_answer_is_no_trouble(factor):
    fleet = drawn_fleet(3)
    settings = {"prior_scale": 20.0, "level_scale": 20.0}
    plain = fleet.fit(HazardPosterior(**settings))
    far = HazardPosterior(**settings).fit(
        fleet.rows, fleet.events, exposure=fleet.exposure * factor, prior_hazard=fleet.prior
    )
    assert far.n_iter_ < 30
    assert far.level_ == pytest.approx(plain.level_ - np.log(factor), abs=0.02)


def test_dense_and_sparse_rows_give_the_same():
    fleet = drawn_fleet(4, n_columns=6)
    settings = HazardPosterior(lower_bound=0.0)
    dense = fleet.fit(settings)
    kept = {"exposure": fleet.exposure, "prior_hazard": fleet.prior, "groups": fleet.unit}
    for form in (sparse.csr_array, sparse.csc_matrix):
        thin = HazardPosterior(lower_bound=0.0).fit(form(fleet.rows), fleet.events, **kept)
        np.testing.assert_allclose(thin.coef_, dense.coef_, atol=1e-10)
        np.testing.assert_allclose(thin.robust_covariance_, dense.robust_covariance_, atol=1e-10)
        for answer in ("predict", "log_hazard_spread", "share_learned"):
            thin_answer = getattr(thin, answer)(form(fleet.rows))
            np.testing.assert_allclose(thin_answer, getattr(dense, answer)(fleet.rows), atol=1e-10)
