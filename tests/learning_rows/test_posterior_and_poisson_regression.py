"""What is learned of a fleet, against scikit-learn's Poisson regression of the same rows."""

import numpy as np
import pytest
from generated_fleets import AS_OF, generated_assessor
from scipy.optimize import minimize
from sklearn.linear_model import PoissonRegressor
from threadpoolctl import threadpool_limits

from scoring.contract.events import MODES
from scoring.learning.covariates import LEVEL_ALONE, columns_for
from scoring.learning.learned import learn
from scoring.learning.posterior import fit_posterior

FLEETS = [(200, 1), (200, 5), (400, 2)]


@pytest.fixture(autouse=True, scope="module")
def one_thread():
    """Tall, narrow products gain little from more, and lose much on a busy machine."""
    with threadpool_limits(limits=1):
        yield


def rows_of(fleet, mode):
    """Return columns, design, failures, expected failures and unit of every row at risk."""
    rows = generated_assessor(*fleet).failure_rows(AS_OF)
    one = rows.modes[mode]
    at_risk = one.expected > 0
    state = one.state_by(rows.place, -1).where(at_risk)
    columns = columns_for(mode, state, one.years[at_risk])
    events, expected = one.failures_by(-1)[at_risk], one.expected[at_risk]
    unit = np.unique(rows.place[at_risk], return_inverse=True)[1]
    return columns, columns.design(state), events, expected, unit


def poisson_regression(scaled, events, expected):
    model = PoissonRegressor(
        solver="newton-cholesky",
        alpha=1 / expected.sum(),
        fit_intercept=False,
        tol=1e-9,  # below it some draws of a fleet leave nothing but rounding to search by
        max_iter=200,
    )
    return model.fit(scaled, events / expected, sample_weight=expected).coef_


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("fleet", FLEETS, ids=str)
def test_without_bounds_it_is_a_ridge_of_columns_times_their_prior_deviation(fleet, mode):
    columns, design, events, expected, unit = rows_of(fleet, mode)
    free = np.full(len(columns.scale), -np.inf)
    ours = fit_posterior(design, events, expected, scale=columns.scale, floor=free, group=unit)
    assert ours.converged
    assert not ours.held.any()
    assert events.sum() > 0
    theirs = columns.scale * poisson_regression(design * columns.scale, events, expected)
    np.testing.assert_allclose(ours.coefficients, theirs, rtol=1e-6, atol=1e-9)


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("fleet", FLEETS, ids=str)
def test_with_bounds_it_is_that_ridge_of_the_columns_that_no_bound_holds(fleet, mode):
    """What a column at its bound adds is then a part of what is expected."""
    columns, design, events, expected, unit = rows_of(fleet, mode)
    ours = fit_posterior(
        design, events, expected, scale=columns.scale, floor=columns.floor, group=unit
    )
    held = ours.held
    assert held.any() == (mode not in LEVEL_ALONE)
    assert (ours.coefficients >= columns.floor).all()
    moved = expected * np.exp(design[:, held] @ ours.coefficients[held])
    scale = columns.scale[~held]
    theirs = scale * poisson_regression(design[:, ~held] * scale, events, moved)
    np.testing.assert_allclose(ours.coefficients[~held], theirs, rtol=1e-6, atol=1e-9)


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("fleet", FLEETS, ids=str)
def test_another_search_under_the_same_bounds_finds_nothing_likelier(fleet, mode):
    columns, design, events, expected, unit = rows_of(fleet, mode)
    ours = fit_posterior(
        design, events, expected, scale=columns.scale, floor=columns.floor, group=unit
    )
    scaled = design * columns.scale

    def objective(point):
        log_ratio = scaled @ point
        mean = expected * np.exp(log_ratio)
        slope = scaled.T @ (mean - events) + point
        return mean.sum() - events @ log_ratio + point @ point / 2, slope

    bounds = [(low, None) for low in columns.floor / columns.scale]
    found = minimize(
        objective, np.zeros(len(bounds)), jac=True, bounds=bounds, method="L-BFGS-B",
        options={"maxiter": 10_000, "maxfun": 100_000, "ftol": 1e-15, "gtol": 1e-8},
    )  # fmt: skip
    value = objective(ours.coefficients / columns.scale)[0]
    assert value <= found.fun + 1e-9 * abs(found.fun)
    np.testing.assert_allclose(ours.coefficients, columns.scale * found.x, atol=1e-4)


@pytest.mark.parametrize("mode", MODES)
def test_learning_of_a_fleet_is_that_fit(mode):
    columns, design, events, expected, unit = rows_of((200, 5), mode)
    learned = learn(generated_assessor(200, 5).failure_rows(AS_OF)).modes[mode]
    ours = fit_posterior(
        design, events, expected, scale=columns.scale, floor=columns.floor, group=unit
    )
    np.testing.assert_allclose(learned.columns.share, columns.share)
    np.testing.assert_allclose(learned.posterior.coefficients, ours.coefficients, atol=1e-9)
    np.testing.assert_allclose(learned.posterior.laplace, ours.laplace, atol=1e-9)
    assert learned.posterior.events == events.sum()
    assert learned.posterior.expected == pytest.approx(expected.sum())
