"""A Poisson fit of person-period rows is Cox's fit (Breslow's ties), coefficient and error."""

import numpy as np
import pytest
from published_lifetimes import MAINTAINED, NOT_MAINTAINED
from scipy.optimize import minimize_scalar

from scoring.learning.hazard_posterior import HazardPosterior

WIDE = 2e4


def leukaemia():
    """Return time, whether relapsed, and 1 for those not maintained."""
    both = np.vstack([MAINTAINED, NOT_MAINTAINED])
    group = np.repeat([0.0, 1.0], [len(MAINTAINED), len(NOT_MAINTAINED)])
    return both[:, 0], both[:, 1], group


def six_rows():
    return np.array([9, 1, 1, 6, 6, 8]), np.array([1, 1, 0, 1, 1, 0]), np.array([0, 1, 1, 1, 0, 0])


def exposure_fit(time, failed, covariate, edges, exposure_of_event_ages=True):
    """Fit one level for each period and the covariate, all but unpenalised."""
    start = np.concatenate([[0.0], edges[:-1]])
    unit, period = np.nonzero(time[:, None] > start)
    if exposure_of_event_ages:  # only who is still at risk at the event
        kept = time[unit] >= edges[period]
        unit, period = unit[kept], period[kept]
        exposure = np.ones(len(unit))
    else:
        exposure = np.minimum(time[unit], edges[period]) - start[period]
    events = failed[unit] * (time[unit] <= edges[period])
    rows = np.column_stack([covariate[unit], np.eye(len(edges))[period]])
    return HazardPosterior(prior_scale=WIDE, level_scale=None).fit(rows, events, exposure=exposure)


def breslow_slope(time, failed, covariate):
    """Maximise Cox's partial likelihood directly."""

    def missing(b):
        at_risk = time[None, :] >= time[:, None]
        log_sum = np.log(at_risk @ np.exp(b * covariate))
        return -(failed * (b * covariate - log_sum)).sum()

    return minimize_scalar(missing, bounds=(-5, 5), method="bounded", options={"xatol": 1e-10}).x


def test_leukaemia():
    """R survival 3.8-11, tests/doaml.Rout.save: 0.9042, 0.5122 (read); Miller (from memory).

    Further digits computed with statsmodels 0.15.0 and scikit-survival 0.28.0.
    """
    time, failed, group = leukaemia()
    found = exposure_fit(time, failed, group, np.unique(time[failed == 1]))
    assert found.coef_[0] == pytest.approx(0.9042197, abs=1e-6)
    assert np.sqrt(found.covariance_[0, 0]) == pytest.approx(0.5122479, abs=1e-6)
    assert found.coef_[0] == pytest.approx(breslow_slope(time, failed, group), abs=1e-5)


def test_six_rows_in_closed_form():
    """R survival 3.8-11, tests/book1.Rout.save: log(1.5 + sqrt(33) / 2) (read).

    Therneau & Grambsch 2000, appendix E, from memory.
    """
    time, failed, covariate = six_rows()
    found = exposure_fit(time, failed, covariate, np.unique(time[failed == 1]))
    assert found.coef_[0] == pytest.approx(np.log(1.5 + np.sqrt(33) / 2), abs=1e-6)
    assert found.coef_[0] == pytest.approx(breslow_slope(time, failed, covariate), abs=1e-5)


def test_wide_periods_come_near():
    """Four periods instead of one for each event age: within a third of the standard error."""
    time, failed, group = leukaemia()
    edges = np.array([10.0, 25.0, 40.0, 161.0])
    found = exposure_fit(time, failed, group, edges, exposure_of_event_ages=False)
    assert found.coef_[0] == pytest.approx(0.9042197, abs=0.5122 / 3)


def test_the_level_of_each_period_is_the_hazard_of_its_risk_set():
    """Without a covariate: failures over units at risk, the steps of the cumulative hazard."""
    time, failed, _ = leukaemia()
    edges = np.unique(time[failed == 1])
    found = exposure_fit(time, failed, np.zeros(len(time)), edges)
    at_risk = (time[:, None] >= edges).sum(axis=0)
    events = (failed[:, None] * (time[:, None] == edges)).sum(axis=0)
    np.testing.assert_allclose(np.exp(found.coef_[1:]), events / at_risk, rtol=1e-5)
