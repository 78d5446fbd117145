"""At which units an action needs its parts: some need them only where one is missing."""

import numpy as np

from scoring.contract import CHECK_BY_NAME
from scoring.contract.rework import ACTIONS
from scoring.timeline.known import Known
from scoring.what_if.action_arrays import Flags

ALWAYS_NEEDED: Flags = np.array([not action.parts_where for action in ACTIONS])
"""Which actions need their parts at every unit, shape (n_actions,)."""


def parts_needed(known: Known) -> Flags:
    """Tell which actions need their parts at each unit, by what was found there.

    Parameters
    ----------
    known : Known
        What was known of the units.

    Returns
    -------
    ndarray of bool, shape (n_units, n_actions)
    """
    needed = np.tile(ALWAYS_NEEDED, (len(known.units), 1))
    for place, action in enumerate(ACTIONS):
        for check, word in action.parts_where:
            least = CHECK_BY_NAME[check].allowed.index(word) if word else 0
            bad = known.exceedance[check].to_numpy(dtype=np.float64)
            needed[:, place] |= (bad > 0) & (bad >= least)
    return needed
