"""Rows of time at risk give the numbers of exponential and Cox regression on a public set.

The pinned numbers were computed, each with two programs or more, if nothing else is said.
"""

import numpy as np
import pytest
from lifelines import CoxPHFitter
from lifelines.datasets import load_rossi
from public_lives import rossi
from risk_sets import WIDE, risk_set_slopes
from sksurv.linear_model import CoxPHSurvivalAnalysis
from sksurv.util import Surv

from scoring.learning.concordance import concordance
from scoring.learning.hazard_posterior import HazardPosterior
from scoring.learning.life_tables import life_table
from scoring.learning.lifetimes import Lifetimes
from scoring.learning.poisson_deviance import poisson_deviance

pytestmark = pytest.mark.filterwarnings(
    # lifelines 0.30.0 calls pandas in a way that pandas 4 will refuse
    "ignore:Starting with pandas version 4.0 all arguments of:pandas.errors.Pandas4Warning"
)
EXPONENTIAL = [-0.3662643, -0.055598, 0.3049391, -0.1467461, -0.4269867, -0.0826479, 0.0856592]
EFRON = [-0.3794222, -0.0574377, 0.3138998, -0.1497957, -0.4337039, -0.0848711, 0.0914971]
BRESLOW = [-0.3790219, -0.0572459, 0.3141298, -0.1511146, -0.4327826, -0.0849828, 0.0911115]
BRESLOW_ERROR = [0.1913644, 0.0219832, 0.3080173, 0.2121232, 0.3817949, 0.1957482, 0.0286313]


def wide_fit(known, events, exposure, prior_hazard=None, level_scale=WIDE):
    return HazardPosterior(prior_scale=WIDE, level_scale=level_scale).fit(
        known, events, exposure=exposure, prior_hazard=prior_hazard
    )


def test_one_row_each_is_exponential_regression():
    lives = rossi()
    found = wide_fit(lives.known, lives.arrested, lives.week)
    errors = np.sqrt(np.diag(found.covariance_))
    expected = [0.1911157, 0.0218413, 0.3079402, 0.2116998]
    expected += [0.3813821, 0.1956041, 0.0283133, 0.5860396]
    np.testing.assert_allclose(found.coef_, EXPONENTIAL, atol=2e-6)
    assert found.level_ == pytest.approx(-4.0506915, abs=2e-6)
    np.testing.assert_allclose(errors, expected, atol=2e-6)
    learned = found.predict(lives.known) * lives.week
    assert poisson_deviance(lives.arrested, learned) == pytest.approx(423.651801, abs=2e-6)
    likelihood = lives.arrested @ np.log(learned / lives.week) - learned.sum()
    assert likelihood == pytest.approx(-686.365941, abs=2e-6)
    assert (lives.arrested.sum(), lives.week.sum()) == (114, 19809)


def test_cutting_rows_anywhere_changes_nothing():
    lives, rng = rossi(), np.random.default_rng(0)
    pieces = rng.integers(1, 5, len(lives.week))
    unit = np.repeat(np.arange(len(pieces)), pieces)
    last = np.append(unit[1:] != unit[:-1], True)
    share = rng.uniform(0.1, 1.0, len(unit))
    exposure = lives.week[unit] * share / np.bincount(unit, share)[unit]
    cut = wide_fit(lives.known[unit], lives.arrested[unit] * last, exposure)
    whole = wide_fit(lives.known, lives.arrested, lives.week)
    np.testing.assert_allclose(cut.coef_, whole.coef_, atol=1e-9)
    np.testing.assert_allclose(cut.covariance_, whole.covariance_, atol=1e-9)


def test_what_the_handbook_says_is_not_learned_again():
    """A handbook that is log-linear: what is learned is the slope less the handbook's."""
    lives = rossi()
    found = wide_fit(lives.known, lives.arrested, lives.week, lives.prior_hazard)
    handbook = np.array([0, -0.03, 0, 0, 0, 0, 0.05])
    np.testing.assert_allclose(found.coef_, EXPONENTIAL - handbook, atol=2e-6)
    assert found.level_ == pytest.approx(0.9493085, abs=2e-6)
    assert found.expected_ == pytest.approx(75.219725, abs=2e-6)
    assert np.log(found.events_ / found.expected_) == pytest.approx(0.415785, abs=2e-6)


