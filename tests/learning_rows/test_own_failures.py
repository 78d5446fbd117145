"""A unit's own failures so far, against a plain loop over its rows."""

from collections import defaultdict
from dataclasses import replace

import numpy as np
import pytest
from generated_fleets import AS_OF, generated_assessor

from scoring.contract.events import MODES
from scoring.learning.own_failures import FAILURES_OF_THE_HANDBOOK, OwnFailures

FLEET = generated_assessor(60, 4)
ROWS = FLEET.failure_rows(AS_OF)
N_UNITS = len(FLEET.fleet.units)


def drawn_to_one(failures, expected):
    return np.log((failures + FAILURES_OF_THE_HANDBOOK) / (expected + FAILURES_OF_THE_HANDBOOK))


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("by", range(len(ROWS.days)))
def test_each_row_knows_what_became_of_its_unit_before(mode, by):
    one = ROWS.modes[mode]
    own = one.state_by(ROWS.place, by).own
    failures, expected = defaultdict(float), defaultdict(float)
    for row, unit in enumerate(ROWS.place):
        plain = drawn_to_one(failures[unit], expected[unit])
        assert own[row] == pytest.approx(plain, abs=1e-12)
        failures[unit] += one.events[row, by] if one.expected[row] > 0 else 0
        expected[unit] += one.expected_of_its_kind[row]
    assert sum(failures.values()) == one.failures_by(by).sum()


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("back", [0, 100, 777])
def test_a_tally_counts_up_to_any_day_a_row_that_reaches_beyond_it_in_proportion(mode, back):
    day = np.datetime64(AS_OF, "D") - back
    own = ROWS.tallies(N_UNITS)[mode].as_of(day)
    failures, expected = np.zeros(N_UNITS), np.zeros(N_UNITS)
    one = ROWS.modes[mode]
    for row, unit in enumerate(ROWS.place):
        start, stop = ROWS.start_on[row], ROWS.stop_on[row]
        if stop <= day:
            failures[unit] += one.failures_by(-1)[row]
        within = min(max(day, start), stop) - start
        expected[unit] += one.expected_of_its_kind[row] * (within / (stop - start))
    np.testing.assert_allclose(own.failures, failures, rtol=1e-12)
    np.testing.assert_allclose(own.expected, expected, rtol=1e-9, atol=1e-15)
    np.testing.assert_allclose(own.log_ratio, drawn_to_one(failures, expected), atol=1e-12)


@pytest.mark.parametrize("mode", MODES)
def test_a_tally_of_the_last_day_goes_on_where_the_rows_end(mode):
    """A unit without failures: what is expected of its last row is added to what was before."""
    one = ROWS.modes[mode]
    own = ROWS.tallies(N_UNITS)[mode].as_of(ROWS.days[-1])
    last = np.append(np.diff(ROWS.place) > 0, True)
    before = one.state_by(ROWS.place, -1).own[last]
    quiet = one.failures_by(-1)[last] == 0
    after = own.log_ratio[ROWS.place[last]]
    assert (after[quiet] <= before[quiet]).all()


def test_more_failures_raise_it_and_more_expected_ones_lower_it():
    failures, expected = np.meshgrid(np.arange(5.0), np.linspace(0, 5, 11), indexing="ij")
    ratio = OwnFailures(failures, expected).log_ratio
    assert (np.diff(ratio, axis=0) > 0).all()
    assert (np.diff(ratio, axis=1) < 0).all()
    assert ratio[0, 0] == 0


@pytest.mark.parametrize("mode", MODES)
def test_what_was_found_at_a_unit_changes_nothing_of_what_is_expected_of_its_kind(mode):
    """Else a worse finding would make its failures look fewer, and could lower its risk."""
    one = ROWS.modes[mode]
    worst = replace(one.state, log_multipliers=one.state.log_multipliers + 1)
    worse = replace(one, state=worst)
    np.testing.assert_array_equal(worse.expected_of_its_kind, one.expected_of_its_kind)
    assert (worse.expected >= one.expected).all()
    own = worse.state_by(ROWS.place, -1).own
    np.testing.assert_array_equal(own, one.state_by(ROWS.place, -1).own)
