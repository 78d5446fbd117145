"""Every effect at every unit: by what it multiplies each hazard, and how sure that is."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.usual_states import CHANCE_THAT_REWORK_SUCCEEDS
from scoring.contract.events import JOINT_SLIP, MODES
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.handbook import grip_effect, held_arm_effect
from scoring.handbook.effect import Effect, one_effect_a_check
from scoring.handbook.effects_of_symptoms import EFFECTS_OF_SYMPTOMS
from scoring.handbook.effects_of_the_arm import EFFECTS_OF_THE_ARM, EFFECTS_OF_THE_HOUSING
from scoring.handbook.effects_of_the_joint import EFFECTS_OF_THE_JOINT
from scoring.handbook.unit_evidence import Looked, UnitEvidence, any_reported_cured

Floats = NDArray[np.float64]
Parts = tuple[Floats, Floats, Floats, NDArray[np.object_], Floats]

EFFECTS: tuple[Effect, ...] = one_effect_a_check(
    (
        *EFFECTS_OF_THE_JOINT,
        *EFFECTS_OF_THE_ARM,
        *EFFECTS_OF_THE_HOUSING,
        *EFFECTS_OF_SYMPTOMS,
    )
)

SEEN, REPORTED_CURED, NOT_SEEN, NOT_HERE = (
    "seen",
    "reported cured",
    "not seen",
    "not on this mounting",
)


@dataclass(frozen=True)
class Multipliers:
    """By what each effect multiplies the hazard of one failure.

    Attributes
    ----------
    log_mean : DataFrame, shape (n_units, n_effects)
        Logarithm of the mean multiplier, over what was not seen. [-]
    log_variance : DataFrame, shape (n_units, n_effects)
        Variance of the logarithm: what was not seen, and how unsure the handbook is. [-]
    unseen_variance : DataFrame, shape (n_units, n_effects)
        The part of it that comes from what was not seen. [-]
    basis : DataFrame of str, shape (n_units, n_effects)
        Whether the state was seen, reported cured, not seen, or is not on this mounting.
    states : DataFrame, shape (n_units, n_effects)
        The state, missing unless seen.
    """

    log_mean: pd.DataFrame
    log_variance: pd.DataFrame
    unseen_variance: pd.DataFrame
    basis: pd.DataFrame
    states: pd.DataFrame


def multipliers(mode: str, evidence: UnitEvidence) -> Multipliers:
    """Evaluate every effect at every unit.

    Parameters
    ----------
    mode : str
        The failure.
    evidence : UnitEvidence
        What was known, limits, how the torque arm is held, how usual faults are.

    Returns
    -------
    Multipliers
    """
    columns: dict[str, Parts] = {
        effect.name: _one_effect(effect, mode, evidence) for effect in EFFECTS
    }
    columns[held_arm_effect.NAME] = _held_arm(mode, evidence)
    columns[grip_effect.NAME] = _grip(mode, evidence)
    return Multipliers(
        *(pd.DataFrame({name: parts[i] for name, parts in columns.items()}) for i in range(5))
    )


def log_mean_multipliers(evidence: UnitEvidence) -> dict[str, Floats]:
    """Return the logarithm of the mean multiplier of every effect, and nothing else.

    Parameters
    ----------
    evidence : UnitEvidence
        What was known, limits, how the torque arm is held, how usual faults are.

    Returns
    -------
    dict of str to ndarray, shape (n_units, n_effects)
        For each failure, as ``Multipliers.log_mean``: quick, for many rows of the past. [-]
    """
    table = {mode: np.zeros((len(evidence.known.units), len(EFFECT_NAMES))) for mode in MODES}
    for place, effect in enumerate(EFFECTS):
        looked = evidence.looked(effect)
        for mode in MODES:
            if has_multiplier(effect.name, mode):
                table[mode][:, place] = np.log(
                    _mean_and_mean_square(effect, mode, looked, evidence)[0]
                )
    for mode in held_arm_effect.HARMS:
        mean, _ = held_arm_effect.held_arm_mean_and_square(mode, evidence.restraint)
        table[mode][:, -2] = np.log(mean)
    table[JOINT_SLIP][:, -1] = np.log(grip_effect.grip_multiplier(evidence).mean)
    return table


EFFECT_NAMES = (*(effect.name for effect in EFFECTS), held_arm_effect.NAME, grip_effect.NAME)
"""Columns of all tables of multipliers."""

UNCERTAINTIES: Floats = np.array(
    [
        *(effect.uncertainty for effect in EFFECTS),
        held_arm_effect.UNCERTAINTY,
        grip_effect.UNCERTAINTY,
    ]
)
"""Standard deviation of the logarithm of each multiplier over that logarithm. [-]"""


def has_multiplier(name: str, mode: str) -> bool:
    """Tell whether an effect multiplies the hazard of a failure at all.

    Examples
    --------
    >>> has_multiplier("held_arm", "seal_leak")
    True
    """
    if name == held_arm_effect.NAME:
        return mode in held_arm_effect.HARMS
    if name == grip_effect.NAME:
        return mode == JOINT_SLIP
    by_name = {effect.name: effect for effect in EFFECTS}
    return max(by_name[name].multipliers[mode]) > 1


def _mean_and_mean_square(
    effect: Effect, mode: str, looked: Looked, evidence: UnitEvidence
) -> tuple[Floats, Floats]:
    """Return mean and mean square of the multiplier at each unit."""
    mean, square = np.ones(len(looked.state)), np.ones(len(looked.state))
    if max(effect.multipliers[mode]) == 1:
        return mean, square
    multiplier = np.exp(effect.log_multiplier(mode, looked.state[looked.seen]))
    mean[looked.seen], square[looked.seen] = multiplier, multiplier**2
    if_not = effect.mean_and_square_if_faulty(mode)
    mean[looked.cured], square[looked.cured] = (
        CHANCE_THAT_REWORK_SUCCEEDS + (1 - CHANCE_THAT_REWORK_SUCCEEDS) * one for one in if_not
    )
    usual = evidence.prevalence.mean_and_mean_square(effect, mode, evidence.groups[looked.unseen])
    mean[looked.unseen], square[looked.unseen] = usual
    worked_on = evidence.worked_on(effect)
    if worked_on.any():
        after = _if_some_cures_succeed(effect, mode, evidence)
        mean, square = (
            np.where(worked_on, *pair) for pair in zip(after, (mean, square), strict=True)
        )
    return mean, square


def _if_some_cures_succeed(
    effect: Effect, mode: str, evidence: UnitEvidence
) -> tuple[Floats, Floats]:
    """Return mean and mean square of the multiplier over which hypothetical cures succeed.

    Cures of one job succeed together as far as their chances allow: first the likeliest alone, then
    it and the next. Where none does, the unit stays as it would be without them; what is cured is
    good, and what else was seen still counts. So a cure more never makes it worse.
    """
    mean, square = np.zeros(len(evidence.known.units)), np.zeros(len(evidence.known.units))
    for weight, state in evidence.states_as_cures_succeed(effect):
        multiplier = np.exp(effect.log_multiplier(mode, np.nan_to_num(state, nan=effect.states[0])))
        mean, square = mean + weight * multiplier, square + weight * multiplier**2
    none_succeeds = 1 - evidence.chance_that_any_succeeds(effect)
    before = evidence.before
    one, other = _mean_and_mean_square(effect, mode, before.looked(effect), before)
    return mean + none_succeeds * one, square + none_succeeds * other


def _one_effect(effect: Effect, mode: str, evidence: UnitEvidence) -> Parts:
    looked = evidence.looked(effect)
    mean, square = _mean_and_mean_square(effect, mode, looked, evidence)
    how = [looked.seen, looked.cured, looked.unseen]
    basis = np.select(how, [SEEN, REPORTED_CURED, NOT_SEEN], NOT_HERE)
    log_mean = np.log(mean)
    unseen_variance = np.log(square / mean**2)
    variance = unseen_variance + (effect.uncertainty * log_mean) ** 2
    return log_mean, variance, unseen_variance, basis.astype(object), looked.state


def _grip(mode: str, evidence: UnitEvidence) -> Parts:
    log_mean, unseen_variance, of_margin = np.zeros((3, len(evidence.known.units)))
    if mode == JOINT_SLIP:
        grip = grip_effect.grip_multiplier(evidence)
        log_mean = np.log(grip.mean)
        unseen_variance, of_margin = grip.unseen_variance, grip.margin_variance
    variance = unseen_variance + of_margin + (grip_effect.UNCERTAINTY * log_mean) ** 2
    checks = list(grip_effect.CHECKS)
    seen = evidence.known.exceedance[checks].notna().any(axis=1).to_numpy()
    cured = any_reported_cured(evidence.known, grip_effect.CHECKS)
    how = [grip_effect.not_here(evidence), cured, seen]
    basis = np.select(how, [NOT_HERE, REPORTED_CURED, SEEN], NOT_SEEN)
    margin = np.where(evidence.grip.relied_on, evidence.grip.margin, 0.0)
    return log_mean, variance, unseen_variance, basis.astype(object), margin


def _held_arm(mode: str, evidence: UnitEvidence) -> Parts:
    restraint, known = evidence.restraint, evidence.known
    mean, square = held_arm_effect.held_arm_mean_and_square(mode, restraint)
    log_mean = np.log(mean)
    uncertainty = held_arm_effect.UNCERTAINTY
    unseen_variance = np.log(np.maximum(square / mean**2, 1.0))
    variance = unseen_variance + (uncertainty * log_mean) ** 2
    held = restraint.share_held
    cured = any_reported_cured(known, held_arm_effect.CHECKS_OF_WHAT_HOLDS_IT)
    looked = known.exceedance[list(held_arm_effect.CHECKS_OF_WHAT_HOLDS_IT)].notna().all(axis=1)
    seen = np.isin(held, (0, 1)) | looked
    basis = np.select([seen, cured], [SEEN, REPORTED_CURED], NOT_SEEN)
    return log_mean, variance, unseen_variance, basis.astype(object), held


def usual_log_product(mode: str, mounting: str) -> float:
    """Return the logarithm of the product of mean multipliers where nobody has looked.

    A field rate already contains average faults: divided by this product it is the rate of a
    unit without any.

    Examples
    --------
    >>> usual_log_product("seal_leak", "keyed_bore") > 0
    True
    """
    logs = [
        np.log1p(effect.share_with * (effect.usual_mean_and_square(mode)[0] - 1))
        for effect in EFFECTS
        if mounting in effect.mountings
    ]
    return float(np.sum(logs) + np.log(held_arm_effect.usual_mean(mode)))


USUAL_LOG_PRODUCTS = {
    mode: np.array([usual_log_product(mode, mounting) for mounting in EVERY_MOUNTING])
    for mode in MODES
}
