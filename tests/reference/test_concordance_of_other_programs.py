"""Our pairs are those of scikit-survival and lifelines, and where they differ it is said how.

Uno's index: scikit-survival weighs a failure by the fraction under observation at its age, we by
the one just before it. That is all: with the other fraction we get its numbers.
"""

import numpy as np
import pytest
from held_out_lives import breast_cancer_held_out, rossi_held_out
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from lifelines.utils import concordance_index
from scikit_survival_ways import at_the_age, structured
from sksurv.metrics import concordance_index_censored, concordance_index_ipcw

from scoring.learning.censoring import censoring_table
from scoring.learning.concordance import concordance
from scoring.learning.lifetimes import Lifetimes

ROWS = st.lists(
    st.tuples(st.integers(1, 6), st.booleans(), st.integers(0, 3)), min_size=2, max_size=30
)
LIMITS = st.sampled_from([3.0, 4.5, 7.0])


def drawn(rows, lost_later=0.0):
    """Return lives with many ties, and scores; losses may come a little after failures."""
    end, failed, score = (np.array(column) for column in zip(*rows, strict=True))
    assume(failed.any())
    return Lifetimes.of(end + lost_later * ~failed, failed), score.astype(float)


@given(ROWS)
@settings(max_examples=150, deadline=None)
def test_pairs(rows):
    lives, score = drawn(rows)
    found = concordance(lives, score)
    assume(np.isfinite(found.index))
    index, *pairs, _ = concordance_index_censored(lives.failed, lives.end, score)
    assert [found.concordant, found.discordant, found.tied] == pairs
    assert found.index == pytest.approx(index, abs=1e-12)
    by_lifelines = concordance_index(lives.end, -score, lives.failed)
    assert found.index == pytest.approx(by_lifelines, abs=1e-12)


def test_scores_that_hardly_differ_are_a_tie_to_scikit_survival_only():
    lives, score = Lifetimes.of([1.0, 2.0], True), np.array([1e-9, 0.0])
    assert concordance(lives, score).index == 1.0
    assert concordance_index(lives.end, -score, lives.failed) == 1.0
    assert concordance_index_censored(lives.failed, lives.end, score)[0] == 0.5
    assert concordance_index_censored(lives.failed, lives.end, score, tied_tol=0)[0] == 1.0


@given(ROWS, LIMITS)
@settings(max_examples=100, deadline=None)
def test_weighted_pairs_by_the_fraction_under_observation_at_the_failure(rows, until):
    lives, score = drawn(rows)
    early = lives.failed & (lives.end < until)
    uncensored = censoring_table(lives)
    assume(early.any() and (uncensored.survivors_at(lives.end[early]) > 0).all())
    found = concordance(lives, score, until=until, uncensored=at_the_age(uncensored))
    assume(np.isfinite(found.index))
    theirs = concordance_index_ipcw(structured(lives), structured(lives), score, tau=until)[0]
    assert found.index == pytest.approx(theirs, abs=1e-12)


@given(ROWS, LIMITS)
@settings(max_examples=100, deadline=None)
def test_weighted_pairs_where_none_is_lost_at_the_age_of_a_failure(rows, until):
    lives, score = drawn(rows, lost_later=0.25)
    assume((lives.failed & (lives.end < until)).any())
    found = concordance(lives, score, until=until, uncensored=censoring_table(lives))
    assume(np.isfinite(found.index))
    theirs = concordance_index_ipcw(structured(lives), structured(lives), score, tau=until)[0]
    assert found.index == pytest.approx(theirs, abs=1e-12)


def test_arrests():
    """Computed with scikit-survival 0.28.0 and another program; none is lost before week 52."""
    lives = rossi_held_out()
    coef = [-0.3690815, -0.0639604, 0.106277, -0.101495, -1.0718134, -0.1947988, 0.1089022]
    np.testing.assert_allclose(lives.model.coef_, coef, atol=2e-6)
    found = concordance(lives.judged, lives.score)
    assert (found.concordant, found.discordant, found.tied) == (2627, 1989, 3)
    assert found.index == pytest.approx(0.5690626, abs=2e-6)
    uncensored = censoring_table(lives.learned)
    for until, expected in {26: 0.5529582, 40: 0.5818597, 52: 0.5726447}.items():
        index = concordance(lives.judged, lives.score, until=until, uncensored=uncensored).index
        assert index == pytest.approx(expected, abs=2e-6)


def test_breast_cancer():
    """Computed with scikit-survival 0.28.0; lifelines 0.30.0 finds the same unweighted index."""
    lives = breast_cancer_held_out()
    coef = [2.72e-05, -0.3776866, 0.0081778, 0.2513309, 0.0494604, -0.1699945]
    np.testing.assert_allclose(lives.model.coef_, coef, atol=2e-6)
    found = concordance(lives.judged, lives.score)
    assert (found.concordant, found.discordant, found.tied) == (9746, 4527, 0)
    assert found.index == pytest.approx(0.6828277, abs=2e-6)
    by_lifelines = concordance_index(lives.judged.end, -lives.score, lives.judged.failed)
    assert found.index == pytest.approx(by_lifelines, abs=1e-12)
    uncensored = censoring_table(lives.learned)
    for until, expected in {1000: 0.6964319, 1500: 0.6803772, 2000: 0.6593088}.items():
        theirs = concordance(
            lives.judged, lives.score, until=until, uncensored=at_the_age(uncensored)
        )
        ours = concordance(lives.judged, lives.score, until=until, uncensored=uncensored)
        assert theirs.index == pytest.approx(expected, abs=2e-6)
        assert ours.index == pytest.approx(expected, abs=2.5e-4)
        assert ours.index != pytest.approx(expected, abs=1e-5)


@pytest.mark.parametrize(
    ("held_out", "areas"),
    [
        (rossi_held_out, {13: 0.5933264, 26: 0.5273684, 39: 0.5891105, 51: 0.5802097}),
        (
            breast_cancer_held_out,
            {365: 0.739192, 730: 0.7179917, 1095: 0.7499413, 1460: 0.7275838, 1825: 0.7239653},
        ),
    ],
)
def test_the_area_under_the_curve_of_a_horizon_is_a_concordance(held_out, areas):
    """Failed by the horizon against alive after it; computed with scikit-survival 0.28.0.

    Each failure counts once over the fraction under observation at its age.
    """
    lives = held_out()
    end, uncensored = lives.judged.end, censoring_table(lives.learned)
    for horizon, expected in areas.items():
        failed = lives.judged.failed & (end <= horizon)
        count = np.where(end > horizon, 1.0, 0.0)
        count[failed] = 1 / uncensored.survivors_at(end[failed])
        halves = Lifetimes.of(np.where(failed, 1.0, 2.0), failed, count=count)
        assert concordance(halves, lives.score).index == pytest.approx(expected, abs=2e-6)