@pytest.mark.parametrize(
    ("number", "rows", "expected"),
    [
        (
            4,
            1573,
            [-0.3773538, -0.0569996, 0.3125937, -0.1489035, -0.4331109, -0.0836245, 0.0908704],
        ),
        (
            13,
            4991,
            [-0.3785083, -0.0572357, 0.3139695, -0.1487954, -0.4340688, -0.0842324, 0.0911668],
        ),
        (
            26,
            9929,
            [-0.3789333, -0.0572637, 0.3131879, -0.1502264, -0.4329414, -0.0849607, 0.0911483],
        ),
    ],
)
def test_equal_periods_come_near_to_cox(number, rows, expected):
    lives, width = rossi(), 52 / number
    starts = width * np.arange(number)
    unit, period = np.nonzero(lives.week[:, None] > starts)
    exposure = np.minimum(lives.week[unit] - starts[period], width)
    ends_here = lives.week[unit] <= starts[period] + width
    known = np.column_stack([lives.known[unit], np.eye(number)[period]])
    found = wide_fit(known, lives.arrested[unit] * ends_here, exposure, level_scale=None)
    assert len(unit) == rows
    np.testing.assert_allclose(found.coef_[:7], expected, atol=2e-6)
    np.testing.assert_allclose(found.coef_[:7], BRESLOW, atol=3e-3)


def test_weekly_rows_are_cox_with_breslows_ties():
    """Coefficients and standard errors; Holford 1980, Laird & Olivier 1981, from memory."""
    lives = rossi()
    found = risk_set_slopes(np.zeros(432), lives.week, lives.arrested, lives.known)
    assert found.rows == 18766
    np.testing.assert_allclose(found.coef, BRESLOW, atol=1e-6)
    np.testing.assert_allclose(found.error, BRESLOW_ERROR, atol=1e-6)
    cox = CoxPHSurvivalAnalysis(ties="breslow", tol=1e-12).fit(
        lives.known, Surv.from_arrays(lives.arrested == 1, lives.week)
    )
    np.testing.assert_allclose(found.coef, cox.coef_, atol=1e-6)


def test_without_ties_lifelines_gives_the_same():
    """Its Cox fit knows Efron's ties only; where no two are arrested at once they do not matter."""
    table, lives = load_rossi(), rossi()
    apart = np.random.default_rng(0).permutation(432) / 432 / 2
    week = lives.week - apart * lives.arrested
    found = risk_set_slopes(np.zeros(432), week, lives.arrested, lives.known)
    cox = CoxPHFitter().fit(
        table.assign(week=week), "week", "arrest", fit_options={"precision": 1e-10}
    )
    np.testing.assert_allclose(found.coef, cox.params_[table.columns[2:]], atol=1e-6)
    np.testing.assert_allclose(found.error, cox.standard_errors_, atol=1e-6)


def test_efrons_ties_and_the_pairs_they_rank():
    """Coefficients as R gives them, quoted in tests/test_estimation.py of lifelines (read).

    Fox 2002 and Allison 1995, from memory. Errors, likelihood and pairs computed.
    """
    lives = rossi()
    cox = CoxPHFitter().fit(load_rossi(), "week", "arrest", fit_options={"precision": 1e-10})
    errors = [0.1913795, 0.0219995, 0.3079928, 0.2122243, 0.3818681, 0.1957567, 0.0286486]
    np.testing.assert_allclose(cox.params_, EFRON, atol=2e-6)
    np.testing.assert_allclose(cox.standard_errors_, errors, atol=2e-6)
    assert cox.log_likelihood_ == pytest.approx(-658.747659, abs=2e-6)
    found = concordance(Lifetimes.of(lives.week, lives.arrested), lives.known @ cox.params_)
    assert (found.concordant, found.discordant, found.tied) == (27242, 15291, 49)
    assert found.index == pytest.approx(0.6403292, abs=2e-6)
    assert found.index == pytest.approx(cox.concordance_index_, abs=1e-12)
    ours = risk_set_slopes(np.zeros(432), lives.week, lives.arrested, lives.known)
    np.testing.assert_allclose(ours.coef, EFRON, atol=2e-3)  # Breslow's ties: near, not the same


def test_survivors_and_cumulative_hazard():
    lives = rossi()
    found = life_table(Lifetimes.of(lives.week, lives.arrested))
    weeks = [10, 26, 52]
    np.testing.assert_allclose(found.survivors_at(weeks), [0.9652778, 0.875, 0.7361111], atol=1e-6)
    at = np.searchsorted(found.age, weeks, side="right") - 1
    cumulative = [0.0352363, 0.1330683, 0.3051275]
    np.testing.assert_allclose(found.cumulative_hazard[at], cumulative, atol=1e-6)
