"""Joints as the rule on slip needs them: margin, upper end, what takes the grip."""

import numpy as np

from scoring.consequences.joint_grip import JointGrip


def joints(margin, high, factors, *, ratio=None, relied_on=True, blank=()):  # noqa: PLR0913 - a joint has them
    """Return joints of which nothing else is said, the same columns blank at all."""
    nothing = np.full(len(margin), np.nan)
    every = np.ones(len(margin), dtype=bool)
    return JointGrip(
        margin=np.array(margin),
        low=nothing,
        high=np.array(high),
        ratio=nothing if ratio is None else np.array(ratio),
        factors=factors,
        rating=nothing,
        estimated=np.zeros(len(margin), dtype=bool),
        demand=nothing,
        relied_on=every & np.array(relied_on),
        log_spread=nothing,
        spread_as_specified=nothing,
        not_on_record=dict.fromkeys(blank, every),
    )
