"""Too many, too bold, too timid: calibration tells them apart."""

import numpy as np
import pytest
from sklearn.linear_model import PoissonRegressor

from scoring.learning.calibration import calibrate, calibration_by_group, groups_of_risk
from scoring.learning.observed_expected import observed_over_expected


def drawn(seed=0, n=20_000):
    rng = np.random.default_rng(seed)
    base = rng.lognormal(-3.0, 0.4, n)
    bold = rng.normal(0, 0.8, n)
    return base, bold, rng.poisson(base * np.exp(bold)).astype(float)


@pytest.mark.parametrize(("boldness", "slope"), [(1.0, 1.0), (2.0, 0.5), (0.5, 2.0)])
def test_slope_tells_how_much_of_the_spread_is_real(boldness, slope):
    base, bold, events = drawn()
    found = calibrate(events, base * np.exp(boldness * bold), base)
    assert found.slope == pytest.approx(slope, abs=3 * found.slope_error)
    assert found.slope_error < 0.1 * slope


@pytest.mark.parametrize("factor", [0.5, 1.0, 2.0])
def test_a_wrong_level_shows_in_the_ratio_alone(factor):
    base, bold, events = drawn()
    plain = calibrate(events, base * np.exp(bold), base)
    found = calibrate(events, factor * base * np.exp(bold), base)
    assert found.ratio.ratio == pytest.approx(plain.ratio.ratio / factor)
    assert found.slope == pytest.approx(plain.slope, abs=1e-8)
    exact = observed_over_expected(found.events, found.expected)
    assert (found.ratio.low, found.ratio.high) == (exact.low, exact.high)


def test_slope_agrees_with_a_plain_poisson_regression():
    base, bold, events = drawn(n=800)
    plain = PoissonRegressor(alpha=0, solver="newton-cholesky", tol=1e-12).fit(
        bold[:, None], events / base, sample_weight=base
    )
    found = calibrate(events, base * np.exp(bold), base)
    assert found.slope == pytest.approx(plain.coef_[0], abs=1e-6)


def test_failures_that_share_a_cause_widen_the_slopes_error():
    base, bold, _ = drawn(n=2000)
    unit = np.arange(2000) // 20
    of_unit = np.random.default_rng(1).gamma(0.2, 5.0, 100)[unit]
    spread = np.repeat(bold[::20], 20)  # every row of a unit is as bold
    clumped = np.random.default_rng(2).poisson(base * np.exp(spread) * of_unit)
    rows_alone = calibrate(clumped, base * np.exp(spread), base)
    by_unit = calibrate(clumped, base * np.exp(spread), base, groups=unit)
    assert by_unit.slope == rows_alone.slope
    assert by_unit.slope_error > 1.2 * rows_alone.slope_error


def test_without_failures_or_spread_there_is_no_slope():
    base, bold, events = drawn(n=50)
    for seen, said in ((np.zeros(50), base * np.exp(bold)), (events, 2 * base)):
        found = calibrate(seen, said, base)
        assert np.isnan(found.slope)
        assert np.isnan(found.slope_error)
        assert np.isfinite(found.ratio.high)


def test_groups_add_up_and_order_does_not_matter():
    base, bold, events = drawn(n=3000)
    expected = base * np.exp(bold)
    group = groups_of_risk(bold, events.sum())
    found = calibration_by_group(events, expected, group)
    assert list(found["group"]) == list(range(1, 11))
    assert found["events"].sum() == events.sum()
    assert found["expected"].sum() == pytest.approx(expected.sum())
    assert (found["low"] < found["ratio"]).all()
    assert (found["ratio"] < found["high"]).all()
    mixed = np.random.default_rng(0).permutation(3000)
    again = calibration_by_group(events[mixed], expected[mixed], group[mixed])
    np.testing.assert_allclose(again.to_numpy(), found.to_numpy())


@pytest.mark.parametrize(("events", "groups"), [(5, 3), (49, 3), (50, 5), (100, 10)])
def test_few_failures_make_few_groups(events, groups):
    assert len(np.unique(groups_of_risk(np.linspace(0, 1, 500), events))) == groups


def test_equal_risks_stay_together():
    group = groups_of_risk([0.1, 0.1, 0.1, 0.1, 0.9], 5)
    assert len(set(group[:4])) == 1


def test_refused():
    with pytest.raises(ValueError, match="none were expected"):
        calibrate([1.0, 0.0], [0.0, 1.0], [1.0, 1.0])
