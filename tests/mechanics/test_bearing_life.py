"""Bearing life: textbook examples, identities, and which way things move."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.errors import OutOfRangeError
from scoring.mechanics.bearing_rating_life import rating_life, running_time
from scoring.mechanics.bearings_in_series import system_rating_life
from scoring.mechanics.reliability_factors import (
    A1_TABLES,
    BEFORE_2007,
    ISO_281_2007,
    factor,
    factor_before_2007,
    tabulated_factor,
)
from scoring.mechanics.variable_load import damage_of_a_turn

BALL = 3.0
ROLLER = 10 / 3
RPM = 2 * np.pi / 60
HOUR = 3600.0
MILLION = 1e6


# Textbook examples below: the printed outputs are a volunteer's recomputation of the book's
# worked examples, in public notebooks.


def test_life_of_a_ball_bearing_in_hours() -> None:
    # Source: Wentzell, Machine Design, Example 20.1, p. 431: 88.73 h (pounds cancel)
    life = running_time(rating_life(5050.0, 2400.0, BALL), 1750 * RPM) / HOUR
    assert life == pytest.approx(88.73, abs=0.01)


def test_life_at_almost_half_the_rating() -> None:
    # Source: Jindal, Machine Design, Example 18-4: 199.42 h
    life = running_time(rating_life(41e3, 20e3, BALL), 720 * RPM) / HOUR
    assert life == pytest.approx(199.42, abs=0.02)


def _mean_of_spectrum(loads, turning_shares, exponent):
    """Return the constant load that does the same damage (Palmgren and Miner)."""
    damage = np.average(np.asarray(loads, dtype=float) ** exponent, weights=turning_shares)
    return damage ** (1 / exponent)


def test_spectrum_of_three_loads() -> None:
    # Source: Jindal, Machine Design, Example 18-9: C = 34 219 N for 10 000 h at 1080 r/min
    shares = np.array([0.25, 0.50, 0.25]) * [1440, 1080, 720]
    assert shares.sum() == pytest.approx(1080)
    load = _mean_of_spectrum([3e3, 4e3, 5e3], shares, BALL)
    life = running_time(rating_life(34_219.0, load, BALL), 1080 * RPM) / HOUR
    assert life == pytest.approx(10_000, rel=2e-4)


def test_three_bearings_in_series() -> None:
    # Source: Jindal, Machine Design, Example 18-8: C = 6.337 kN for 83 % of sets at 6 million
    # (slope 1.17, an older value)
    each = rating_life(6337.0, 3000.0, BALL)
    of_all = system_rating_life([each, each, each], 1.17)
    assert 0.9 ** ((6 * MILLION / of_all) ** 1.17) == pytest.approx(0.83, abs=1e-4)


def test_life_of_a_roller_bearing() -> None:
    # Source: instructor's solutions to Shigley's Mechanical Engineering Design, problem 11-3:
    # 91.1 kN for 1440 million revolutions under 10.279 kN
    life = rating_life(91.1, 10.279, ROLLER) / MILLION
    assert life == pytest.approx(1440, rel=2e-3)


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
    roller = rating_life(1, loads, ROLLER) / MILLION
    assert roller == pytest.approx([0.7278, 0.4753, 0.0992], abs=1e-4)


def _mean_load(own, at_rest, swing, exponent):
    return damage_of_a_turn(own, at_rest, swing, exponent) ** (1 / np.asarray(exponent))


def _damage_by_integration(own, at_rest, swing, exponent) -> float:
    """Go round the turn, and for each angle round all directions, in even steps."""
    angles = (np.arange(720) + 0.5) / 720 * 2 * np.pi
    added = at_rest + swing * np.cos(angles)
    loads = np.abs(own * np.exp(1j * angles[:, np.newaxis]) + added)
    return float((loads**exponent).mean())


@pytest.mark.parametrize(("exponent", "means"), [
    (BALL, [1.00498, 1.03032, 1.11199, 1.35721]),
    (ROLLER, [1.00580, 1.03506, 1.12697, 1.39046]),
])  # fmt: skip
def test_a_load_that_swings_about_a_steady_one(exponent: float, means: list[float]) -> None:
    # our own calculation, of a swing of 0.1, 0.25, 0.5 and 1 in line with a load of 1
    found = _mean_load(0.0, 1.0, np.array([0.1, 0.25, 0.5, 1.0]), exponent)
    assert (found >= np.array(means) - 1e-5).all()
    assert found == pytest.approx(means, rel=0.02)


def test_damage_of_a_turn_is_exact_for_even_powers() -> None:
    # by hand: 3^4 + 4 * 9 * (4 + 1/2) + 2^4 + 3 * 4 * 1 + 3/8
    assert damage_of_a_turn(3.0, 2.0, 1.0, [2.0, 4.0]) == pytest.approx(
        [9 + 4 + 0.5, 81 + 162 + 16 + 12 + 0.375]
    )
    for exponent in (2.0, 4.0):
        by_hand = _damage_by_integration(3.0, 2.0, 1.0, exponent)
        assert damage_of_a_turn(3.0, 2.0, 1.0, exponent) == pytest.approx(by_hand)


@given(
    st.sampled_from((0.0, 0.3, 1.0, 4.0)),
    st.floats(0, 3),
    st.floats(0, 3),
    st.sampled_from([BALL, ROLLER]),
)
def test_damage_of_a_turn_lies_little_above_its_integral(
    own: float, at_rest: float, swing: float, exponent: float
) -> None:
    by_hand = _damage_by_integration(own, at_rest, swing, exponent)
    found = float(damage_of_a_turn(own, at_rest, swing, exponent))
    assert by_hand * (1 - 1e-6) - 1e-12 <= found <= by_hand * 1.06 + 1e-12


@given(st.tuples(*[st.floats(0, 1e5)] * 3), st.tuples(*[st.floats(0, 1e5)] * 3))
def test_more_of_any_load_never_lowers_the_damage(
    loads: tuple[float, ...], more: tuple[float, ...]
) -> None:
    less = damage_of_a_turn(*loads, ROLLER)
    for place in range(3):
        raised = [load + (place == n) * more[n] for n, load in enumerate(loads)]
        assert damage_of_a_turn(*raised, ROLLER) >= less * (1 - 1e-12)


def test_damage_is_convex_in_what_is_added() -> None:
    """So that of two ways to share a force and all between them one of the two is the worst."""
    chance = np.random.default_rng(8)
    own = np.where(chance.random(20_000) < 0.1, 0.0, 10 ** chance.uniform(-2, 1, 20_000))
    one, other = chance.random((2, 2, 20_000)) * (chance.random((2, 2, 20_000)) < 0.9)
    for exponent in (BALL, ROLLER):
        for slope in (1.0, 1.3):
            ends = [damage_of_a_turn(own, *end, exponent) ** slope for end in (one, other)]
            for part in (0.25, 0.5, 0.75):
                between = part * one + (1 - part) * other
                middle = damage_of_a_turn(own, *between, exponent) ** slope
                assert (middle <= (part * ends[0] + (1 - part) * ends[1]) * (1 + 1e-12)).all()


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


def test_limits() -> None:
    assert np.isnan(rating_life([np.nan, 10], [1, np.nan], 3)).all()
    with pytest.raises(OutOfRangeError):
        rating_life(10, 0, 3)
    with pytest.raises(OutOfRangeError):
        factor(0.89)
