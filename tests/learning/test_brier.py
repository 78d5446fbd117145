"""The square distance of chances from what happened, also where units were lost to follow-up."""

import numpy as np
import pytest
from sklearn.metrics import brier_score_loss

from scoring.learning.brier import brier_score
from scoring.learning.censoring import censoring_table
from scoring.learning.lifetimes import Lifetimes


def drawn(seed, n=20_000):
    rng = np.random.default_rng(seed)
    hazard = rng.gamma(2.0, 0.1, n)
    return rng.exponential(1 / hazard), -np.expm1(-3.0 * hazard), rng


def test_with_everybody_under_observation_it_is_the_plain_mean():
    life, chance, _ = drawn(1, n=500)
    lives = Lifetimes.of(life, True)
    found = brier_score(lives, chance, 3.0, censoring_table(lives))
    assert found == pytest.approx(brier_score_loss(life <= 3.0, chance), abs=1e-12)


def test_all_taken_out_of_sight_at_the_horizon_itself():
    life, chance, _ = drawn(1, n=500)
    lives = Lifetimes.of(np.minimum(life, 3.0), life <= 3.0)
    found = brier_score(lives, chance, 3.0, censoring_table(lives))
    assert found == pytest.approx(brier_score_loss(life <= 3.0, chance), abs=1e-12)


def test_losses_to_follow_up_do_not_shift_it():
    life, chance, rng = drawn(2)
    out = rng.exponential(4.0, len(life))
    lives = Lifetimes.of(np.minimum(life, out), life <= out)
    whole = brier_score_loss(life <= 3.0, chance)
    uncensored = censoring_table(lives)
    assert brier_score(lives, chance, 3.0, uncensored) == pytest.approx(whole, abs=0.004)
    assert uncensored.survivors_at(3.0) == pytest.approx(np.exp(-3 / 4), abs=0.01)


def test_the_true_chance_beats_any_other():
    life, chance, _ = drawn(3)
    lives = Lifetimes.of(life, True)
    uncensored = censoring_table(lives)
    others = (np.full_like(chance, chance.mean()), chance**1.5, np.sqrt(chance))
    best = brier_score(lives, chance, 3.0, uncensored)
    assert all(best < brier_score(lives, other, 3.0, uncensored) for other in others)


def test_worked_by_hand():
    """Ends 1 lost, 2 failed, 3 lost, 4 failed; still observed 3/4 just before 2 and before 3."""
    lives = Lifetimes.of([1.0, 2.0, 3.0, 4.0], [False, True, False, True])
    found = brier_score(lives, [0.9, 0.6, 0.2, 0.3], 2.5, censoring_table(lives))
    assert found == pytest.approx((0.4**2 + 0.2**2 + 0.3**2) / 0.75 / 4, abs=1e-12)


def test_refused():
    lives = Lifetimes.of([1.0, 3.0], [False, True])
    with pytest.raises(ValueError, match="between 0 and 1"):
        brier_score(lives, [0.5, 1.5], 2.0, censoring_table(lives))
    with pytest.raises(ValueError, match="came under observation late"):
        brier_score(Lifetimes.of([1.0], True, 0.5), [0.5], 2.0, censoring_table(lives))
    elsewhere = censoring_table(Lifetimes.of([1.0, 2.0], [False, False]))
    with pytest.raises(ValueError, match="nearer horizon"):
        brier_score(lives, [0.5, 0.5], 4.0, elsewhere)
