"""Every effect at every unit: by what it multiplies each hazard, and how sure that is."""

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.usual_states import CHANCE_THAT_REWORK_SUCCEEDS
from scoring.contract.events import JOINT_SLIP, MODES
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.handbook.condition import Condition
from scoring.handbook.effect import Effect, refuse_two_of_one_check
from scoring.handbook.effects_of_symptoms import EFFECTS_OF_SYMPTOMS
from scoring.handbook.effects_of_the_arm import EFFECTS_OF_THE_ARM, EFFECTS_OF_THE_HOUSING
from scoring.handbook.effects_of_the_joint import EFFECTS_OF_THE_JOINT
from scoring.handbook.grip_effect import mean_slips_since_hung
from scoring.handbook.unit_evidence import Looked, UnitEvidence
from scoring.handbook.what_lowers_grip import GRIP_FAULTS
from scoring.handbook.worked_out_effect import (
    HOW_KNOWN,
    NOT_HERE,
    NOT_SEEN,
    REPORTED_CURED,
    SEEN,
    WorkedOutEffect,
    how_known_of,
)
from scoring.handbook.worked_out_effects import GRIP, WORKED_OUT
from scoring.records import DAYS_PER_YEAR

Floats = NDArray[np.float64]
Codes = NDArray[np.int8]
Parts = tuple[Floats, Floats, Floats, Codes, Floats]

EFFECTS: tuple[Effect, ...] = (
    *EFFECTS_OF_THE_JOINT,
    *EFFECTS_OF_THE_ARM,
    *EFFECTS_OF_THE_HOUSING,
    *EFFECTS_OF_SYMPTOMS,
)
"""Those that a table of states tells."""

CONDITIONS: tuple[Condition, ...] = (*EFFECTS, *GRIP_FAULTS)
"""All of which the handbook says how usual each state is, but what holds the arm."""

