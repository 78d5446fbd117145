"""Where the answer can be written down, the estimator gives it."""

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.special import lambertw

from scoring.learning.hazard_posterior import HazardPosterior

NOTHING = np.zeros((1, 1))


def level_only(events, expected, scale):
    return HazardPosterior(level_scale=scale).fit([[0.0]], [events], prior_hazard=[expected])


@pytest.mark.parametrize(("events", "expected"), [(0, 75.2), (1, 0.2), (6, 9.1), (500, 3.0)])
@pytest.mark.parametrize("scale", [0.1, 0.75, 3.0])
def test_a_level_alone_solves_its_one_equation(events, expected, scale):
    """E exp(a) - O + a / s^2 = 0, whose answer Lambert's W writes down."""
    level = level_only(events, expected, scale).level_
    root = brentq(lambda a: expected * np.exp(a) - events + a / scale**2, -60, 60, xtol=1e-14)
    assert level == pytest.approx(root, abs=1e-8)
    pull = scale**2 * expected
    if scale**2 * events < 100:  # beyond that exp overflows its argument's accuracy
        written = scale**2 * events - lambertw(pull * np.exp(scale**2 * events)).real
        assert level == pytest.approx(written, abs=1e-8)


def test_a_wide_prior_gives_observed_over_expected():
    found = level_only(6, 9.10744166, 1e4)
    assert np.exp(found.level_) == pytest.approx(6 / 9.10744166, rel=1e-8)
    assert found.log_hazard_spread(NOTHING)[0] == pytest.approx(1 / np.sqrt(6), rel=1e-6)


def test_no_failures_at_all_stay_finite():
    found = level_only(0, 75.2, 0.5)
    assert found.level_ == pytest.approx(-lambertw(75.2 / 4).real, abs=1e-9)
    learned = 75.2 * np.exp(found.level_)
    assert found.covariance_[-1, -1] == pytest.approx(1 / (learned + 4), rel=1e-9)


def test_nothing_seen_and_nothing_expected_leaves_the_prior():
    found = HazardPosterior(prior_scale=0.5, level_scale=0.7).fit(
        [[1.0], [0.0]], [0, 0], exposure=[0.0, 0.0]
    )
    assert found.coef_[0] == 0
    assert found.level_ == 0
    np.testing.assert_allclose(np.diag(found.covariance_), [0.25, 0.49])
    np.testing.assert_allclose(found.log_hazard_spread([[1.0]]), np.sqrt(0.74))
    np.testing.assert_allclose(found.share_learned([[1.0]]), 0.0, atol=1e-15)


def test_the_spread_shrinks_from_the_prior_as_failures_arrive():
    spreads = [level_only(n, n, 0.5).log_hazard_spread(NOTHING)[0] for n in (1e-9, 1, 10, 1000)]
    assert spreads[0] == pytest.approx(0.5, rel=1e-6)
    assert (np.diff(spreads) < 0).all()
    assert spreads[-1] == pytest.approx(1 / np.sqrt(1000), rel=0.01)


def test_separate_groups_are_fitted_as_if_alone():
    together = HazardPosterior(prior_scale=0.6, level_scale=None).fit(
        np.eye(3), [3, 0, 7], prior_hazard=[2.0, 4.0, 5.0]
    )
    alone = [level_only(o, e, 0.6).level_ for o, e in [(3, 2.0), (0, 4.0), (7, 5.0)]]
    np.testing.assert_allclose(together.coef_, alone, atol=1e-9)
