"""A design in parts is the design: products, sums and fits are those of all its rows laid out."""

from functools import cache

import numpy as np
import pandas as pd
import pytest
from generated_fleets import generated_assessor
from hypothesis import given
from hypothesis import strategies as st

from scoring.consequences.row_sums import row_sums
from scoring.learning import posterior as posterior_module
from scoring.learning.covariates import PARTS, columns_for
from scoring.learning.covariates_in_parts import PARTS_BY_PACE, in_parts
from scoring.learning.design_in_parts import (
    UNITS_AT_ONCE,
    DesignInParts,
    column_sums,
    gram_of,
    sums_of_groups,
)
from scoring.learning.learned import learn
from scoring.learning.posterior import fit_coefficients, fit_posterior
from scoring.learning.repeated_rows import kinds_of
from scoring.learning.weighted_gram import summed_by_group, weighted_gram


def drawn(seed, n_units):
    """Return a design in parts, the same laid out, and the unit of each row."""
    chance = np.random.default_rng(seed)
    states = chance.integers(1, 5, n_units)
    rows = chance.integers(1, 4, states.sum())
    n_kinds = int(chance.integers(1, 8))
    of_unit, of_kind, of_state, of_row = (
        chance.normal(size=(size, width))
        for size, width in ((n_units, 3), (n_kinds, 2), (states.sum(), 2), (rows.sum(), 2))
    )
    kind = chance.integers(0, n_kinds, states.sum())
    places = chance.permutation(9)
    unit = np.repeat(np.repeat(np.arange(n_units), states), rows)
    laid_out = np.empty((len(unit), 9))
    by_row = np.repeat(np.hstack([of_kind[kind], of_state]), rows, axis=0)
    laid_out[:, places] = np.hstack([of_unit[unit], by_row, of_row])
    first_states, first_rows = (np.cumsum(counts) - counts for counts in (states, rows))
    parts = DesignInParts(
        of_unit, of_kind, of_state, of_row, kind, first_states, first_rows, places
    )
    return parts, laid_out, unit


@cache
def rows_of_a_fleet():
    return generated_assessor(150, 5).failure_rows(pd.Timestamp("2026-06-30"))


def close(found, meant, size=1e-12):
    scale = max(float(np.abs(meant).max()), 1.0)
    np.testing.assert_allclose(found, meant, rtol=0, atol=size * scale)


@given(st.integers(0, 10**6), st.integers(1, 6))
def test_products_are_those_of_the_rows_laid_out(seed, n_units):
    parts, laid_out, unit = drawn(seed, n_units)
    chance = np.random.default_rng(seed + 1)
    factors, weights = chance.normal(size=len(unit)), chance.uniform(0, 2, len(unit))
    coefficients = chance.normal(size=9)
    assert parts.shape == laid_out.shape
    close(parts @ coefficients, laid_out @ coefficients)
    close(column_sums(parts, factors), laid_out.T @ factors)
    close(gram_of(parts, weights), weighted_gram(laid_out, weights))
    close(gram_of(parts, weights, rough=True), weighted_gram(laid_out, weights), size=1e-5)
    close(sums_of_groups(parts, factors, unit), summed_by_group(laid_out, factors, unit))
    together = unit // 2  # two units of one group
    close(sums_of_groups(parts, factors, together), summed_by_group(laid_out, factors, together))


def test_more_units_than_are_summed_at_once():
    parts, laid_out, unit = drawn(3, 2 * UNITS_AT_ONCE + 1)
    weights = np.random.default_rng(4).uniform(0, 2, len(unit))
    close(gram_of(parts, weights), weighted_gram(laid_out, weights))
    close(sums_of_groups(parts, weights, unit), summed_by_group(laid_out, weights, unit))


def test_rows_that_count_for_nothing_do_no_harm():
    parts, laid_out, unit = drawn(5, 4)
    weights = np.where(unit == 1, 0.0, 1.0)
    close(gram_of(parts, weights), weighted_gram(laid_out, weights))


def test_a_fit_finds_the_same_coefficients_and_spreads():
    parts, laid_out, unit = drawn(6, 60)
    chance = np.random.default_rng(7)
    expected = chance.uniform(0, 1, len(unit))
    events = chance.poisson(expected * np.exp(0.3 * laid_out[:, 0])).astype(float)
    floor = np.where(np.arange(9) < 4, 0.0, -np.inf)
    one, other = (
        fit_posterior(design, events, expected, scale=np.full(9, 0.5), floor=floor, group=unit)
        for design in (parts, laid_out)
    )
    assert (one.held == other.held).all()
    assert one.held.any()
    close(one.coefficients, other.coefficients, size=1e-10)
    close(one.laplace, other.laplace, size=1e-10)
    close(one.sandwich, other.sandwich, size=1e-10)


