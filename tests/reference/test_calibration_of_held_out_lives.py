"""Calibration of a Cox fit on lives that it has not seen: sum, slope and groups.

Numbers computed with scikit-survival 0.28.0 and statsmodels 0.15.0; method of Crowson, Atkinson and
Therneau 2016, from memory.
"""

import numpy as np
import pandas as pd
import pytest
from held_out_lives import breast_cancer_held_out
from risk_sets import risk_set_slopes
from scikit_survival_ways import structured
from sksurv.linear_model import CoxPHSurvivalAnalysis

from scoring.learning.calibration import calibrate, calibration_by_group, groups_of_risk
from scoring.learning.hazard_posterior import HazardPosterior
from scoring.learning.observed_expected import observed_over_expected

EXPECTED = 104.980964


def held_out():
    """Return failures, those expected, those expected if nobody differed, and the score."""
    lives = breast_cancer_held_out()
    expected, score = lives.cumulative_hazard(), lives.score
    return lives.judged.failed.astype(float), expected, expected * np.exp(-score), score


def test_sum():
    events, expected, _, _ = held_out()
    found = observed_over_expected(events.sum(), expected.sum(), 0.95)
    assert events.sum() == 98
    assert expected.sum() == pytest.approx(EXPECTED, abs=2e-5)
    assert found.ratio == pytest.approx(0.9335026, abs=2e-5)
    np.testing.assert_allclose([found.low, found.high], [0.7578625, 1.1376406], atol=2e-5)


def test_a_failure_before_any_that_was_learned_from_cannot_be_judged():
    """Cox's fit expects nothing before its first failure, on day 98; one came back on day 72."""
    events, expected, base, _ = held_out()
    judged = breast_cancer_held_out().judged
    assert (expected == 0).sum() == 7
    assert judged.end[(expected == 0) & judged.failed].tolist() == [72]
    with pytest.raises(ValueError, match="none were expected"):
        calibrate(events, expected, base)


def test_level_and_slope():
    """Where something was expected: 97 failures."""
    events, expected, base, _ = (part[held_out()[1] > 0] for part in held_out())
    found = calibrate(events, expected, base, level=0.95)
    assert found.events == 97
    assert found.expected == pytest.approx(EXPECTED, abs=2e-5)
    assert np.log(found.ratio.ratio) == pytest.approx(-0.0790681, abs=2e-5)
    assert found.slope == pytest.approx(0.9100876, abs=2e-5)
    assert found.slope_error == pytest.approx(0.1663927, abs=2e-5)
    level = HazardPosterior(level_scale=1e4).fit(
        np.zeros((len(events), 1)), events, prior_hazard=expected
    )
    assert level.level_ == pytest.approx(-0.0790681, abs=2e-5)
    assert np.sqrt(level.covariance_[-1, -1]) == pytest.approx(0.1015346, abs=2e-5)


def test_the_slope_is_near_that_of_a_second_cox_fit():
    lives = breast_cancer_held_out()
    again = CoxPHSurvivalAnalysis(ties="efron", tol=1e-12).fit(
        lives.score[:, None], structured(lives.judged)
    )
    assert again.coef_[0] == pytest.approx(0.9350537, abs=2e-5)
    judged = lives.judged
    rows = risk_set_slopes(judged.entry, judged.end, judged.failed, lives.score[:, None])
    assert rows.coef[0] == pytest.approx(0.9350537, abs=1e-3)  # Breslow's ties
    events, expected, base, _ = (part[held_out()[1] > 0] for part in held_out())
    assert calibrate(events, expected, base).slope == pytest.approx(rows.coef[0], abs=rows.error[0])


def test_fifths_of_risk():
    events, expected, _, score = held_out()
    found = calibration_by_group(events, expected, pd.qcut(score, 5, labels=False))
    assert found["events"].tolist() == [10, 19, 19, 24, 26]
    of_each = [13.5424, 16.3226, 20.4048, 19.582, 35.1291]
    np.testing.assert_allclose(found["expected"], of_each, atol=5e-5)
    ours = calibration_by_group(events, expected, groups_of_risk(score, events.sum()))
    assert ours["events"].tolist() == [10, 19, 19, 24, 26]
    assert np.abs(ours["rows"] - found["rows"]).max() == 1  # 229 lives do not part evenly
