"""Pairs are counted as one by one, and losses to follow-up do not shift Uno's index."""

import numpy as np
import pytest
from sklearn.metrics import roc_auc_score

from scoring.learning import concordance as module
from scoring.learning.censoring import censoring_table
from scoring.learning.concordance import concordance
from scoring.learning.lifetimes import Lifetimes


def drawn_lives(seed, n=60, lost=0.5):
    """Draw lives with many ties; the score tells something of them."""
    rng = np.random.default_rng(seed)
    score = rng.integers(0, 5, n).astype(float)
    life = np.ceil(rng.exponential(8 * np.exp(-0.3 * score)))
    out = np.where(rng.random(n) < lost, np.ceil(rng.uniform(0, 8, n)), 9.0)
    return Lifetimes.of(np.minimum(life, out), life <= out), score


def one_by_one(lives, score, until, uncensored):
    sums = np.zeros(3)
    for i in range(len(score)):
        if not lives.failed[i] or lives.end[i] >= until:
            continue
        seen = (
            1.0 if uncensored is None else uncensored.survivors_at(lives.end[i], just_before=True)
        )
        for j in range(len(score)):
            longer = lives.end[j] > lives.end[i]
            longer |= lives.end[j] == lives.end[i] and not lives.failed[j]
            if longer and lives.entry[j] < lives.end[i]:
                sums[int(np.sign(score[j] - score[i]))] += 1 / seen**2
    return sums[[-1, 1, 0]]


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("until", [4.0, np.inf])
def test_as_one_by_one(seed, until, monkeypatch):
    monkeypatch.setattr(module, "PAIRS_AT_ONCE", 400)  # several blocks
    lives, score = drawn_lives(seed)
    late = Lifetimes.of(lives.end, lives.failed, np.maximum(lives.end - 4, 0))
    for these, uncensored in ((lives, None), (lives, censoring_table(lives)), (late, None)):
        found = concordance(these, score, until=until, uncensored=uncensored)
        counts = (found.concordant, found.discordant, found.tied)
        np.testing.assert_allclose(counts, one_by_one(these, score, until, uncensored))


def test_one_horizon_is_the_area_under_the_curve():
    """All failures at one age, all others later: the area that scikit-learn gives."""
    rng = np.random.default_rng(1)
    failed = rng.random(200) < 0.3
    score = np.round(rng.normal(failed, 1.0), 1)
    found = concordance(Lifetimes.of(np.where(failed, 1.0, 2.0), failed), score)
    assert found.index == pytest.approx(roc_auc_score(failed, score), abs=1e-12)


def test_turning_scores_round_turns_the_index_round():
    lives, score = drawn_lives(5)
    index = concordance(lives, score).index
    assert concordance(lives, -score).index == pytest.approx(1 - index)
    assert concordance(lives, np.exp(3 * score)).index == index
    assert concordance(lives, np.zeros(60)).index == 0.5


def test_a_row_may_stand_for_several_units():
    lives, score = drawn_lives(6)
    many = np.random.default_rng(0).integers(1, 4, 60)
    rows = np.repeat(np.arange(60), many)
    apart = concordance(Lifetimes.of(lives.end[rows], lives.failed[rows]), score[rows])
    joined = concordance(Lifetimes.of(lives.end, lives.failed, count=many), score)
    # a censored row shares its age with no failure of its own, so that no pair lies within a row
    assert joined.concordant == apart.concordant
    assert joined.discordant == apart.discordant
    assert joined.tied == apart.tied


def test_losses_to_follow_up_shift_harrell_but_not_uno():
    """Hazards that converge: early pairs are easier, and losses leave more of them."""
    rng = np.random.default_rng(2)
    score = rng.normal(size=6000)
    life = rng.weibull(np.where(score > 0, 0.6, 2.5)) * 5
    out = rng.exponential(4.0, 6000)
    whole = concordance(Lifetimes.of(life, True), score, until=8.0).index
    seen = Lifetimes.of(np.minimum(life, out), life <= out)
    uno = concordance(seen, score, until=8.0, uncensored=censoring_table(seen)).index
    harrell = concordance(seen, score, until=8.0).index
    assert uno == pytest.approx(whole, abs=0.02)
    assert abs(harrell - whole) > 0.04


def test_nothing_failed_gives_no_index():
    assert np.isnan(concordance(Lifetimes.of([1.0, 2.0], False), [1.0, 2.0]).index)


def test_refused():
    lives = Lifetimes.of([1.0, 2.0, 3.0], [False, False, True])
    with pytest.raises(ValueError, match="score is missing"):
        concordance(lives, [1.0, np.nan, 2.0])
    elsewhere = censoring_table(Lifetimes.of([1.0, 2.0], [False, False]))
    with pytest.raises(ValueError, match="nobody is under observation"):
        concordance(lives, [1.0, 2.0, 3.0], uncensored=elsewhere)