refuse_two_of_one_check(CONDITIONS)


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
    how_known : DataFrame of int, shape (n_units, n_effects)
        How the state is known, as a place in ``HOW_KNOWN``.
    states : DataFrame, shape (n_units, n_effects)
        The state, missing unless seen.
    """

    log_mean: pd.DataFrame
    log_variance: pd.DataFrame
    unseen_variance: pd.DataFrame
    how_known: pd.DataFrame
    states: pd.DataFrame

    @cached_property
    def basis(self) -> pd.DataFrame:
        """How the state is known in words, shape (n_units, n_effects); few ever ask for them."""
        words = np.array(HOW_KNOWN, dtype=object)
        return pd.DataFrame(
            {name: words[codes.to_numpy()] for name, codes in self.how_known.items()}
        )


@dataclass(frozen=True)
class OverTime:
    """Rows in which units are as they are known for some time, while they age.

    Attributes
    ----------
    unit : ndarray of int, shape (n_rows,)
        The unit of each row.
    joint_age_days : ndarray, shape (n_rows,)
        For how long its joint has been in service since it was hung. [d]
    """

    unit: NDArray[np.int64]
    joint_age_days: Floats


@dataclass(frozen=True)
class Symptoms:
    """What was seen of symptoms in rows, where it is told apart from all else.

    Attributes
    ----------
    evidence : UnitEvidence
        Units as they are known for some time; of checks it needs the symptoms alone.
    unit : ndarray of int, shape (n_rows,)
        The unit of each row.
    """

    evidence: UnitEvidence
    unit: NDArray[np.int64]


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
    size = len(evidence.known.units), len(EFFECT_NAMES)
    tables: list[NDArray[Any]] = [np.empty(size[::-1]).T for _ in range(5)]  # effect by effect
    tables[3] = np.empty(size[::-1], dtype=np.int8).T
    parts = [_one_effect(effect, mode, evidence) for effect in EFFECTS]
    parts += [_worked_out(one, mode, evidence) for one in WORKED_OUT]
    for place, of_effect in enumerate(parts):
        for table, column in zip(tables, of_effect, strict=True):
            table[:, place] = column
    return Multipliers(
        *(pd.DataFrame(table, columns=list(EFFECT_NAMES), copy=False) for table in tables)
    )


def log_mean_multipliers(
    evidence: UnitEvidence, over_time: OverTime | None = None, symptoms: Symptoms | None = None
) -> dict[str, Floats]:
    """Return the logarithm of the mean multiplier of every effect, and nothing else.

    Parameters
    ----------
    evidence : UnitEvidence
        What was known, limits, how the torque arm is held, how usual faults are.
    over_time : OverTime, optional
        Rows in which the units are as they are for some time; by default one for each, at the age
        that its joint is known to have.
    symptoms : Symptoms, optional
        What was seen of symptoms in these rows; by default it is part of the evidence.

    Returns
    -------
    dict of str to ndarray, shape (n_rows, n_effects)
        For each failure, as ``Multipliers.log_mean``: quick, for many rows of the past. [-]
    """
    if over_time is None:
        age = evidence.known.history["joint_age_days"].to_numpy(dtype=np.float64)
        over_time = OverTime(np.arange(len(age)), age)
    unit, years = over_time.unit, over_time.joint_age_days / DAYS_PER_YEAR
    told = symptoms or Symptoms(evidence, unit)
    table: dict[str, Floats] = {  # effect by effect
        mode: np.zeros((len(EFFECT_NAMES), len(unit))).T for mode in MODES
    }
    for place, effect in enumerate(EFFECTS):
        found = told if effect in EFFECTS_OF_SYMPTOMS else Symptoms(evidence, unit)
        looked = found.evidence.looked(effect)
        for mode in MODES:
            if has_multiplier(effect.name, mode):
                mean, _ = _mean_and_mean_square(effect, mode, looked, found.evidence)
                table[mode][:, place] = np.log(mean)[found.unit]
    for place, worked_out in enumerate(WORKED_OUT, start=len(EFFECTS)):
        for mode in worked_out.uncertainty:
            if worked_out is GRIP and mode == JOINT_SLIP:  # the one that age moves besides
                table[mode][:, place] = np.log(mean_slips_since_hung(evidence, unit, years))
            else:
                mean = worked_out.mean(mode, evidence)
                table[mode][:, place] = np.log(mean)[unit]
    return table


CHECKS_OF_EFFECT: dict[str, tuple[str, ...]] = {
    **{effect.name: effect.checks for effect in EFFECTS},
    **{effect.name: effect.checks for effect in WORKED_OUT},
}
"""The checks that each effect rests on."""

EFFECT_NAMES = tuple(CHECKS_OF_EFFECT)
"""Columns of all tables of multipliers."""

UNCERTAINTIES: dict[str, Floats] = {
    mode: np.array(
        [
            *(effect.uncertainty for effect in EFFECTS),
            *(effect.uncertainty.get(mode, 0.0) for effect in WORKED_OUT),
        ]
    )
    for mode in MODES
}
"""For each failure, deviation of the logarithm of each multiplier over that logarithm. [-]"""


def has_multiplier(name: str, mode: str) -> bool:
    """Tell whether an effect multiplies the hazard of a failure at all.

    Examples
    --------
    >>> has_multiplier("held_arm", "seal_leak")
    True
    """
    for worked_out in WORKED_OUT:
        if worked_out.name == name:
            return mode in worked_out.uncertainty
    by_name = {effect.name: effect for effect in EFFECTS}
    return max(by_name[name].multipliers[mode]) > 1


def _mean_and_mean_square(
    effect: Effect, mode: str, looked: Looked, evidence: UnitEvidence
) -> tuple[Floats, Floats]:
    """Return mean and mean square of the multiplier at each unit."""
    mean, square = np.ones(len(looked.state)), np.ones(len(looked.state))
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
    none_succeeds = 1 - evidence.chance_that_any_succeeds(effect.checks)
    before = evidence.before
    one, other = _mean_and_mean_square(effect, mode, before.looked(effect), before)
    return mean + none_succeeds * one, square + none_succeeds * other


def _one_effect(effect: Effect, mode: str, evidence: UnitEvidence) -> Parts:
    looked = evidence.looked(effect)
    how = how_known_of({SEEN: looked.seen, REPORTED_CURED: looked.cured, NOT_SEEN: looked.unseen})
    if max(effect.multipliers[mode]) == 1:
        none = np.zeros(len(how))
        return none, none, none, how, looked.state
    mean, square = _mean_and_mean_square(effect, mode, looked, evidence)
    log_mean = np.log(mean)
    unseen_variance = np.log(square / mean**2)
    variance = unseen_variance + (effect.uncertainty * log_mean) ** 2
    return log_mean, variance, unseen_variance, how, looked.state


def _worked_out(effect: WorkedOutEffect, mode: str, evidence: UnitEvidence) -> Parts:
    size = len(evidence.known.units)
    if mode not in effect.uncertainty:
        none = np.zeros(size)
        return none, none, none, how_known_of({NOT_HERE: none == 0}), np.full(size, np.nan)
    multiplier = effect.multiplier(mode, evidence)
    log_mean = np.log(multiplier.mean)
    unsure = (effect.uncertainty[mode] * log_mean) ** 2
    variance = multiplier.unseen_variance + multiplier.known_badly + unsure
    return log_mean, variance, multiplier.unseen_variance, *effect.how_known(mode, evidence)


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
    logs += [
        np.log(effect.usual_mean(mode, mounting))
        for effect in WORKED_OUT
        if mode in effect.uncertainty
    ]
    return float(np.sum(logs))


USUAL_LOG_PRODUCTS = {
    mode: np.array([usual_log_product(mode, mounting) for mounting in EVERY_MOUNTING])
    for mode in MODES
}
