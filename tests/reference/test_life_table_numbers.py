"""Life tables of published data give printed and computed numbers."""

import numpy as np
import pytest
from published_lifetimes import (
    MAINTAINED,
    NOT_MAINTAINED,
    cage_lives,
    leukaemia_lives,
    numbers,
    shock_absorber_lives,
)

from scoring.learning.life_tables import life_table
from scoring.learning.lifetimes import Lifetimes


@pytest.mark.parametrize(
    ("table", "age", "survivors", "error", "cumulative"),
    [
        (
            MAINTAINED,
            [9, 13, 18, 23, 31, 34, 48],
            [0.9090909, 0.8181818, 0.7159091, 0.6136364, 0.4909091, 0.3681818, 0.1840909],
            [0.0866784, 0.1162913, 0.139665, 0.1526323, 0.1641933, 0.1626689, 0.1534927],
            [0.0909091, 0.1909091, 0.3159091, 0.4587662, 0.6587662, 0.9087662, 1.4087662],
        ),
        (
            NOT_MAINTAINED,
            [5, 8, 12, 23, 27, 30, 33, 43, 45],
            numbers(
                "0.8333333 0.6666667 0.5833333 0.4861111 0.3888889 0.2916667 0.1944444 0.0972222 0"
            ),
            numbers(
                "0.1075829 0.1360828 0.1423188 0.1481301 0.1469862 "
                "0.1387152 0.1218745 0.0918664 nan"
            ),
            numbers(
                "0.1666667 0.3666667 0.4916667 0.6583333 0.8583333 "
                "1.1083333 1.4416667 1.9416667 2.9416667"
            ),
        ),
    ],
)
def test_leukaemia(table, age, survivors, error, cumulative):
    """Survivors and errors: R survival 3.8-11, tests/doaml.Rout.save, 3 to 4 digits (read).

    Further digits, and cumulative hazards, computed with scikit-survival 0.28.0 and
    lifelines 0.30.0.
    """
    found = life_table(leukaemia_lives(table))
    np.testing.assert_array_equal(found.age, age)
    np.testing.assert_allclose(found.survivors, survivors, atol=1e-6)
    np.testing.assert_allclose(found.survivors_error, error, atol=1e-6)
    np.testing.assert_allclose(found.cumulative_hazard, cumulative, atol=1e-6)


def test_bearing_cages():
    """Computed with lifelines 0.30.0 and another program."""
    found = life_table(cage_lives())
    failed = [0.000789266, 0.001664232, 0.00263349, 0.005450909, 0.008268329, 0.055493646]
    cumulative = [0.000789266, 0.001664923, 0.002635797, 0.005460655, 0.008293516, 0.055912564]
    np.testing.assert_array_equal(found.age, [230, 334, 423, 990, 1009, 1510])
    np.testing.assert_array_equal(found.at_risk, [1267, 1142, 1030, 354, 353, 21])
    np.testing.assert_allclose(1 - found.survivors, failed, atol=1e-8)
    np.testing.assert_allclose(found.cumulative_hazard, cumulative, atol=1e-8)


def test_late_entry_leaves_survivors_as_they_are():
    """Lives of one rate, many seen late: the same survivors as if all had been seen from 0."""
    rng = np.random.default_rng(4)
    lives = rng.exponential(10.0, 20_000)
    entry = rng.uniform(0, 8, 20_000)
    seen = lives > entry
    late = life_table(Lifetimes.of(lives[seen], True, entry[seen]))
    ages = np.array([2.0, 5.0, 10.0])
    np.testing.assert_allclose(late.survivors_at(ages), np.exp(-ages / 10), atol=0.03)
    ignored = life_table(Lifetimes.of(lives[seen], True))
    assert (ignored.survivors_at(ages) > late.survivors_at(ages) + 0.05).all()


def test_at_risk_after_entry_and_up_to_the_end():
    found = life_table(Lifetimes.of([2.0, 2.0, 4.0, 4.0], [1, 0, 1, 0], entry=[0, 1, 2, 3]))
    np.testing.assert_array_equal(found.at_risk, [2, 2])


@pytest.mark.parametrize(("mode", "failed"), [(1, 0.6148062), (2, 0.2539445)])
def test_one_failure_of_a_shock_absorber(mode, failed):
    """Computed with scikit-survival 0.28.0, lifelines 0.30.0 and another program."""
    found = life_table(shock_absorber_lives(mode))
    assert 1 - found.survivors[-1] == pytest.approx(failed, abs=1e-6)
