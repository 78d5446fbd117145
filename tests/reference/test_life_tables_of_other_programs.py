"""Life tables of drawn lives, and Cox slopes of public ones, as others give them."""

import numpy as np
import pytest
from lifelines import CoxPHFitter, KaplanMeierFitter, NelsonAalenFitter
from lifelines.datasets import load_lung
from risk_sets import risk_set_slopes
from sksurv.linear_model import CoxPHSurvivalAnalysis
from sksurv.nonparametric import kaplan_meier_estimator
from sksurv.util import Surv

from scoring.learning.life_tables import life_table
from scoring.learning.lifetimes import Lifetimes

pytestmark = pytest.mark.filterwarnings(
    # lifelines 0.30.0 calls pandas in a way that pandas 4 will refuse
    "ignore:Starting with pandas version 4.0 all arguments of:pandas.errors.Pandas4Warning"
)


def drawn(seed, late):
    """Draw lives with many ties, half of them lost; late ones come under observation on the way."""
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
