"""How well a score puts first the units that truly fail first."""

import numpy as np


def expected_concordance(score, true_chance):
    """Chance that, of a unit that fails and one that does not, the failing one scores higher.

    Expected over the true chances; ties count half, and no unit is held against itself. Sorted
    once, so that it is quick on thousands of units.
    """
    fails, stays = true_chance, 1 - true_chance
    _, level = np.unique(score, return_inverse=True)
    fails_at, stays_at = np.bincount(level, fails), np.bincount(level, stays)
    stays_below = np.concatenate([[0.0], np.cumsum(stays_at)[:-1]])
    own = (fails * stays).sum()
    right = (fails_at * (stays_below + 0.5 * stays_at)).sum() - 0.5 * own
    return right / (fails.sum() * stays.sum() - own)


def share_of_oracle(score, true_chance):
    """Share of the lead over chance that knowing the truth would give."""
    lead = expected_concordance(true_chance, true_chance) - 0.5
    return (expected_concordance(score, true_chance) - 0.5) / lead
