"""Life tables, first failures and Weibull fits of drawn and public lives, as others give them."""

import numpy as np
import pytest
from lifelines import (
    AalenJohansenFitter,
    CoxPHFitter,
    KaplanMeierFitter,
    NelsonAalenFitter,
    WeibullFitter,
)
from lifelines.datasets import load_lung
from published_lifetimes import numbers
from risk_sets import risk_set_slopes
from sksurv.datasets import load_bmt
from sksurv.linear_model import CoxPHSurvivalAnalysis
from sksurv.nonparametric import (
    cumulative_incidence_competing_risks,
    kaplan_meier_estimator,
)
from sksurv.util import Surv

from scoring.learning.competing_failures import first_failures
from scoring.learning.life_tables import life_table
from scoring.learning.lifetimes import Lifetimes
from scoring.learning.weibull_fit import fit_weibull

pytestmark = pytest.mark.filterwarnings(
    # lifelines 0.30.0 calls pandas in a way that pandas 4 will refuse
    "ignore:Starting with pandas version 4.0 all arguments of:pandas.errors.Pandas4Warning"
)


def drawn(seed, late):
    """Draw lives with many ties, half of them lost; late ones come into sight on the way."""
    rng = np.random.default_rng(seed)
    end = rng.integers(2, 12, 200).astype(float)
    entry = np.where(rng.random(200) < 0.6, np.floor(rng.uniform(0, 1, 200) * end), 0.0)
    return Lifetimes.of(end, rng.random(200) < 0.5, entry if late else 0.0)


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("late", [False, True])
def test_product_limit(seed, late):
    lives = drawn(seed, late=late)
    found = life_table(lives)
    ages, survivors = kaplan_meier_estimator(lives.failed, lives.end, lives.entry if late else None)
    np.testing.assert_allclose(found.survivors_at(ages), survivors, atol=1e-12)
    theirs = KaplanMeierFitter().fit(lives.end, lives.failed, entry=lives.entry)
    np.testing.assert_allclose(found.survivors_at(found.age), theirs.predict(found.age), atol=1e-12)
    hazard = NelsonAalenFitter(nelson_aalen_smoothing=False).fit(
        lives.end, lives.failed, entry=lives.entry
    )
    np.testing.assert_allclose(found.cumulative_hazard, hazard.predict(found.age), atol=1e-12)


@pytest.mark.parametrize("seed", range(3))
def test_which_of_three_failures_comes_first(seed):
    lives = drawn(seed, late=False)
    which = np.random.default_rng(seed).integers(1, 4, 200) * lives.failed
    found = first_failures(lives, which.astype(str))
    ages, fractions = cumulative_incidence_competing_risks(which, lives.end)
    at = np.searchsorted(ages, found.age)
    np.testing.assert_allclose(1 - found.survivors, fractions[0, at], atol=1e-12)
    for failure in (1, 2, 3):
        np.testing.assert_allclose(found.fraction[str(failure)], fractions[failure, at], atol=1e-12)


def test_first_failures_of_late_comers():
    """No two end at one age, which lifelines would part at random, nor where another begins.

    Its Aalen-Johansen (not its product limit) takes who begins at an age as at risk then.
    """
    lives = drawn(0, late=True)
    apart = (1 + np.random.default_rng(1).permutation(200)) / 400
    lives = Lifetimes.of(lives.end + apart, lives.failed, lives.entry)
    which = np.random.default_rng(2).integers(1, 3, 200) * lives.failed
    found = first_failures(lives, which.astype(str))
    for failure in (1, 2):
        theirs = AalenJohansenFitter(calculate_variance=False).fit(
            lives.end, which, event_of_interest=failure, entry=lives.entry
        )
        np.testing.assert_allclose(
            found.fraction[str(failure)],
            theirs.cumulative_density_.loc[found.age].to_numpy().ravel(),
            atol=1e-12,
        )


