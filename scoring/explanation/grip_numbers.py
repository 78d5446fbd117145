"""What the grip of one unit's joint makes of the hazard of its bearing and its seal."""

import numpy as np

from scoring.explanation.assessed_unit import AssessedUnit
from scoring.explanation.traced_number import Input, TracedNumber
from scoring.handbook import grip_effect
from scoring.handbook.grip_loss import grip_loss
from scoring.handbook.shares_of_losses import LOSSES, grip_left


def number_of_the_grip(unit: AssessedUnit, mode: str, topic: str) -> TracedNumber:
    """Return how much of a joint's grip makes its multiplier of bearing or seal failures."""
    lost = grip_loss(unit.evidence)
    most, ratio = grip_effect.MOST[mode], grip_effect.RATIO_OF_MOST
    beyond = -np.log(ratio) <= LOSSES
    return TracedNumber(
        topic,
        "multiplier of the grip",
        float(grip_effect.grip_multiplier(mode, unit.evidence).mean[0]),
        "",
        "sum of chance x smaller of ((1 / grip left)^exponent; most)",
        (
            Input("exponent", float(np.log(most) / -np.log(ratio)), "", assumed=True),
            Input("most", most, "", assumed=True),
            Input("grip left, on the mean", float(grip_left(lost)[0]), beside=True),
            Input("chance that any is lost", float(1 - lost[0, 0]), beside=True),
            Input(
                f"chance that no more than {ratio:g} of it is left",
                float(lost[0, beyond].sum()),
                beside=True,
            ),
        ),
        grip_effect.ORIGIN[mode],
        "over how much of the grip may be left; see the table of grip left",
    )


def grip_left_of(unit: AssessedUnit) -> tuple[tuple[float, float], ...]:
    """Return the parts of its grip that a joint may have left, each with its chance [-, -]."""
    lost = grip_loss(unit.evidence)[0]
    left = np.exp(-LOSSES)
    return tuple((float(left[n]), float(lost[n])) for n in np.flatnonzero(lost > 0))
