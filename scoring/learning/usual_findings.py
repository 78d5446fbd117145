"""How often each plain finding is usually found: the centre of its column for every plant alike."""

import numpy as np

from scoring.consequences.states_of_the_arm import STATES_OF_THE_ARM
from scoring.handbook.multipliers import EFFECTS
from scoring.handbook.what_lowers_grip import GRIP_FAULTS

USUAL_FINDING = 0.1
"""Where the handbook has no share; planning value of ours. [-]"""


def usual_share(checks: tuple[str, ...]) -> float:
    """Return how often at least one of some checks is usually found bad.

    Parameters
    ----------
    checks : tuple of str
        Names of checks.

    Returns
    -------
    float
        By the handbook's shares of states that are not good, as if checks were bad independently of
        each other. [-]

    Examples
    --------
    >>> round(usual_share(("breather",)), 3), round(usual_share(("witness_mark",)), 3)
    (0.09, 0.1)
    """
    good = [1 - _share_of(check) for check in checks]
    return 1 - float(np.prod(good))


def _share_of(check: str) -> float:
    """Return the share of one check; of conditions of different mountings the largest."""
    shares = [1 - one.usual[0] for one in (*EFFECTS, *GRIP_FAULTS) if check in one.checks]
    shares += [
        1 - one.spread.shares[0]
        for one in STATES_OF_THE_ARM
        if one.check == check and not one.measured
    ]
    return max(shares, default=USUAL_FINDING)
