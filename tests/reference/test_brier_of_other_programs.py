"""Our Brier score is that of scikit-survival, and where they differ it is said how.

A failure: scikit-survival weighs it by the fraction under observation at its age, we just before
it. A unit lost at the very horizon: it leaves it out and weighs the others up, to us it reached the
horizon.
"""

import numpy as np
import pytest
from held_out_lives import breast_cancer, breast_cancer_held_out, rossi_held_out
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scikit_survival_ways import at_the_age, structured
from sksurv.metrics import brier_score as their_score
from sksurv.metrics import integrated_brier_score

from scoring.learning.brier import brier_score
from scoring.learning.censoring import censoring_table
from scoring.learning.life_tables import life_table
from scoring.learning.lifetimes import Lifetimes

DAYS = [365, 730, 1095, 1460, 1825]
LATER = 0.5
"""A little after a horizon nothing has happened since, and nobody is lost then. [day or week]"""
ROWS = st.lists(
    st.tuples(st.integers(1, 8), st.booleans(), st.floats(0, 1)), min_size=2, max_size=30
)


def drawn(rows, lost_later=0.0):
    end, failed, chance = (np.array(column) for column in zip(*rows, strict=True))
    lives = Lifetimes.of(end + lost_later * ~failed, failed)
    return lives, chance, structured(lives)


@given(ROWS, st.integers(1, 8))
@settings(max_examples=150, deadline=None)
def test_ties_of_failures_losses_and_horizon(rows, horizon):
    lives, chance, theirs = drawn(rows)
    assume(lives.failed.any() and lives.end.min() <= horizon < lives.end.max())
    expected = their_score(theirs, theirs, 1 - chance[:, None], horizon)[1][0]
    found = brier_score(lives, chance, horizon + LATER, at_the_age(censoring_table(lives)))
    assert found == pytest.approx(expected, abs=1e-12)


@given(ROWS, st.integers(1, 8))
@settings(max_examples=150, deadline=None)
def test_without_ties_of_failures_and_losses(rows, horizon):
    lives, chance, theirs = drawn(rows, lost_later=0.25)
    assume(lives.failed.any() and lives.end.min() <= horizon < lives.end.max())
    expected = their_score(theirs, theirs, 1 - chance[:, None], horizon)[1][0]
    found = brier_score(lives, chance, horizon, censoring_table(lives))
    assert found == pytest.approx(expected, abs=1e-12)


@given(ROWS, st.integers(1, 8))
@settings(max_examples=150, deadline=None)
def test_weights_make_up_for_the_lost_wholly(rows, horizon):
    """For a chance of 0 and a chance of 1 the two scores make 1: nobody counts twice or not."""
    lives, chance, _ = drawn(rows)
    uncensored = censoring_table(lives)
    assume(lives.end.max() >= horizon)
    nothing, all_fail = (
        brier_score(lives, np.full_like(chance, p), horizon, uncensored) for p in (0.0, 1.0)
    )
    assert nothing + all_fail == pytest.approx(1, abs=1e-12)
    left = life_table(lives).survivors_at(horizon)
    assert nothing == pytest.approx(1 - left, abs=1e-12)


def test_arrests():
    """Computed with scikit-survival 0.28.0 and two more; none is lost before week 52.

    Learned too much: in the last week the product limit alone does better.
    """
    lives = rossi_held_out()
    uncensored, plain = censoring_table(lives.learned), life_table(lives.learned)
    learned = {13: 0.0444115, 26: 0.1144618, 39: 0.1510622, 51: 0.1862553}
    alone = {13: 0.0462601, 26: 0.1146436, 39: 0.1523438, 51: 0.184281}
    for week, expected in learned.items():
        found = brier_score(lives.judged, lives.chance(week), week, uncensored)
        assert found == pytest.approx(expected, abs=2e-6)
        nobody_differs = np.full(144, 1 - plain.survivors_at(week))
        found = brier_score(lives.judged, nobody_differs, week, uncensored)
        assert found == pytest.approx(alone[week], abs=2e-6)
    weeks = np.arange(5.0, 52.0)
    scores = [brier_score(lives.judged, lives.chance(week), week, uncensored) for week in weeks]
    integrated = np.trapezoid(scores, weeks) / np.ptp(weeks)
    assert integrated == pytest.approx(0.1067693, abs=2e-6)


