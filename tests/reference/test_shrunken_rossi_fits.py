"""Shrunken fits of a public set: absolute priors, and what scikit-learn's penalty means.

The pinned numbers were computed with scikit-learn 1.9.1, and with SciPy or in closed form.
"""

import numpy as np
import pytest
from public_lives import rossi
from published_lifetimes import numbers
from sklearn.ensemble import HistGradientBoostingRegressor
from sklearn.linear_model import PoissonRegressor

from scoring.learning.credible import credible_ratio
from scoring.learning.hazard_posterior import HazardPosterior

WIDE = 2e4


def plain(penalty):
    return PoissonRegressor(alpha=penalty, solver="newton-cholesky", tol=1e-12, max_iter=1000)


@pytest.mark.parametrize(
    ("penalty", "level", "coef"),
    [
        (
            0.1,
            0.3320474,
            [-0.1711985, -0.1419239, 0.092374, -0.0752494, -0.1288582, -0.0369615, 0.0986142],
        ),
        (
            1.0,
            0.3705756,
            [-0.1079422, -0.0840881, 0.0553931, -0.0699114, -0.0795799, -0.0228894, 0.0724228],
        ),
    ],
)
def test_a_penalty_grows_with_the_failures_expected_and_our_prior_does_not(penalty, level, coef):
    lives = rossi()
    expected = lives.week * lives.prior_hazard
    scale = (penalty * expected.sum()) ** -0.5
    ours = HazardPosterior(prior_scale=scale, level_scale=WIDE)
    once = ours.fit(lives.standardised, lives.arrested, prior_hazard=expected)
    np.testing.assert_allclose(once.coef_, coef, atol=2e-6)
    assert once.level_ == pytest.approx(level, abs=2e-6)
    rate = lives.arrested / expected
    penalised = plain(penalty).fit(lives.standardised, rate, sample_weight=expected)
    np.testing.assert_allclose(penalised.coef_, coef, atol=2e-6)
    known, rates, weights = (np.concatenate([x, x]) for x in (lives.standardised, rate, expected))
    twice = plain(penalty).fit(known, rates, sample_weight=weights)
    np.testing.assert_allclose(twice.coef_, penalised.coef_, atol=1e-9)
    learned = ours.fit(known, rates * weights, prior_hazard=weights).coef_
    assert np.linalg.norm(learned) > 1.02 * np.linalg.norm(coef)


@pytest.mark.parametrize(
    ("share", "level", "coef", "errors"),
    [
        (
            1.0,
            0.3144871,
            [-0.1782004, -0.1528973, 0.0966054, -0.0746622, -0.1354499, -0.0388272, 0.1023852],
            numbers(
                "0.0942361 0.1287023 0.0991461 0.1025986 0.1211369 0.0937983 0.0810785 0.1022445"
            ),
        ),
        (
            0.0,
            -2.151954,
            [-0.0145109, 0.1098659, 0.0168603, -0.0012627, -0.0085242, -0.0027985, -0.0646277],
            numbers(
                "0.2826551 0.3022853 0.2812994 0.297827 0.2873451 0.2847816 0.2863652 0.2818962"
            ),
        ),
    ],
)
def test_one_prior_for_level_and_slopes(share, level, coef, errors):
    """With all arrests, and with none: also then level and slopes are finite."""
    lives = rossi()
    found = HazardPosterior(prior_scale=0.5, level_scale=0.5).fit(
        lives.standardised,
        share * lives.arrested,
        exposure=lives.week,
        prior_hazard=lives.prior_hazard,
    )
    np.testing.assert_allclose(found.coef_, coef, atol=2e-6)
    assert found.level_ == pytest.approx(level, abs=2e-6)
    np.testing.assert_allclose(np.sqrt(np.diag(found.covariance_)), errors, atol=2e-6)


@pytest.mark.filterwarnings(r"ignore:divide by zero encountered in log:RuntimeWarning")
def test_without_an_arrest_plain_fits_break_down():
    lives = rossi()
    expected, none = lives.week * lives.prior_hazard, np.zeros(432)
    answer = PoissonRegressor(alpha=0.1).fit(lives.standardised, none, sample_weight=expected)
    assert answer.intercept_ == -np.inf
    assert (answer.predict(lives.standardised) == 0).all()
    boosted = HistGradientBoostingRegressor(loss="poisson")
    with pytest.raises(ValueError, match=r"sum\(y\) > 0"):
        boosted.fit(lives.standardised, none, sample_weight=expected)


def test_a_row_that_stands_for_the_prior_is_a_gamma_prior():
    """Slopes held at 0, a row with two failures where two were expected: (O + 2) / (E + 2)."""
    lives = rossi()
    expected = lives.week * lives.prior_hazard
    known = np.vstack([lives.standardised, np.zeros(7)])
    events, weights = np.append(lives.arrested, 2.0), np.append(expected, 2.0)
    ours = HazardPosterior(prior_scale=1e-5, level_scale=WIDE).fit(
        known, events, prior_hazard=weights
    )
    penalised = plain(1e6).fit(known, events / weights, sample_weight=weights)
    conjugate = credible_ratio(lives.arrested.sum(), expected.sum(), 2, 2).mean
    for ratio in (np.exp(ours.level_), np.exp(penalised.intercept_), conjugate):
        assert ratio == pytest.approx(1.5022069, abs=2e-6)
