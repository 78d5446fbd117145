"""What one plant says by itself, and a fit that begins where other plants left off."""

from dataclasses import replace

import numpy as np
import pytest
from generated_fleets import AS_OF, generated_assessor
from scipy.optimize import minimize

from scoring.contract.events import MODES
from scoring.learning.column_prior import ColumnPrior
from scoring.learning.covariates import PARTS, PLAIN_STATES, columns_for, handbook_columns
from scoring.learning.learned import LearnedMode, learn, learn_unbounded
from scoring.learning.other_plants import KnownPlant, OtherPlants
from scoring.learning.plant_share import PlantShare, share_of
from scoring.learning.posterior import Posterior, fit_posterior
from scoring.learning.usual_findings import usual_share

LEARNED_MODES = ("low_speed_bearing", "seal_leak")


def rows():
    return generated_assessor(200, 5).failure_rows(AS_OF)


def prior_of(mode):
    """Return what an invented plant says of the next."""
    shares = {mode: share_of(learn_unbounded(rows()).modes[mode])}
    return OtherPlants((KnownPlant("0" * 64, 200, dict.fromkeys(MODES, 9), shares),)).priors[mode]


@pytest.mark.parametrize("mode", LEARNED_MODES)
def test_a_share_is_the_curvature_of_the_likelihood_with_sites_averaged_over(mode):
    learned = learn_unbounded(rows()).modes[mode]
    columns, one = learned.columns, rows().modes[mode]
    design = columns.design(one.state_by(rows().place, -1))
    mean = one.expected * np.exp(design @ learned.posterior.coefficients)
    curvature = design.T @ (design * mean[:, np.newaxis])
    passes, site = columns.passes, ~columns.passes
    of_site = curvature[np.ix_(site, site)] + np.diag(columns.scale[site] ** -2.0)
    between = curvature[np.ix_(passes, site)]
    expected = curvature[np.ix_(passes, passes)] - between @ np.linalg.inv(of_site) @ between.T
    share = share_of(learned)
    room = 1e-7 * np.abs(expected).max()
    np.testing.assert_allclose(share.precision, expected, rtol=1e-6, atol=room)
    before = np.diag(columns.scale[passes] ** -2.0)
    together = np.linalg.solve(share.precision + before, share.score)
    np.testing.assert_allclose(together, learned.posterior.coefficients[passes], atol=1e-6)


@pytest.mark.parametrize("mode", LEARNED_MODES)
def test_a_coefficient_held_at_its_bound_passes_the_priors_deviation(mode):
    columns = handbook_columns(mode)
    one, place = rows().modes[mode], rows().place
    fitted = fit_posterior(
        columns.design(one.state_by(place, -1)),
        one.failures_by(-1),
        one.expected,
        scale=columns.scale,
        floor=columns.floor,
        group=place,
    )
    assert fitted.held.sum() > 3
    share = share_of(LearnedMode(columns, fitted))
    assert not share.precision[fitted.held].any()
    assert not share.score[fitted.held].any()
    plant = KnownPlant("0" * 64, 200, dict.fromkeys(MODES, 9), {mode: share})
    found = OtherPlants((plant,)).priors[mode]
    np.testing.assert_allclose(found.deviation[fitted.held], columns.scale[fitted.held])
    assert (found.deviation[~fitted.held] < columns.scale[~fitted.held]).any()


def gaussian(columns, share):
    """Return what is learned where the likelihood is a parabola, worked out by hand."""
    size = len(columns.scale)
    before = columns.before or ColumnPrior(np.zeros(size), np.diag(columns.scale**2))
    held_before = np.linalg.inv(before.covariance)
    after = np.linalg.inv(held_before + share.precision)
    value = after @ (held_before @ before.mean + share.score)
    free = np.zeros(size, dtype=bool)
    return LearnedMode(
        columns,
        Posterior(value, free, columns.scale, after, after, 9.0, 9.0, 1, True, columns.before),
    )


def drawn_share(size):
    rng = np.random.default_rng(3)
    rows_of_it = rng.normal(size=(size, size))
    return PlantShare(rng.normal(size=size), rows_of_it.T @ rows_of_it)


