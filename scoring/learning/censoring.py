"""How probably a unit is still under observation, so that those seen can stand for those lost."""

from dataclasses import replace

import numpy as np

from scoring.learning.life_tables import LifeTable, life_table
from scoring.learning.lifetimes import Lifetimes


def censoring_table(lives: Lifetimes) -> LifeTable:
    """Product limit of staying under observation.

    Parameters
    ----------
    lives : Lifetimes
        What is known; what was lost to follow-up is the event here, and a failure hides it.

    Returns
    -------
    LifeTable
        Its ``survivors`` are the fraction still under observation.

    Notes
    -----
    Where a failure and a loss share an age, the failure comes first: the failed unit is no longer
    at risk of being lost. Programs differ in this, and in whether the fraction is taken at an age
    or just before it.

    Examples
    --------
    >>> censoring_table(Lifetimes.of([1.0, 2.0, 2.0, 3.0], [False, True, False, True])).survivors
    array([0.75 , 0.375])
    """
    ends = np.where(lives.failed, np.nextafter(lives.end, 0.0), lives.end)
    return life_table(replace(lives, end=ends, failed=~lives.failed))
