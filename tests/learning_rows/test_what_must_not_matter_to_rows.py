"""Order and names of units and sites, and in how many rows a fleet is told, change nothing."""

from dataclasses import replace

import numpy as np
import pytest
from generated_fleets import AS_OF, generated_assessor
from rows_as_given import own_as_given, taken

from scoring.contract.events import MODES
from scoring.learning.covariates import State
from scoring.learning.failure_rows import FailureRows
from scoring.learning.learned import learn

FLEET = (200, 5)
NEARLY = {"rtol": 1e-9, "atol": 1e-9}


@pytest.fixture(scope="module")
def rows() -> FailureRows:
    return generated_assessor(*FLEET).failure_rows(AS_OF)


def assert_same_learned(one, other, *, spread=True):
    for mode in MODES:
        a, b = one.modes[mode], other.modes[mode]
        assert a.columns.names == b.columns.names
        np.testing.assert_allclose(a.columns.share, b.columns.share, **NEARLY)
        np.testing.assert_allclose(a.columns.spread, b.columns.spread, **NEARLY)
        np.testing.assert_allclose(a.posterior.coefficients, b.posterior.coefficients, **NEARLY)
        np.testing.assert_allclose(a.posterior.laplace, b.posterior.laplace, **NEARLY)
        if spread:
            np.testing.assert_allclose(a.posterior.sandwich, b.posterior.sandwich, **NEARLY)


def test_twice_the_fleet_at_half_the_exposure_teaches_the_same(rows):
    """Half a failure where half of one was expected, in as many rows again."""
    once = own_as_given(rows)
    twice = taken(once, np.tile(np.arange(len(rows)), 2))
    second = np.repeat([0, 1], len(rows)) * (rows.place.max() + 1)
    halves = {
        mode: replace(
            one, years=one.years / 2, aged_years=one.aged_years / 2, events=one.events / 2
        )
        for mode, one in twice.modes.items()
    }
    halved = replace(twice, place=twice.place + second, modes=halves)
    assert_same_learned(learn(once), learn(halved), spread=False)


def test_a_row_in_two_pieces_teaches_the_same(rows):
    """The failure stays with the second; own failures, known before, are held on to."""
    once = own_as_given(rows)
    pieces = taken(once, np.repeat(np.arange(len(rows)), 2))
    share = np.tile([0.3, 0.7], len(rows))
    last = np.tile([0, 1], len(rows))[:, np.newaxis]
    cut = {
        mode: replace(
            one,
            years=one.years * share,
            aged_years=one.aged_years * share,
            events=one.events * last,
        )
        for mode, one in pieces.modes.items()
    }
    assert_same_learned(learn(once), learn(replace(pieces, modes=cut)))


@pytest.mark.parametrize("seed", [1, 2])
def test_the_order_of_rows_does_not_matter(rows, seed):
    once = own_as_given(rows)
    order = np.random.default_rng(seed).permutation(len(rows))
    assert_same_learned(learn(once), learn(taken(once, order)))


@pytest.mark.parametrize("seed", [1, 2])
def test_the_order_of_units_does_not_matter_nor_their_numbers(rows, seed):
    """Each unit's rows stay together and in time: own failures are counted along them."""
    turn = np.random.default_rng(seed).permutation(rows.place.max() + 1)
    moved = taken(rows, np.argsort(turn[rows.place], kind="stable"))
    assert_same_learned(learn(rows), learn(replace(moved, place=3 * turn[moved.place] + 7)))


def test_the_numbers_of_sites_do_not_matter(rows):
    def renumbered(state: State) -> State:
        n_sites = len(state.sites)
        return replace(state, site=n_sites - 1 - state.site, sites=state.sites[::-1])

    modes = {m: replace(one, state=renumbered(one.state)) for m, one in rows.modes.items()}
    one, other = learn(rows), learn(replace(rows, modes=modes))
    for mode in MODES:
        states = rows.modes[mode].state, modes[mode].state
        a, b = (
            learned.modes[mode].correct(state)
            for learned, state in zip((one, other), states, strict=True)
        )
        np.testing.assert_allclose(a.parts, b.parts, **NEARLY)
        np.testing.assert_allclose(a.log_spread, b.log_spread, **NEARLY)
        np.testing.assert_allclose(a.share_learned, b.share_learned, **NEARLY)


def test_rows_without_time_at_risk_teach_nothing(rows):
    once = own_as_given(rows)
    at_risk = {mode: one.expected > 0 for mode, one in once.modes.items()}
    assert not at_risk["seal_leak"].all()
    without = learn(taken(once, np.flatnonzero(at_risk["seal_leak"])))
    a, b = (learned.modes["seal_leak"] for learned in (learn(once), without))
    np.testing.assert_allclose(a.posterior.coefficients, b.posterior.coefficients, **NEARLY)
    np.testing.assert_allclose(a.posterior.sandwich, b.posterior.sandwich, **NEARLY)


@pytest.mark.parametrize("by", [0, 1, 2])
def test_what_was_learned_by_a_day_rests_on_no_later_row(rows, by):
    later = rows.period > by
    assert later.any()
    spoilt = {
        mode: replace(
            one,
            events=np.where(later[:, np.newaxis], 5, one.events),
            log_base=np.where(later, 3.0, one.log_base),
        )
        for mode, one in rows.modes.items()
    }
    assert_same_learned(learn(rows, by), learn(replace(rows, modes=spoilt), by))
