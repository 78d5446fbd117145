"""A state that changes on the way: rows of time at risk give Cox's numbers for hearts.

Known once a heart was had, and not from the first day on.
"""

import numpy as np
import pytest
from lifelines import CoxPHFitter, CoxTimeVaryingFitter
from public_lives import hearts, hearts_counted_from_nought, one_row_each
from risk_sets import risk_set_slopes

pytestmark = pytest.mark.filterwarnings(
    # lifelines 0.30.0 calls pandas in a way that pandas 4 will refuse
    "ignore:Starting with pandas version 4.0 all arguments of:pandas.errors.Pandas4Warning"
)
KNOWN = ["age", "year", "surgery", "transplant"]


def slopes(table, known):
    return risk_set_slopes(table["start"], table["stop"], table["event"], known)


def with_products(table, columns):
    """Return columns, and each of them but the last times the transplant, which comes last."""
    known = table[[*columns, "transplant"]].to_numpy(float)
    return np.column_stack([known, known[:, :-1] * known[:, -1:]])


def by_lifelines(table):
    return CoxTimeVaryingFitter().fit(
        table,
        id_col="id",
        start_col="start",
        stop_col="stop",
        event_col="event",
        fit_options={"precision": 1e-10},
    )


@pytest.mark.parametrize(
    ("columns", "expected"),
    [
        (["age", "surgery"], [0.01386, -0.54652, 0.11572, 0.03473, -0.29037]),
        (["year"], [-0.2652, -0.2871, 0.1371]),
        (["age", "year"], [0.01558, -0.27413, -0.59388, 0.0338, 0.20228]),
    ],
)
def test_models_with_products(columns, expected):
    """R survival 3.8-11, tests/jasa.Rout.save (read); Kalbfleisch & Prentice, from memory.

    Each column, the transplant, and the products of the two.
    """
    table = hearts_counted_from_nought()
    found = slopes(table, with_products(table, columns))
    assert found.rows == 3547
    np.testing.assert_allclose(found.coef, expected, atol=5e-5)


def test_four_covariates():
    """Breslow's ties, computed with two programs."""
    table = hearts()
    found = slopes(table, table[KNOWN])
    expected = [0.0271521, -0.1461158, -0.6358435, -0.0118959]
    assert found.rows == 3547
    np.testing.assert_allclose(found.coef, expected, atol=1e-6)


def test_whoever_begins_at_the_age_of_a_failure_is_not_at_risk_of_it():
    """Computed with another program that counts them twice: start <= t <= stop."""
    table = hearts()
    twice = slopes(table.assign(start=table["start"] - 1e-6), table[KNOWN])
    expected = [0.0274668, -0.1463288, -0.6343438, -0.0567401]
    np.testing.assert_allclose(twice.coef, expected, atol=1e-6)


def test_efrons_ties():
    """R as quoted in tests/test_estimation.py of lifelines: .0272 -.1463 -.6372 -.0103 (read).

    Further digits, errors and likelihood computed with two programs.
    """
    table = hearts()
    cox = by_lifelines(table)
    errors = [0.013714, 0.070468, 0.367226, 0.313755]
    expected = [0.0271666, -0.1463463, -0.6372099, -0.0102508]
    np.testing.assert_allclose(cox.params_[KNOWN], expected, atol=1e-6)
    np.testing.assert_allclose(cox.standard_errors_[KNOWN], errors, atol=1e-6)
    assert cox.log_likelihood_ == pytest.approx(-290.565616, abs=5e-6)
    found = slopes(table, table[KNOWN])
    np.testing.assert_allclose(found.coef, expected, atol=2e-3)  # Breslow's ties: near
    np.testing.assert_allclose(found.error, errors, atol=2e-4)


def test_without_ties_lifelines_gives_the_same():
    table = hearts()
    sooner = np.random.default_rng(0).permutation(len(table)) / len(table) / 4
    apart = table.assign(stop=table["stop"] - sooner * table["event"])
    found, cox = slopes(apart, apart[KNOWN]), by_lifelines(apart)
    np.testing.assert_allclose(found.coef, cox.params_[KNOWN], atol=1e-6)
    np.testing.assert_allclose(found.error, cox.standard_errors_[KNOWN], atol=1e-6)


def test_a_heart_to_come_must_not_count():
    """Who got a heart had lived until then: taken as known from the start it seems to save lives.

    Computed with lifelines 0.30.0, Efron's ties, and the first also with scikit-survival 0.28.0; at
    its own precision lifelines stops at -1.323511.
    """
    table = hearts()
    early = one_row_each(table)
    naive = CoxPHFitter().fit(early, "stop", "event", fit_options={"precision": 1e-10})
    heeded = by_lifelines(table[["id", "start", "stop", "event", "transplant"]])
    assert naive.params_["transplant"] == pytest.approx(-1.3234448, abs=1e-6)
    assert naive.standard_errors_["transplant"] == pytest.approx(0.243803, abs=1e-6)
    assert heeded.params_["transplant"] == pytest.approx(0.127141, abs=1e-5)
    assert heeded.standard_errors_["transplant"] == pytest.approx(0.30114, abs=1e-5)
    ours_naive = slopes(early.assign(start=0), early[["transplant"]])
    ours = slopes(table, table[["transplant"]])
    assert ours_naive.coef[0] == pytest.approx(-1.323445, abs=0.01)
    assert ours.coef[0] == pytest.approx(0.127141, abs=0.01)