@pytest.mark.parametrize("mode", LEARNED_MODES)
@pytest.mark.parametrize("others", [False, True])
def test_a_share_holds_nothing_of_what_was_believed_before(mode, others):
    columns = handbook_columns(mode, (), prior_of(mode) if others else None)
    share = drawn_share(len(columns.names))
    found = share_of(gaussian(columns, share))
    np.testing.assert_allclose(found.precision, share.precision, rtol=1e-6, atol=1e-6)
    np.testing.assert_allclose(found.score, share.score, rtol=1e-6, atol=1e-6)


@pytest.mark.parametrize("mode", LEARNED_MODES)
def test_findings_centred_otherwise_move_the_level_of_all_who_were_seen(mode):
    own = replace(columns_for(mode, rows().modes[mode].state, rows().modes[mode].years), sites=())
    common = handbook_columns(mode)
    assert not np.allclose(own.share, common.share)
    state = rows().modes[mode].state
    seen = replace(state, bad=np.maximum(state.bad, 0))
    theirs = np.random.default_rng(4).normal(size=len(common.names))
    findings = own.part_of_column == PARTS.index("findings")
    ours = theirs.copy()
    ours[-1] += theirs[findings] @ (own.share - common.share)
    np.testing.assert_allclose(own.design(seen) @ ours, common.design(seen) @ theirs, atol=1e-9)
    share = drawn_share(len(own.names))
    turned = share_of(gaussian(own, share))
    likelihood = share.score @ ours - ours @ share.precision @ ours / 2
    found = turned.score @ theirs - theirs @ turned.precision @ theirs / 2
    assert found == pytest.approx(likelihood, rel=1e-6)


@pytest.mark.parametrize("mode", LEARNED_MODES)
def test_a_fit_with_a_prior_a_second_way(mode):
    """By a general minimiser of the same sum, written out."""
    prior = prior_of(mode)
    learned = learn(replace(rows(), others={mode: prior})).modes[mode]
    columns, one = learned.columns, rows().modes[mode]
    assert columns.share.tolist() == [usual_share(state.checks) for state in PLAIN_STATES]
    design = columns.design(one.state_by(rows().place, -1))
    events, expected = one.failures_by(-1), one.expected
    mean, precision = columns.before.mean, np.linalg.inv(columns.before.covariance)

    def objective(point):
        logs, off = design @ point, point - mean
        total = expected * np.exp(logs)
        value = total.sum() - events @ logs + 0.5 * off @ precision @ off
        return value, design.T @ (total - events) + precision @ off

    bounds = [(None if np.isinf(low) else low, None) for low in columns.floor]
    start = np.maximum(mean, columns.floor)
    found = minimize(
        objective, start, jac=True, bounds=bounds, method="L-BFGS-B",
        options={"maxiter": 5000, "maxfun": 50000, "ftol": 1e-15, "gtol": 1e-8},
    )  # fmt: skip
    np.testing.assert_allclose(learned.posterior.coefficients, found.x, atol=2e-4)
    ours, theirs = objective(learned.posterior.coefficients)[0], found.fun
    assert ours <= theirs + 1e-9 * abs(theirs)


@pytest.mark.parametrize("mode", MODES)
def test_where_nothing_was_observed_other_plants_stand_alone(mode):
    if mode not in LEARNED_MODES:
        return
    prior = prior_of(mode)
    none = np.zeros(len(rows()), dtype=bool)
    learned = learn(replace(rows(), others={mode: prior}), only=none)
    assert list(learned.modes) == [mode]
    one = learned.modes[mode]
    assert one.by_others_alone
    assert one.columns.sites == ()
    np.testing.assert_array_equal(one.posterior.coefficients, prior.mean)
    np.testing.assert_array_equal(one.posterior.laplace, prior.covariance)
    design = one.columns.design(rows().modes[mode].state)
    np.testing.assert_allclose(one.posterior.share_learned(design), 0, atol=1e-12)
    assert learn(rows(), only=none) is None
