"""Numbers behind the chance that a friction joint slips."""

import numpy as np

from scoring.contract.events import JOINT_SLIP
from scoring.contract.mountings import CLAMPED
from scoring.explanation.assessed_unit import AssessedUnit
from scoring.explanation.traced_number import Input, TracedNumber
from scoring.handbook import grip_effect
from scoring.handbook.grip_loss import grip_loss
from scoring.handbook.slip_hazard import LEAST, MARGIN_AS_SPECIFIED, MOST, POWER, SPREAD_OF_MARGINS
from scoring.records import DAYS_PER_YEAR


def numbers_of_the_slip(unit: AssessedUnit, topic: str) -> list[TracedNumber]:
    """Return how a joint's grip makes its multiplier, under a heading; none for a keyed bore."""
    mounting = str(unit.known.units["mounting"].iloc[unit.place])
    if mounting not in CLAMPED:
        return []
    evidence = unit.evidence
    grip = evidence.grip
    middle, left = grip_effect.log_margin_as_specified(grip)
    computed = float(grip.rating[0] / grip.demand[0])
    years = float(evidence.known.history["joint_age_days"].iloc[0]) / DAYS_PER_YEAR
    lost = grip_loss(evidence)[0]
    mean = grip_effect.grip_multiplier(JOINT_SLIP, evidence).mean
    drawn = TracedNumber(
        topic,
        "margin as specified, drawn towards what is usual",
        float(np.exp(middle[0])),
        "",
        "usual margin"
        if np.isnan(computed)
        else "usual margin x (rated over peak torque / usual margin)^(log standard deviation among "
        "joints^2 / (log standard deviation among joints^2 + log standard deviation of it^2))",
        (
            Input("rated over peak torque", _known(computed)),
            Input("log standard deviation of it", _known(float(grip.spread_as_specified[0]))),
            Input("usual margin", MARGIN_AS_SPECIFIED, "", assumed=True),
            Input("log standard deviation among joints", SPREAD_OF_MARGINS, "", assumed=True),
            Input("log standard deviation left", float(left[0]), beside=True),
        ),
        "normal law with a normal prior, textbook; " + grip_effect.ORIGIN[JOINT_SLIP],
        "the mean of both logarithms, each by how well it is known",
    )
    multiplier = TracedNumber(
        topic,
        "multiplier of the grip, against usual joints known as well",
        float(mean[0]),
        "",
        "mean, over how much of the grip may be lost and what has survived, of "
        f"({LEAST:g} + 1 / (margin^{POWER:g} + 1/{MOST:g})) over that of usual joints",
        (
            Input("margin as specified", float(np.exp(middle[0]))),
            Input("survived since it was hung", years, "year"),
            Input("chance that grip cannot be relied on", float(lost[-1])),
            Input("chance that some grip is lost", float(1 - lost[0])),
        ),
        grip_effect.ORIGIN[JOINT_SLIP],
    )
    return [drawn, multiplier]


def _known(value: float) -> float | str:
    return value if np.isfinite(value) else "not known"
