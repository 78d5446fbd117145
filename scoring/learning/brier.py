"""How far predicted chances of failing lie from what happened."""

import numpy as np
from numpy.typing import ArrayLike

from scoring.learning.life_tables import LifeTable
from scoring.learning.lifetimes import Lifetimes


def brier_score(
    lives: Lifetimes, probability: ArrayLike, horizon: float, uncensored: LifeTable
) -> float:
    """Mean square distance of predicted chances from what happened by a horizon.

    Parameters
    ----------
    lives : Lifetimes
        What happened, all under observation from age 0.
    probability : array_like, shape (n_rows,)
        Predicted chance of failing by the horizon, 0 to 1. [-]
    horizon : float
        Above 0. [unit of the ages]
    uncensored : LifeTable
        Fraction still under observation at each age, of these units or of those learned from.

    Returns
    -------
    float
        0 if perfect; 0.25 for always saying one half. [-]

    Raises
    ------
    ValueError
        If a unit came under observation late, a chance is not between 0 and 1, or nobody would be
        under observation where somebody was.

    Notes
    -----
    Those seen stand for those lost: a failure by the horizon weighs 1 / G(age-), a unit seen up to
    the horizon 1 / G(horizon-), one lost before it 0, with G the fraction under observation just
    before; summed over all units and divided by their number. A unit lost to follow-up at the very
    horizon was seen to reach it. Other programs take G at, not just before, an age, and leave out a
    unit lost at the very horizon, which moves the score in its third to fifth digit. Score after
    Graf et al. 1999, from memory.

    Examples
    --------
    >>> from scoring.learning.censoring import censoring_table
    >>> lives = Lifetimes.of([1.0, 2.0, 3.0], [True, False, False])
    >>> brier_score(lives, [0.5, 0.5, 0.0], 2.0, censoring_table(lives))
    0.16666666666666666
    """
    chance = np.asarray(probability, dtype=np.float64)
    if (lives.entry > 0).any():
        raise ValueError("a unit came under observation late: count its age from then")
    if chance.shape != lives.end.shape or not ((chance >= 0) & (chance <= 1)).all():
        raise ValueError("a chance is missing, not between 0 and 1, or not one for each row")
    failed = lives.failed & (lives.end <= horizon)
    reached = ~failed & (lives.end >= horizon)
    still_uncensored = uncensored.survivors_at(np.minimum(lives.end, horizon), just_before=True)
    seen = failed | reached
    if (still_uncensored[seen] <= 0).any():
        raise ValueError(
            "nobody would be under observation where somebody was: choose a nearer horizon"
        )
    weight = lives.count[seen] / still_uncensored[seen]
    square = (failed - chance)[seen] ** 2
    return float(weight @ square / lives.count.sum())
