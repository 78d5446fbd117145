"""The handbook as one table that a person can read."""

import numpy as np
import pandas as pd

from scoring.consequences.interval import Z90
from scoring.contract.events import JOINT_SLIP, MODES
from scoring.contract.mountings import CLAMPED, EVERY_MOUNTING
from scoring.handbook import grip_effect, held_arm_effect
from scoring.handbook.effect import Effect
from scoring.handbook.grip_loss import usual_grip_loss
from scoring.handbook.multipliers import EFFECTS
from scoring.handbook.nameplate_columns import TERMS
from scoring.handbook.shares_of_losses import LOSSES


def effects_table() -> pd.DataFrame:
    """Return every effect of the handbook: state, how usual, multiplier with its range, origin.

    Returns
    -------
    DataFrame
        ``failure_mode``, ``effect``, ``state``, ``usual_share``, ``multiplier``, ``low``,
        ``high`` (90 % interval), ``origin``, ``mountings``. A number on the nameplate has no usual
        share, and of a word only the ratio to the others counts.
    """
    rows = [row for mode in MODES for effect in EFFECTS for row in _rows(effect, mode)]
    rows += [_held_arm(mode) for mode in held_arm_effect.HARMS]
    rows += [_grip(mode, mounting) for mode in grip_effect.MOST for mounting in EVERY_MOUNTING]
    rows += [_no_grip(mounting) for mounting in CLAMPED]
    rows += [row for mode in MODES for row in _nameplate(mode)]
    return pd.DataFrame(rows)


def _rows(effect: Effect, mode: str) -> list[dict[str, object]]:
    return [
        {
            "failure_mode": mode,
            "effect": effect.name,
            "state": effect.state_words(state),
            "usual_share": share,
            "multiplier": multiplier,
            "low": multiplier ** (1 - Z90 * effect.uncertainty),
            "high": multiplier ** (1 + Z90 * effect.uncertainty),
            "origin": effect.origin,
            "mountings": ", ".join(effect.mountings),
        }
        for state, share, multiplier in zip(
            effect.states, effect.usual, effect.multipliers[mode], strict=True
        )
        if state != effect.states[0] and not np.isclose(multiplier, 1.0)
    ]


def _grip(mode: str, mounting: str) -> dict[str, object]:
    worst, spread = grip_effect.MOST[mode], Z90 * grip_effect.UNCERTAINTY[mode]
    least = -np.log(grip_effect.RATIO_OF_MOST)
    return {
        "failure_mode": mode,
        "effect": grip_effect.NAME,
        "state": "worked out for each unit; here where half of the grip is lost, or more",
        "usual_share": float(usual_grip_loss(mounting)[least <= LOSSES].sum()),
        "multiplier": worst,
        "low": worst ** (1 - spread),
        "high": worst ** (1 + spread),
        "origin": grip_effect.ORIGIN[mode],
        "mountings": mounting,
    }


def _no_grip(mounting: str) -> dict[str, object]:
    worst = grip_effect.without_grip(mounting)
    spread = Z90 * grip_effect.UNCERTAINTY[JOINT_SLIP]
    return {
        "failure_mode": JOINT_SLIP,
        "effect": grip_effect.NAME,
        "state": "worked out for each unit; here a joint without any grip, against usual ones",
        "usual_share": float(usual_grip_loss(mounting)[-1]),
        "multiplier": worst,
        "low": worst ** (1 - spread),
        "high": worst ** (1 + spread),
        "origin": grip_effect.ORIGIN[JOINT_SLIP],
        "mountings": mounting,
    }


def _held_arm(mode: str) -> dict[str, object]:
    usual = held_arm_effect.usual_mean(mode)
    spread = Z90 * held_arm_effect.UNCERTAINTY
    return {
        "failure_mode": mode,
        "effect": held_arm_effect.NAME,
        "state": "worked out for each unit; here the mean where nobody has looked",
        "usual_share": 1.0,
        "multiplier": usual,
        "low": usual ** (1 - spread),
        "high": usual ** (1 + spread),
        "origin": held_arm_effect.ORIGIN,
        "mountings": "all",
    }


def _nameplate(mode: str) -> list[dict[str, object]]:
    numbers = [
        (one.label, one.state, np.nan, one.slope, power.value, power.deviation, power.origin)
        for one in TERMS[mode].numbers
        for power in (one.powers[mode],)
    ]
    words = [
        (
            one.label,
            word.replace("_", " "),
            one.shares[word],
            1.0,
            np.log(multiplier),
            one.deviation[mode],
            one.origin,
        )
        for one in TERMS[mode].words
        for word, multiplier in one.multipliers[mode].items()
    ]
    return [
        {
            "failure_mode": mode,
            "effect": label,
            "state": state,
            "usual_share": share,
            "multiplier": float(np.exp(slope * middle)),
            "low": float(np.exp(slope * (middle - Z90 * deviation))),
            "high": float(np.exp(slope * (middle + Z90 * deviation))),
            "origin": origin,
            "mountings": "all",
        }
        for label, state, share, slope, middle, deviation, origin in (*numbers, *words)
    ]
