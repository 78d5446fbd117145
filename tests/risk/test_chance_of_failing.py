"""The chance of a failure among units alike on paper, against the integral and against draws."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import lognorm

from scoring.handbook.base_rates import UNLIKE_UNITS
from scoring.risk.chance_of_failing import chance_of_failing

ALIKE = lognorm(UNLIKE_UNITS, scale=np.exp(-(UNLIKE_UNITS**2) / 2))
FEW_TO_MANY = st.floats(1e-6, 200.0)


@pytest.mark.parametrize("expected", [1e-4, 0.02, 0.3, 1.0, 4.0, 30.0])
def test_it_is_the_integral_over_units_alike(expected):
    plain = ALIKE.expect(lambda times: -np.expm1(-expected * times))
    assert chance_of_failing(expected) == pytest.approx(plain, rel=1e-6)


def test_it_is_the_share_of_drawn_units_that_fail():
    chance = np.random.default_rng(5)
    hazard = 0.8 * ALIKE.rvs(400_000, random_state=chance)
    assert chance_of_failing(0.8) == pytest.approx((chance.poisson(hazard) > 0).mean(), abs=0.003)


@given(FEW_TO_MANY, st.floats(1.0, 10.0))
def test_more_expected_is_never_less_likely(expected, times):
    fewer, more = chance_of_failing([expected, expected * times])
    assert 0 <= fewer <= more <= 1


@given(FEW_TO_MANY)
def test_it_lies_below_the_chance_of_a_unit_of_average_hazard(expected):
    assert chance_of_failing(expected) <= -np.expm1(-expected) + 1e-12


def test_few_expected_failures_are_their_own_chance():
    assert chance_of_failing(1e-5) == pytest.approx(1e-5, rel=1e-4)


def test_any_shape_comes_back():
    assert chance_of_failing(np.zeros((2, 3))).shape == (2, 3)