def test_relapse_or_death_after_a_transplant():
    """tests/test_nonparametric.py of scikit-survival (read); Scrucca et al. 2007, from memory.

    A day is added to all, since ours does not hold a life that ends where it begins.
    """
    _, ends = load_bmt()
    lives = Lifetimes.of(ends["ftime"] + 1, ends["status"] > 0)
    found = first_failures(lives, ends["status"].astype(str))
    first = numbers("""
        0.02857143 0.05714286 0.05714286 0.14581281 0.20492611 0.20492611 0.20492611 0.23771164
        0.23771164 0.23771164 0.27283899 0.27283899 0.27283899 0.27283899 0.27283899
    """)
    second = numbers("""
        0.02857143 0.05714286 0.08571429 0.11527094 0.14482759 0.1757917 0.23771992 0.27050544
        0.30563279 0.34076015 0.34076015 0.3758875 0.41101485 0.4461422 0.48126955
    """)
    ages = [0, 1, 2, 3, 4, 5, 7, 8, 9, 10, 12, 13, 14, 22, 26]
    np.testing.assert_array_equal(found.age - 1, ages)
    np.testing.assert_allclose(found.fraction["1"], first, atol=1e-8)
    np.testing.assert_allclose(found.fraction["2"], second, atol=1e-8)


def test_weibull_of_lung_patients():
    """R survival 3.8-11, tests/r_lung.Rout.save: 6.034904, 0.7593936, -1153.9 (read)."""
    table = load_lung()
    found = fit_weibull(Lifetimes.of(table["time"], table["status"]))
    assert np.log(found.scale) == pytest.approx(6.034904, abs=1e-6)
    assert 1 / found.shape == pytest.approx(0.7593936, abs=1e-7)
    assert found.log_likelihood == pytest.approx(-1153.851, abs=1e-3)
    theirs = WeibullFitter().fit(table["time"], table["status"])
    assert found.log_likelihood == pytest.approx(theirs.log_likelihood_, abs=1e-6)


@pytest.mark.parametrize("seed", range(3))
def test_weibull_of_late_comers(seed):
    lives = drawn(seed, late=True)
    found = fit_weibull(lives)
    theirs = WeibullFitter().fit(lives.end, lives.failed, entry=lives.entry)
    assert found.shape == pytest.approx(theirs.rho_, rel=1e-4)
    assert found.scale == pytest.approx(theirs.lambda_, rel=1e-4)
    assert found.log_likelihood == pytest.approx(theirs.log_likelihood_, abs=1e-6)
    assert found.log_likelihood >= theirs.log_likelihood_ - 1e-9
    spread = np.sqrt(np.diag(found.log_covariance)) * [found.shape, found.scale]
    theirs_spread = np.sqrt(
        np.diag(theirs.variance_matrix_.loc[["rho_", "lambda_"], ["rho_", "lambda_"]])
    )
    np.testing.assert_allclose(spread, theirs_spread, rtol=1e-3)


def test_cox_of_lung_patients():
    """R prints .011067 -.552612 .463728 (read at cloud.tencent.com, article 1374595)."""
    table = load_lung()[["time", "status", "age", "sex", "ph.ecog"]].dropna()
    assert (len(table), table["status"].sum()) == (227, 164)
    expected = [0.011067, -0.552612, 0.463728]
    cox = CoxPHFitter().fit(table, "time", "status", fit_options={"precision": 1e-10})
    np.testing.assert_allclose(cox.params_, expected, atol=2e-6)
    known = table[["age", "sex", "ph.ecog"]]
    rows = risk_set_slopes(np.zeros(227), table["time"], table["status"], known)
    np.testing.assert_allclose(rows.coef, expected, atol=1e-3)  # Breslow's ties: near
    breslow = CoxPHSurvivalAnalysis(ties="breslow", tol=1e-12).fit(
        known, Surv.from_arrays(table["status"] == 1, table["time"])
    )
    np.testing.assert_allclose(rows.coef, breslow.coef_, atol=1e-6)
