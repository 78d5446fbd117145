"""The effects that are worked out for each unit: the held arm, and the grip of the joint."""

import numpy as np
from numpy.typing import NDArray

from scoring.contract.events import JOINT_SLIP
from scoring.handbook import grip_effect, held_arm_effect
from scoring.handbook.grip_loss import grip_loss
from scoring.handbook.joints_found import how_grip_is_known
from scoring.handbook.shares_of_losses import grip_left
from scoring.handbook.unit_evidence import UnitEvidence, any_reported_cured
from scoring.handbook.worked_out_effect import (
    NOT_HERE,
    NOT_SEEN,
    REPORTED_CURED,
    SEEN,
    SEEN_IN_PART,
    MeanMultiplier,
    WorkedOutEffect,
    how_known_of,
)

Floats = NDArray[np.float64]
Codes = NDArray[np.int8]


def _how_the_arm_is_known(mode: str, evidence: UnitEvidence) -> tuple[Codes, Floats]:
    del mode
    known, held = evidence.known, evidence.restraint.share_held
    cured = any_reported_cured(known, held_arm_effect.CHECKS_OF_WHAT_HOLDS_IT)
    looked = known.exceedance[list(held_arm_effect.CHECKS_OF_WHAT_HOLDS_IT)].notna().all(axis=1)
    seen = np.isin(held, (0, 1)) | looked
    rest = np.ones(len(held), dtype=bool)
    return how_known_of({SEEN: seen, REPORTED_CURED: cured, NOT_SEEN: rest}), held


def _how_the_grip_is_known(mode: str, evidence: UnitEvidence) -> tuple[Codes, Floats]:
    known = how_grip_is_known(evidence)
    how = how_known_of(
        {
            NOT_HERE: grip_effect.not_here(mode, evidence),
            REPORTED_CURED: known.cured,
            SEEN: known.every,
            SEEN_IN_PART: known.some,
            NOT_SEEN: np.ones(len(known.some), dtype=bool),
        }
    )
    if mode == JOINT_SLIP:
        state = np.where(evidence.grip.relied_on, evidence.grip.margin, 0.0)
    else:
        state = grip_left(grip_loss(evidence))
    return how, state


def _grip_in_words(mode: str, state: float) -> str:
    if state <= 0:
        return "cannot be relied on"
    return f"slip margin {state:.2f}" if mode == JOINT_SLIP else f"{state:.0%} of its grip left"


def _worst_arm(mode: str) -> tuple[float, str]:
    return held_arm_effect.log_if_held(mode), "held, at a unit of usual size"


def _worst_grip(mode: str) -> tuple[float, str]:
    return float(np.log(grip_effect.MOST[mode])), "half of the grip lost, or more"


HELD_ARM = WorkedOutEffect(
    name=held_arm_effect.NAME,
    label=held_arm_effect.LABEL,
    checks=held_arm_effect.CHECKS,
    shown_by=held_arm_effect.SHOW_THAT_IT_IS_HELD,
    uncertainty=dict.fromkeys(held_arm_effect.HARMS, held_arm_effect.UNCERTAINTY),
    origin=dict.fromkeys(held_arm_effect.HARMS, held_arm_effect.ORIGIN),
    multiplier=lambda mode, evidence: MeanMultiplier.of(
        *held_arm_effect.held_arm_mean_and_square(mode, evidence.restraint)
    ),
    mean=lambda mode, evidence: held_arm_effect.held_arm_mean(mode, evidence.restraint),
    how_known=_how_the_arm_is_known,
    usual_mean=lambda mode, _: held_arm_effect.usual_mean(mode),
    worst=_worst_arm,
    state_words=lambda _, state: f"held with a chance of {state:.0%}",
)

GRIP = WorkedOutEffect(
    name=grip_effect.NAME,
    label=grip_effect.LABEL,
    checks=grip_effect.CHECKS,
    shown_by=grip_effect.CHECKS,
    uncertainty=grip_effect.UNCERTAINTY,
    origin=grip_effect.ORIGIN,
    multiplier=grip_effect.grip_multiplier,
    mean=grip_effect.grip_mean,
    how_known=_how_the_grip_is_known,
    usual_mean=grip_effect.usual_mean,
    worst=_worst_grip,
    state_words=_grip_in_words,
)

WORKED_OUT = (HELD_ARM, GRIP)
