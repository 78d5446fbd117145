"""Units assessed again with another horizon or learning: bit for bit as from the records."""

from dataclasses import fields, is_dataclass

import numpy as np
import pandas as pd
import pytest
from kept_plants import SMALL_QUARRY
from pandas.testing import assert_frame_equal

from scoring.assessment import FleetAssessor
from scoring.assessment import assess as chain
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet

DAY = pd.Timestamp("2026-06-30")


@pytest.fixture(scope="module")
def assessor():
    return FleetAssessor(check_fleet(read_fleet(SMALL_QUARRY).tables, DAY).fleet)


@pytest.fixture(scope="module")
def learning(assessor):
    return assessor.learn(DAY)


def same(one, other):
    """Compare what is worked out, however deep it lies."""
    assert type(one) is type(other)
    if isinstance(one, pd.DataFrame):
        assert_frame_equal(one, other, check_exact=True)
    elif isinstance(one, np.ndarray):
        np.testing.assert_array_equal(one, other)
    elif isinstance(one, dict):
        assert one.keys() == other.keys()
        for key, value in one.items():
            same(value, other[key])
    elif is_dataclass(one):
        for field in fields(one):
            same(getattr(one, field.name), getattr(other, field.name))
    else:
        assert one == other


@pytest.mark.parametrize("days", [90, 730])
@pytest.mark.parametrize("first_learned", [True, False])
@pytest.mark.parametrize("then_learned", [True, False])
def test_it_is_the_same_as_from_the_records(assessor, learning, days, first_learned, then_learned):
    first = assessor.assess(DAY, 365, learning if first_learned else None)
    again = first.again(days, learning if then_learned else None)
    anew = assessor.assess(DAY, days, learning if then_learned else None)
    assert again.learning is anew.learning
    same(again.ranking, anew.ranking)
    same(again.risk.modes, anew.risk.modes)
    same(again.risk.expected_loss, anew.risk.expected_loss)
    assert not again.ranking["expected_loss"].equals(first.ranking["expected_loss"])


def test_neither_the_rules_nor_the_handbook_are_asked_again(assessor, learning, monkeypatch):
    first = assessor.assess(DAY, 365)
    for name in ("judge_units", "work_out", "contradictions"):
        monkeypatch.delattr(chain, name)
    monkeypatch.delattr("scoring.risk.hazard.multipliers")
    again = first.again(180, learning)
    assert again.findings is first.findings
    assert again.horizon_days == 180