def test_a_fit_that_begins_with_some_units_ends_at_the_same_point(monkeypatch):
    """The fit of every eighth, of these and of these again, moves the start and nothing else."""
    parts, _, unit = drawn(8, 400)
    chance = np.random.default_rng(9)
    expected = chance.uniform(0, 1, len(unit))
    events = chance.poisson(expected).astype(float)
    floor = np.where(np.arange(9) < 4, 0.0, -np.inf)

    def fitted():
        return fit_posterior(
            parts, events, expected, scale=np.full(9, 0.5), floor=floor, group=unit
        )

    plain = fitted()
    monkeypatch.setattr(posterior_module, "MANY_UNITS", 20)
    near = fitted()
    assert (near.held == plain.held).all()
    assert near.n_steps <= plain.n_steps
    close(near.coefficients, plain.coefficients, size=1e-10)
    close(near.sandwich, plain.sandwich, size=1e-10)
    alone = fit_coefficients(parts, events, expected, scale=np.full(9, 0.5), floor=floor)
    np.testing.assert_array_equal(alone, near.coefficients)


@given(st.integers(0, 10**6), st.integers(1, 12), st.integers(1, 4))
def test_some_units_are_those_of_their_rows(seed, n_units, step):
    parts, laid_out, unit = drawn(seed, n_units)
    some, rows = parts.some_units(step)
    np.testing.assert_array_equal(rows, np.flatnonzero(unit % step == 0))
    weights = np.random.default_rng(seed).uniform(0, 2, len(rows))
    close(some @ np.arange(9.0), laid_out[rows] @ np.arange(9.0))
    close(gram_of(some, weights), weighted_gram(laid_out[rows], weights))


@given(st.integers(0, 10**6), st.integers(1, 90))
def test_kinds_are_the_distinct_rows(seed, width):
    """In any number of columns, more than one number of 64 bits tells, too."""
    chance = np.random.default_rng(seed)
    found = chance.integers(-1, 2, (4, width)).astype(np.int8)[chance.integers(0, 4, 30)]
    kinds, kind = kinds_of(found)
    np.testing.assert_array_equal(kinds[kind], found)
    assert len({tuple(row) for row in found.tolist()}) == len(kinds)
    assert kinds[0].tolist() == found[0].tolist()


@pytest.mark.parametrize("size", [1, 2, 3, 40])
@pytest.mark.parametrize("mode", ["low_speed_bearing", "seal_leak", "joint_slip"])
def test_a_ratio_is_the_sum_of_what_its_columns_add(mode, size):
    rows = rows_of_a_fleet()
    one = learn(rows).modes[mode]
    state = rows.modes[mode].state_by(rows.place, -1).where(np.arange(0, len(rows), 50)[:size])
    design = one.columns.design(state)
    np.testing.assert_array_equal(one.log_ratio(state), row_sums(one.ratio.pieces(design, state)))


def test_every_part_of_a_correction_has_its_pace():
    assert sorted(name for names in PARTS_BY_PACE for name in names) == sorted(PARTS)


@pytest.mark.parametrize("mode", ["low_speed_bearing", "seal_leak", "joint_slip"])
@pytest.mark.parametrize("some", [False, True])
def test_rows_of_a_fleet_in_parts_are_its_design(mode, some):
    rows = rows_of_a_fleet()
    one = rows.modes[mode]
    state = one.state_by(rows.place, -1)
    columns = columns_for(mode, state, one.years)
    if some:  # of a fold: units left out, and what came later
        state = state.where((rows.place % 3 > 0) & (rows.period < 2))
    parts, laid_out = in_parts(columns, state), columns.design(state)
    assert parts.shape == laid_out.shape
    each = [column_sums(parts, row) for row in np.eye(len(state))[::97]]
    np.testing.assert_array_equal(each, laid_out[::97])
    coefficients = np.arange(1.0, laid_out.shape[1] + 1)
    close(parts @ coefficients, laid_out @ coefficients)
    if mode != "joint_slip":
        assert len(parts.of_unit) < len(parts.of_state) < len(parts.of_row)
