"""Bearing life: textbook examples, identities, and which way things move."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.errors import OutOfRangeError
from scoring.mechanics.bearing_rating_life import (
    ROLLER_EXPONENT,
    is_overloaded,
    life_exponent,
    rating_for_life,
    rating_life,
    running_time,
)
from scoring.mechanics.bearings_in_series import reliability_of_each, system_rating_life
from scoring.mechanics.equivalent_load import equivalent_load, tapered_roller_equivalent_load
from scoring.mechanics.lubricant_contamination import life_ratio_with_water
from scoring.mechanics.reliability_factors import (
    A1_TABLES,
    BEFORE_2007,
    ISO_281_2007,
    factor,
    factor_before_2007,
    tabulated_factor,
)
from scoring.mechanics.variable_load import mean_load, mean_of_oscillating_load
from scoring.mechanics.weibull_life import (
    catalogue_rating,
    failure_probability,
    life_at_reliability,
    reliability_of_rating,
)

BALL = 3.0
RPM = 2 * np.pi / 60
HOUR = 3600.0
MILLION = 1e6


# Textbook examples below: the printed outputs are a volunteer's recomputation of the book's
# worked examples, in public notebooks.


def test_life_of_a_ball_bearing_in_hours() -> None:
    # Source: Wentzell, Machine Design, Example 20.1, p. 431: 88.73 h (pounds cancel)
    life = running_time(rating_life(5050.0, 2400.0, BALL), 1750 * RPM) / HOUR
    assert life == pytest.approx(88.73, abs=0.01)


def test_equivalent_load_and_its_life() -> None:
    # Source: Jindal, Machine Design, Example 18-2, p. 508: 1450 N, 57.3 million revolutions;
    # 43.46 with the outer ring turning
    load = equivalent_load([1250.0, 1.2 * 1250.0], 625.0, 0.56, 1.2)
    assert load[0] == pytest.approx(1450.0)
    life = rating_life(5590.0, load, BALL) / MILLION
    assert life == pytest.approx([57.3, 43.46], abs=0.01)


def test_life_at_almost_half_the_rating() -> None:
    # Source: Jindal, Machine Design, Example 18-4: 199.42 h
    life = running_time(rating_life(41e3, 20e3, BALL), 720 * RPM) / HOUR
    assert life == pytest.approx(199.42, abs=0.02)


def test_spectrum_of_three_loads() -> None:
    # Source: Jindal, Machine Design, Example 18-9: C = 34 219 N for 10 000 h at 1080 r/min
    shares = np.array([0.25, 0.50, 0.25]) * [1440, 1080, 720]
    assert shares.sum() == pytest.approx(1080)
    load = mean_load([3e3, 4e3, 5e3], shares, BALL)
    assert load == pytest.approx(3954.3, abs=0.1)
    rating = rating_for_life(load, shares.sum() * 60 * 10_000, BALL)
    assert rating == pytest.approx(34_219, abs=2)
    # our own calculation
    assert mean_load([3e3, 4e3, 5e3], shares, ROLLER_EXPONENT) == pytest.approx(3973.9, abs=0.1)


def test_rating_for_a_reliability_above_ninety_per_cent() -> None:
    # Source: Jindal, Machine Design, Example 18-7: C = 44 589 N (slope 1.17, an older value)
    life = 6000 * 60 * 1400.0
    rating_life_needed = life / life_at_reliability(0.98, 1.0, 1.17)
    assert rating_for_life(3500.0, rating_life_needed, BALL) == pytest.approx(44_589, rel=1e-4)


def test_three_bearings_in_series() -> None:
    # Source: Jindal, Machine Design, Example 18-8: C = 6.337 kN for 83 % of sets at 6 million
    each = reliability_of_each(0.83, 3)
    rating_life_needed = 6 * MILLION / life_at_reliability(each, 1.0, 1.17)
    assert rating_for_life(3000.0, rating_life_needed, BALL) == pytest.approx(6337, rel=1e-4)


@pytest.mark.parametrize(
    ("load", "lives", "rating", "chosen", "reliability"),
    [
        # Source: instructor's solutions to Shigley's Mechanical Engineering Design, problems
        # 11-1 (kN) and 11-2 (lbf; 46.2 kN chosen)
        (2.278, 540, 18.59, 19.5, 0.919),
        (854, 1440, 9665, 46_200 / 4.4482216, 0.927),
    ],
)
def test_catalogue_rating(
    load: float, lives: float, rating: float, chosen: float, reliability: float
) -> None:
    assert catalogue_rating(load, lives, 0.90, BALL) == pytest.approx(rating, rel=3e-4)
    found = reliability_of_rating(load, lives, chosen, BALL)
    assert found == pytest.approx(reliability, abs=1e-3)


def test_rating_of_a_roller_bearing() -> None:
    # Source: instructor's solutions to Shigley's Mechanical Engineering Design, problem 11-3:
    # 91.1 kN by F x^0.3, and 0.942 with the 102 kN chosen
    assert rating_for_life(10.279, 1440 * MILLION, ROLLER_EXPONENT) == pytest.approx(91.1, abs=0.05)
    chosen = reliability_of_rating(10.279, 1440, 102.0, ROLLER_EXPONENT)
    assert chosen == pytest.approx(0.942, abs=1e-3)


@pytest.mark.parametrize(
    ("edition", "printed"),
    [
        # Source: two independent public code files with the table of ISO 281:2007
        (ISO_281_2007, {90: 1, 95: 0.64, 96: 0.55, 97: 0.47, 98: 0.37, 99: 0.25}),
        # Source: documentation page of an open calculator repository, table before 2007
        (BEFORE_2007, {95: 0.62, 96: 0.53, 97: 0.44, 98: 0.33, 99: 0.21}),
    ],
)
def test_reliability_factor_as_printed(edition: str, printed: dict[float, float]) -> None:
    assert tabulated_factor(list(printed), edition).tolist() == list(printed.values())


def test_formulas_give_the_tables_of_their_editions() -> None:
    # our own calculation
    for table, formula, within in (
        (A1_TABLES[ISO_281_2007], factor, 0.006),
        (A1_TABLES[BEFORE_2007], factor_before_2007, 0.004),
    ):
        assert formula(np.array(list(table)) / 100) == pytest.approx(
            list(table.values()), abs=within
        )
    assert factor([0.95, 0.99, 0.999, 0.9995]) == pytest.approx(
        [0.6379, 0.2483, 0.0926, 0.0768], abs=1e-4
    )
    assert factor(0.9) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("slope", "scale", "median", "shares"),
    [  # our own calculation
        (10 / 9, 7.5786, 5.4492, (0.04760, 0.20355, 0.46739)),
        (9 / 8, 7.3915, 5.3363, (0.04716, 0.20530, 0.47492)),
        (1.3, 5.6466, 4.2594, (0.04189, 0.22851, 0.57419)),
        (1.5, 4.4828, 3.5110, (0.03657, 0.25770, 0.69210)),
    ],
)
def test_two_parameter_weibull(
    slope: float, scale: float, median: float, shares: tuple[float, ...]
) -> None:
    lives = life_at_reliability([np.exp(-1), 0.5, 0.9], 1.0, slope)
    assert lives == pytest.approx([scale, median, 1.0], abs=1e-4)
    assert failure_probability([0.5, 2.0, 5.0], 1.0, slope) == pytest.approx(shares, abs=1e-5)


@pytest.mark.parametrize(
    ("lives", "slope", "system"),
    [  # our own calculation
        ([40e3, 60e3], 10 / 9, 25_665),
        ([40e3, 60e3], 9 / 8, 25_856),
        ([40e3, 60e3], 1.5, 29_939),
        ([40e3, 40e3], 10 / 9, 21_435),
        ([40e3, 40e3], 9 / 8, 21_601),
        ([40e3, 40e3], 1.5, 25_198),
    ],
)
def test_two_bearings_in_series(lives: list[float], slope: float, system: float) -> None:
    assert system_rating_life(lives, slope) == pytest.approx(system, abs=1)


def test_columns_of_pairs_in_series() -> None:
    pairs = np.array([[40e3, 60e3], [40e3, np.nan], [1e250, 2e250]])
    system = system_rating_life(pairs, [1.5, 1.5, 3.0])
    assert system == pytest.approx([29_939, np.nan, 0.9615e250], rel=1e-4, nan_ok=True)


def test_what_a_higher_load_costs() -> None:
    # our own calculation
    loads = [1.10, 1.25, 2.0]
    assert rating_life(1, loads, BALL) / MILLION == pytest.approx(
        [0.7513, 0.5120, 0.1250], abs=1e-4
    )
    roller = rating_life(1, loads, ROLLER_EXPONENT) / MILLION
    assert roller == pytest.approx([0.7278, 0.4753, 0.0992], abs=1e-4)


def test_water_in_the_oil() -> None:
    # Source of the formula: STLE magazine editorial, June 2021, on the tests of 1976; the values
    # are our own calculation
    assert life_ratio_with_water([25, 100, 400]) == pytest.approx([2.297, 1, 0.435], abs=1e-3)
    for outside in (24, 401):
        with pytest.raises(OutOfRangeError):
            life_ratio_with_water(outside)


def test_oscillating_load_is_its_closed_form_for_balls() -> None:
    # our own calculation
    swing = np.linspace(0, 1, 11)
    closed = np.cbrt(1 + 1.5 * swing**2)
    assert mean_of_oscillating_load(1.0, swing, BALL) == pytest.approx(closed, rel=1e-12)
    assert mean_of_oscillating_load(1, [0.1, 0.25, 0.5, 1], BALL) == pytest.approx(
        [1.00498, 1.03032, 1.11199, 1.35721], abs=1e-5
    )
    assert mean_of_oscillating_load(1, [0.1, 0.25, 0.5, 1], ROLLER_EXPONENT) == pytest.approx(
        [1.00580, 1.03506, 1.12697, 1.39046], abs=1e-5
    )


def test_oscillating_load_is_the_limit_of_a_spectrum() -> None:
    # our own calculation: a fine spectrum, also where the load changes its sign
    loads = np.abs(12e3 + 30e3 * np.cos(np.linspace(0, np.pi, 20_001)))
    spectrum = mean_load(loads, np.ones(loads.size), ROLLER_EXPONENT)
    assert mean_of_oscillating_load(12e3, 30e3, ROLLER_EXPONENT) == pytest.approx(
        spectrum, rel=1e-3
    )


@given(st.floats(1e2, 1e5), st.floats(0, 1e5), st.floats(0, 1e5))
def test_more_swing_never_lowers_the_mean(constant: float, one: float, other: float) -> None:
    means = mean_of_oscillating_load(constant, sorted((one, other)), ROLLER_EXPONENT)
    assert constant <= means[0] * (1 + 1e-9)
    assert means[0] <= means[1] * (1 + 1e-9)


@given(st.floats(0.9, 0.9995), st.floats(0.9, 0.9995))
def test_more_reliability_never_raises_the_factor(one: float, other: float) -> None:
    low, high = factor(sorted((one, other)))
    assert high <= low * (1 + 1e-12)
    assert low <= 1 + 1e-12


@given(st.lists(st.floats(1e2, 1e7), min_size=1, max_size=6), st.floats(1.0, 3.0))
def test_a_set_of_bearings_lives_no_longer_than_its_weakest(
    lives: list[float], slope: float
) -> None:
    assert system_rating_life(lives, slope) <= min(lives) * (1 + 1e-9)


@given(st.floats(0, 10), st.floats(0, 10), st.floats(1.0, 3.0))
def test_failure_probability_rises_from_0_to_1(one: float, other: float, slope: float) -> None:
    early, late = failure_probability(sorted((one, other)), 1.0, slope)
    assert 0 <= early <= late * (1 + 1e-12)
    assert late <= 1


def test_kinds_and_limits() -> None:
    kinds = life_exponent(np.array(["ball", "roller", None, "plain"], dtype=object))
    assert kinds == pytest.approx([3, 10 / 3, np.nan, np.nan], nan_ok=True)
    assert is_overloaded(10, [5, 5.1, np.nan]).tolist() == [False, True, False]
    # our own calculation
    assert tapered_roller_equivalent_load(
        10e3, [0, 3.7e3, 8e3, np.nan], 1.6, 0.37
    ) == pytest.approx([10e3, 10e3, 16.8e3, np.nan], nan_ok=True)
    assert np.isnan(tapered_roller_equivalent_load(np.nan, 0.0, 1.6, 0.37))
    assert np.isnan(rating_life([np.nan, 10], [1, np.nan], 3)).all()
    with pytest.raises(OutOfRangeError):
        rating_life(10, 0, 3)
    with pytest.raises(OutOfRangeError):
        factor(0.89)