def test_breast_cancer():
    """Both ways of weighing, computed with scikit-survival 0.28.0 and by another program."""
    lives = breast_cancer_held_out()
    before, plain = censoring_table(lives.learned), life_table(lives.learned)
    at = at_the_age(before)
    at_failure = [0.0694637, 0.1625824, 0.1876049, 0.2203221, 0.2153184]
    before_failure = [0.0694557, 0.1625739, 0.1875885, 0.2202722, 0.2152565]
    alone = [0.0709506, 0.1779767, 0.2220943, 0.2534564, 0.2472807]
    expected = zip(DAYS, at_failure, before_failure, alone, strict=True)
    for day, theirs, ours, nobody_differs in expected:
        chance = lives.chance(day)
        level = np.full(229, 1 - plain.survivors_at(day))
        found = [
            brier_score(lives.judged, chance, day + LATER, at),
            brier_score(lives.judged, chance, day + LATER, before),
            brier_score(lives.judged, level, day + LATER, at),
        ]
        np.testing.assert_allclose(found, [theirs, ours, nobody_differs], atol=2e-6)
        lost_that_day = (
            (those.end == day) & ~those.failed for those in (lives.learned, lives.judged)
        )
        on_the_day = brier_score(lives.judged, chance, day, before)
        tolerance = 1e-3 if any(lost.any() for lost in lost_that_day) else 2e-6
        assert on_the_day == pytest.approx(ours, abs=tolerance)


def test_breast_cancer_integrated():
    """Computed with scikit-survival 0.28.0, of which the score is run here too."""
    lives = breast_cancer_held_out()
    uncensored = at_the_age(censoring_table(lives.learned))
    days = np.arange(180.0, 1816.0, 15.0)
    chances = np.column_stack([lives.chance(day) for day in days])
    scores = [
        brier_score(lives.judged, chance, day + LATER, uncensored)
        for day, chance in zip(days, chances.T, strict=True)
    ]
    integrated = np.trapezoid(scores, days) / np.ptp(days)
    assert integrated == pytest.approx(0.1656794, abs=2e-6)
    theirs = integrated_brier_score(
        structured(lives.learned), structured(lives.judged), 1 - chances, days
    )
    assert integrated == pytest.approx(theirs, abs=1e-12)


def test_three_groups_of_breast_cancer():
    """Product limit in each group; at the age: tests/test_metrics.py of scikit-survival (read).

    Just before the age: computed. Groups by the Nottingham index, from memory.
    """
    known, end, failed = breast_cancer()
    lives = Lifetimes.of(end, failed)
    index = 0.2 * known[:, 2] / 10 + 1 + known[:, 3]
    group = (index >= 3.4).astype(int) + (index > 5.4)
    assert np.bincount(group).tolist() == [171, 512, 3]
    tables = [life_table(Lifetimes.of(end[group == k], failed[group == k])) for k in range(3)]
    before = censoring_table(lives)
    at_the_failure = [0.0762922458520448, 0.182536421174199, 0.220017747254941]
    at_the_failure += [0.234133800146671, 0.233822955042198]
    just_before = [0.0762866816, 0.1825214819, 0.2199837168, 0.2340860139, 0.2337424393]
    for day, theirs, ours in zip(DAYS, at_the_failure, just_before, strict=True):
        chance = np.array([1 - table.survivors_at(day) for table in tables])[group]
        found = brier_score(lives, chance, day + LATER, at_the_age(before))
        assert found == pytest.approx(theirs, abs=1e-14)
        assert brier_score(lives, chance, day + LATER, before) == pytest.approx(ours, abs=1e-9)
