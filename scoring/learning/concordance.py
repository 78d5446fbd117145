"""How often, of two units, the one that failed first had the higher score."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from scoring.learning.life_tables import LifeTable
from scoring.learning.lifetimes import Lifetimes
from scoring.learning.weighted_gram import Floats

PAIRS_AT_ONCE = 4_000_000
"""Pairs looked at in one go, to bound memory. Ours. [-]"""


@dataclass(frozen=True)
class Concordance:
    """Pairs of units whose order of failing is known.

    Attributes
    ----------
    concordant, discordant, tied : float
        Weight of the pairs where the first to fail had the higher, the lower, the same score. [-]
    """

    concordant: float
    discordant: float
    tied: float

    @property
    def index(self) -> float:
        """Share of concordant pairs, ties counting half; missing without a pair [-]."""
        pairs = self.concordant + self.discordant + self.tied
        return (self.concordant + self.tied / 2) / pairs if pairs > 0 else float("nan")


def concordance(
    lives: Lifetimes,
    score: ArrayLike,
    *,
    until: float = np.inf,
    uncensored: LifeTable | None = None,
) -> Concordance:
    """Count the pairs.

    Parameters
    ----------
    lives : Lifetimes
        What happened.
    score : array_like, shape (n_rows,)
        Higher for a unit that is to fail sooner. [any]
    until : float, default no limit
        Failures at this age and later do not begin a pair. [unit of the ages]
    uncensored : LifeTable, optional
        Fraction still under observation at each age. With it, each pair weighs 1 over the square of
        that fraction just before the failure (Uno's index, which losses to follow-up do not shift;
        say ``until`` beside it); without it each pair weighs 1 (Harrell's index).

    Returns
    -------
    Concordance

    Raises
    ------
    ValueError
        If a score is missing, or nobody is under observation at a failure before ``until``.

    Notes
    -----
    A pair needs a failure, and a unit that was under observation then and went on for longer; one
    lost to follow-up at that very age went on for longer. Two failures at one age make no pair.
    Indices after Harrell and Uno, both from memory.

    Examples
    --------
    >>> lives = Lifetimes.of([2.0, 3.0, 5.0], [True, True, False])
    >>> round(concordance(lives, [0.9, 0.1, 0.3]).index, 3)
    0.667
    """
    scores = np.asarray(score, dtype=np.float64)
    if scores.shape != lives.end.shape or np.isnan(scores).any():
        raise ValueError("a score is missing, or not one for each row")
    begins = np.flatnonzero(lives.failed & (lives.end < until))
    weight = lives.count[begins] * _weights(lives.end[begins], uncensored)
    sums = np.zeros(3)
    size = max(1, PAIRS_AT_ONCE // max(1, len(scores)))
    for block in range(0, len(begins), size):
        first = begins[block : block + size, None]
        later = lives.end > lives.end[first]
        later |= (lives.end == lives.end[first]) & ~lives.failed
        later &= lives.entry < lives.end[first]
        own = weight[block : block + size]
        sums += [
            own @ ((later & compared) @ lives.count)
            for compared in (
                scores < scores[first],
                scores > scores[first],
                scores == scores[first],
            )
        ]
    return Concordance(*(float(total) for total in sums))


def _weights(age: Floats, uncensored: LifeTable | None) -> Floats:
    if uncensored is None:
        return np.ones_like(age)
    still_uncensored = uncensored.survivors_at(age, just_before=True)
    if (still_uncensored <= 0).any():
        raise ValueError("nobody is under observation at a failure: choose a lower limit")
    return still_uncensored**-2
