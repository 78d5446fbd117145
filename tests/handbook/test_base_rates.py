"""The handbook's hazard of a unit without faults: by hand, and field rates given back."""

import numpy as np
import pytest
from fleets import Book
from hypothesis import given
from hypothesis import strategies as st
from units_looked_at import evidence_of, units_table

from scoring.contract.events import MODES
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.handbook.base_rates import BASE_RATES
from scoring.handbook.handbook_hazard import age_exposure, log_base
from scoring.handbook.multipliers import multipliers
from scoring.handbook.nameplate_columns import nameplate_columns

FIELD_RATE = {"low_speed_bearing": 0.02, "seal_leak": 0.08, "joint_slip": 0.003}
DUTY = {"low_speed_bearing": 0.8, "seal_leak": 0.7, "joint_slip": 0.3}
AGEING = {"low_speed_bearing": 0.3, "seal_leak": 0.3, "joint_slip": 0.0}
SHARE_WITH_A_BACKSTOP = 0.3


def rate_of(mode, book):
    units = units_table(book)
    return log_base(units, nameplate_columns(mode, units))


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_a_unit_at_which_nobody_looked_fails_at_the_field_rate(mounting, mode):
    """Average faults are taken out of the base rate, and come back as what nobody saw.

    On average over units: what a backstop may do comes back at those that have one.
    """
    book = Book().unit("with", mounting=mounting, backstop="yes")
    book.unit("without", mounting=mounting, backstop="no")
    base = rate_of(mode, book)
    evidence = evidence_of(book)
    evidence.known.history["joint_age_days"] = 3 * 365.25  # joints of usual age
    faults = multipliers(mode, evidence).log_mean.to_numpy().sum(axis=1)
    shares = [SHARE_WITH_A_BACKSTOP, 1 - SHARE_WITH_A_BACKSTOP]
    # passes that nobody saw cost a disc a little of its fit, too
    close = 0.02 if mode == "joint_slip" else 1e-6
    assert np.dot(shares, np.exp(base + faults)) == pytest.approx(FIELD_RATE[mode], rel=close)
    assert (np.exp(base) < FIELD_RATE[mode]).all()


@pytest.mark.parametrize("mode", MODES)
def test_the_rate_is_that_of_the_own_mounting_and_of_the_own_nameplate(mode):
    book = Book()
    for mounting in EVERY_MOUNTING:
        book.unit(mounting, mounting=mounting)
        book.unit(f"{mounting} hard", mounting=mounting, duty_h_per_day="24")
    together = rate_of(mode, book)
    alone = [rate_of(mode, Book([unit]))[0] for unit in book.units]
    assert together == pytest.approx(alone)
    more = DUTY[mode] * np.log(1.5) - DUTY[mode] ** 2 * 0.35**2 / 2
    assert together[1::2] - together[::2] == pytest.approx(more)


@pytest.mark.parametrize("mode", MODES)
@given(st.floats(0, 20), st.floats(0.01, 10))
def test_exposure_is_the_integral_over_the_stretch(mode, age, years):
    """(age / 3 years) to its power, by Simpson's rule on the scale of a square root."""
    root = np.linspace(np.sqrt(age), np.sqrt(age + years), 4001)
    height = (root**2 / 3) ** AGEING[mode] * 2 * root
    weights = np.tile([2.0, 4.0], 2001)[:4001]
    weights[[0, -1]] = 1
    integral = (weights @ height) * (root[1] - root[0]) / 3
    found = age_exposure(BASE_RATES[mode], np.array([age]), np.array([age + years]))
    assert found == pytest.approx([integral], rel=1e-4)


@pytest.mark.parametrize("mode", MODES)
def test_a_year_at_the_usual_age_counts_as_one_and_more_before_long(mode):
    ages = np.arange(10.0)
    years = age_exposure(BASE_RATES[mode], ages, ages + 1)
    assert (np.diff(years) > 0).all() or years == pytest.approx(np.ones(10))
    assert (AGEING[mode] == 0) == (years[0] == years[-1])
    assert age_exposure(BASE_RATES[mode], np.array([2.99]), np.array([3.01])) == pytest.approx(
        [0.02], rel=1e-4
    )


def test_stretches_add_up():
    rate = BASE_RATES["seal_leak"]
    parts = [age_exposure(rate, np.array([a]), np.array([a + 1]))[0] for a in (0.0, 1.0, 2.0)]
    assert sum(parts) == pytest.approx(age_exposure(rate, np.zeros(1), np.full(1, 3.0))[0])
