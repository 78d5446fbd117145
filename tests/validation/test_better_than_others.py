"""Whether ours is better than counting findings and than a regression: figures, and how sure."""

from types import SimpleNamespace

import numpy as np
import pandas as pd
import pytest
from tried_fleets import validation_of_sites

from scoring.validation.better_than_others import COMPARED, LEAST_TO_TELL, compare, in_words
from scoring.validation.schemes import SAME_UNITS
from scoring.validation.scores import scores_of


def said(ours, count, regression, *, failures=41, errors=(0.045, 0.045)):
    rows = [
        ("seal_leak", failures, "handbook", other, ours, order, ours - order, error)
        for other, order, error in zip(
            ("count of findings", "plain regression"), (count, regression), errors, strict=True
        )
    ]
    return in_words(pd.DataFrame(rows, columns=list(COMPARED)))


def test_figures_are_told_with_what_they_prove():
    words = said(0.71, 0.60, 0.66)
    assert words.startswith(
        "Of two units of which one failed, ours put the failing one first in 71 of 100 cases, "
        "counting findings in 60, a plain regression in 66. 41 failures: "
    )
    assert "ours leads counting findings by 11.0 cases, which is proved" in words
    assert "ours leads a plain regression by 5.0 cases, which proves nothing" in words


def test_who_is_worse_says_so():
    words = said(0.60, 0.60, 0.72)
    assert "neither ours nor counting findings leads" in words
    assert "a plain regression leads ours by 12.0 cases, which is proved" in words


@pytest.mark.parametrize(("failures", "told"), [(0, "no seal leaks"), (1, "1 seal leak came")])
def test_too_few_failures_cannot_tell(failures, told):
    words = said(0.9, 0.5, 0.5, failures=failures)
    assert words.startswith("This plant cannot tell yet")
    assert told in words
    assert f"it takes {LEAST_TO_TELL}" in words
    assert "cannot tell yet" in said(0.9, 0.5, 0.5, failures=LEAST_TO_TELL - 1)
    assert "cannot tell yet" not in said(0.9, 0.5, 0.5, failures=LEAST_TO_TELL)
    assert "cannot tell yet" in said(0.9, 0.5, 0.5, errors=(np.nan, 0.1))


def test_three_units_by_hand():
    """One failed: ours has it before both others, the count before one, the regression ties."""
    table = pd.DataFrame(
        {
            "scheme": SAME_UNITS,
            "failure_mode": "seal_leak",
            "since": 0,
            "fold": 0,
            "place": [0, 1, 2],
            "years": [0.5, 1.0, 1.0],
            "horizon_years": 1.0,
            "failed": [True, False, False],
            "handbook": [0.1, 0.2, 0.3],
            "handbook and fleet": [0.3, 0.2, 0.1],
            "count of findings": [2.0, 1.0, 3.0],
            "plain regression": [0.0, 0.0, 0.0],
            "expected_handbook": 0.1,
            "expected_fleet": 0.1,
        }
    )
    orders = scores_of(table)
    for ours, order in (("handbook and fleet", 1.0), ("handbook", 0.0)):
        found = compare(table, orders, {"seal_leak": SimpleNamespace(predicted_by=ours)})
        assert found["other"].tolist() == ["count of findings", "plain regression"]
        assert found["order_ours"].tolist() == [order, order]
        assert found["order_other"].tolist() == [0.5, 0.5]
        assert found["lead"].tolist() == [order - 0.5, order - 0.5]


def test_the_lead_is_the_difference_of_the_orders_that_are_shown():
    found = validation_of_sites(240, 4).compared
    assert tuple(found.columns) == COMPARED
    told = found[found["failures"] > 0]
    assert len(told) >= 4
    np.testing.assert_allclose(told["lead"], told["order_ours"] - told["order_other"], atol=1e-12)
    assert (told["error"] > 0).all()
