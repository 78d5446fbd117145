"""From first looks to how usual each state is where nobody has looked."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.states_of_the_arm import STATES_OF_THE_ARM
from scoring.contract import CHECK_BY_NAME
from scoring.handbook.condition import Evidence
from scoring.handbook.multipliers import CONDITIONS
from scoring.handbook.prevalence import LooksCounted, Prevalence, count_looks
from scoring.limits import UnitLimits
from scoring.timeline.known import Known

Ints = NDArray[np.int64]


def learn_prevalence(first: Known, limits: UnitLimits) -> Prevalence:
    """Learn from first looks how usual each state is, by mounting and crew.

    Parameters
    ----------
    first : Known
        First looks, from ``scoring.timeline.first_looks``.
    limits : UnitLimits
        Limits of the same units.

    Returns
    -------
    Prevalence
        Nothing of symptoms: they tell of age and damage, not of the day of installation.
    """
    return counted_looks(first, limits).prevalence


def counted_looks(first: Known, limits: UnitLimits) -> LooksCounted:
    """Count what first looks found, by mounting and crew; as for ``learn_prevalence``."""
    crew = first.history["crew"].to_numpy(dtype=object)
    crews = tuple(sorted({str(name) for name in crew[pd.notna(crew)]}))
    found = pd.Index(crews, dtype=object).get_indexer(pd.Index(crew, dtype=object))
    place: Ints = np.where(found < 0, len(crews), found)
    mounting: Ints = np.asarray(first.units["mounting"].cat.codes, dtype=np.int64)
    group = mounting, place, len(crews)
    evidence = Evidence(first, limits)
    looks = {}
    for one in CONDITIONS:
        if any(CHECK_BY_NAME[name].symptom for name in one.checks):
            continue
        here = first.having(one)
        state = np.where(here, one.state(evidence), np.nan)
        looks[one.name] = count_looks(one.usual, one.states, state, group)
    for arm in STATES_OF_THE_ARM:
        spread = arm.spread
        looks[arm.name] = count_looks(spread.shares, spread.points, arm.of(first), group)
    return LooksCounted(crews, looks)
