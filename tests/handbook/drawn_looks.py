"""First looks of invented crews: how many found each state of each effect."""

import numpy as np
from hypothesis import strategies as st

from scoring.consequences.states_of_the_arm import STATES_OF_THE_ARM
from scoring.contract import CHECK_BY_NAME
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.handbook.condition import Condition
from scoring.handbook.multipliers import CONDITIONS
from scoring.handbook.prevalence import Looks

CREWS = ("crew A", "crew B")
ANYBODY = len(CREWS)
"""Place of those who are not named."""

LEARNED: tuple[Condition, ...] = tuple(
    effect
    for effect in CONDITIONS
    if not any(CHECK_BY_NAME[name].symptom for name in effect.checks)
)
USUAL = {effect.name: effect.usual for effect in LEARNED} | {
    arm.name: arm.spread.shares for arm in STATES_OF_THE_ARM
}
CARE = st.sampled_from((0.0, 0.1, 1.0, 3.0, 12.0, np.inf))


@st.composite
def looks(draw, *, every_check_alike=False):
    """Draw what first looks found at the work of two crews and of people not named.

    Parameters
    ----------
    every_check_alike : bool
        Whether each unit was looked at whole, so that all checks have as many looks.
    """
    n_units = [draw(st.sampled_from((0, 3, 40, 300, 2000))) for _ in range(ANYBODY + 1)]
    care = [draw(CARE) for _ in n_units]
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    return {
        name: Looks(usual, _counts(rng, usual, n_units, care, every_check_alike))
        for name, usual in USUAL.items()
    }


def _counts(rng, usual, n_units, care, every_check_alike):
    counts = np.zeros((len(EVERY_MOUNTING), len(n_units), len(usual)))
    for mounting in range(len(EVERY_MOUNTING)):
        for crew, units in enumerate(n_units):
            size = units if every_check_alike else int(units * rng.random() ** 3)
            counts[mounting, crew] = rng.multinomial(size, _shares(usual, care[crew]))
    return counts


def _shares(usual, times):
    """Multiply the odds of every faulty state."""
    if np.isinf(times):
        return np.append(np.zeros(len(usual) - 1), 1.0)
    odds = np.array([usual[0], *(times * share for share in usual[1:])])
    return odds / odds.sum()
