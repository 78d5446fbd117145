"""Costs that are counted have the medians of the units themselves, in whatever parts."""

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.errors import FixableError
from scoring.risk.costs_counted import CostsCounted
from scoring.risk.loss import PLANNED_COSTS, UsualCosts

amounts = st.one_of(st.none(), st.sampled_from([0.0, 0.1, 5.0, 7.25, 1e6]), st.floats(0, 1e9))


@st.composite
def units(draw):
    size = draw(st.integers(1, 25))
    columns = {
        name: pd.Series(draw(st.lists(amounts, min_size=size, max_size=size)), dtype=float)
        for name in PLANNED_COSTS
    }
    sites = draw(st.lists(st.sampled_from("cab"), min_size=size, max_size=size))
    currencies = draw(st.lists(st.sampled_from(["EUR", None]), min_size=size, max_size=size))
    return pd.DataFrame({"site": sites, "currency": pd.Series(currencies, dtype=object)} | columns)


@given(units(), st.integers(1, 4))
def test_the_medians_of_the_units_themselves(fleet, parts):
    pieces = [fleet.iloc[start::parts] for start in range(parts)]
    counted = CostsCounted.together([CostsCounted.of(piece) for piece in pieces]).usual
    whole = UsualCosts.of(fleet)
    assert counted.currency == whole.currency
    assert counted.by_site.index.tolist() == whole.by_site.index.tolist()
    np.testing.assert_array_equal(counted.by_site, whole.by_site)
    np.testing.assert_array_equal(counted.fleet, whole.fleet)


def test_two_currencies_are_refused_wherever_they_stand():
    silent = dict.fromkeys(PLANNED_COSTS, np.nan)
    pieces = [
        CostsCounted.of(pd.DataFrame([{"site": "a", "currency": currency} | silent]))
        for currency in ("EUR", "CAD")
    ]
    with pytest.raises(FixableError, match=r"CAD \(1 units\), EUR \(1 units\)"):
        _ = CostsCounted.together(pieces).usual
