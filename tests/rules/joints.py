"""Joints as the rule on slip needs them: margin, upper end, what takes the grip."""

import numpy as np

from scoring.consequences.joint_grip import JointGrip


def joints(margin, high, factors):
    """Return joints of which nothing else is said."""
    nothing = np.full(len(margin), np.nan)
    return JointGrip(
        margin=np.array(margin),
        low=nothing,
        high=np.array(high),
        ratio=nothing,
        factors=factors,
        rating=nothing,
        estimated=np.zeros(len(margin), dtype=bool),
        demand=nothing,
    )
