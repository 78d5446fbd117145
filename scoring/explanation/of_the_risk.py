"""Numbers of hazards, probabilities and loss, and the effects that make them."""

import numpy as np
import pandas as pd

from scoring.consequences.interval import Z90
from scoring.contract.events import LOW_SPEED_BEARING
from scoring.explanation.one_unit import OneUnit
from scoring.explanation.traced_number import Input, TracedNumber
from scoring.handbook import held_arm_effect
from scoring.handbook.base_rates import BASE_RATES
from scoring.handbook.effect import MODES
from scoring.handbook.handbook_hazard import log_shape
from scoring.handbook.multipliers import EFFECTS, NOT_HERE
from scoring.limits.assumptions import PLANNING_VALUE
from scoring.records import DAYS_PER_YEAR

WORDS_OF_MODE = {
    LOW_SPEED_BEARING: "low-speed-bearing failure",
    "seal_leak": "seal leak",
}

_BY_NAME = {effect.name: effect for effect in EFFECTS}
_LABELS = {effect.name: effect.label for effect in EFFECTS} | {
    held_arm_effect.NAME: held_arm_effect.LABEL
}
_ORIGINS = {effect.name: effect.origin for effect in EFFECTS} | {
    held_arm_effect.NAME: held_arm_effect.ORIGIN
}


def numbers_of_the_risk(unit: OneUnit) -> list[TracedNumber]:
    """Return how each probability comes about, and the expected loss."""
    numbers = [number for mode in MODES for number in _numbers_of_mode(unit, mode)]
    parts = []
    for mode in MODES:
        cost = unit.at(unit.risk.costs.of_failure(mode))
        parts.append(Input(f"chance of a {WORDS_OF_MODE[mode]}", _chance(unit, mode)))
        parts.append(Input("its cost", cost, unit.risk.costs.currency))
    numbers.append(
        TracedNumber(
            "expected loss",
            "expected loss within the horizon",
            unit.at(unit.risk.expected_loss),
            unit.risk.costs.currency,
            "sum of chance x (repair + hours x cost of standstill)",
            tuple(parts),
            "costs of the unit's record; blank ones as listed under assumed",
        )
    )
    return numbers


def _chance(unit: OneUnit, mode: str) -> float:
    return unit.at(unit.risk.modes[mode].probability)


def _numbers_of_mode(unit: OneUnit, mode: str) -> list[TracedNumber]:
    one, rate = unit.risk.modes[mode], BASE_RATES[mode]
    topic = f"chance of a {WORDS_OF_MODE[mode]}"
    row = unit.known.units.iloc[[unit.place]]
    shape = float(np.exp(log_shape(rate, row)[0]))
    base = float(np.exp(unit.at(one.log_base)))
    product = float(np.exp(one.multipliers.log_mean.iloc[unit.place].sum()))
    age = unit.known.history[
        "bearing_age_days" if mode == LOW_SPEED_BEARING else "seal_age_days"
    ].iloc[unit.place]
    spread, exposure = unit.at(one.log_spread), unit.at(one.age_exposure)
    return [
        TracedNumber(
            topic,
            "rate of such a unit without faults",
            base,
            "1/year",
            "field rate x nameplate / product of usual multipliers",
            (
                Input("field rate", rate.field_rate, "1/year", assumed=True),
                Input("what duty, speed, size and surroundings make of it", shape),
                Input("product of usual multipliers", rate.field_rate * shape / base),
            ),
            rate.origin,
        ),
        TracedNumber(
            topic,
            "product of the multipliers of what was found",
            product,
            "",
            "product over effects, see their table",
            (),
            PLANNING_VALUE,
        ),
        TracedNumber(
            topic,
            "expected failures within the horizon",
            unit.at(one.expected),
            "",
            "rate x multipliers x integral of (age / usual age)^(slope - 1)",
            (
                Input("rate without faults", base, "1/year"),
                Input("multipliers", product),
                Input("age of the part", float(age) / DAYS_PER_YEAR, "year"),
                Input("horizon", float(unit.horizon_days), "d"),
                Input("integral over age", exposure, "year"),
            ),
            "our own calculation; slope: " + rate.origin,
        ),
        TracedNumber(
            topic,
            topic,
            _chance(unit, mode),
            "",
            "1 - exp(-expected failures)",
            (
                Input("expected failures", unit.at(one.expected)),
                Input("90 % interval from", unit.at(one.low)),
                Input("to", unit.at(one.high)),
                Input("log standard deviation", spread),
                Input("standard deviations each way", Z90),
            ),
            "lognormal hazard: base rate, handbook and what was not seen",
        ),
    ]


def effects_of_unit(unit: OneUnit) -> pd.DataFrame:
    """Return what drives each risk, effect by effect.

    Returns
    -------
    DataFrame
        ``failure_mode``, ``effect``, ``label``, ``state`` in words, ``basis``, ``multiplier``
        with its 90 % interval ``low`` and ``high``, ``against_usual`` (over the mean where
        nobody has looked) and ``origin``; the strongest first.
    """
    rows = [_effects_of_mode(unit, mode) for mode in MODES]
    return pd.concat(rows, ignore_index=True)


def _effects_of_mode(unit: OneUnit, mode: str) -> pd.DataFrame:
    effects = unit.risk.modes[mode].multipliers
    basis = effects.basis.iloc[unit.place]
    names = [name for name in effects.log_mean.columns if basis[name] != NOT_HERE]
    mean = effects.log_mean.iloc[unit.place][names].to_numpy(dtype=np.float64)
    spread = np.sqrt(effects.log_variance.iloc[unit.place][names].to_numpy(dtype=np.float64))
    usual = np.array([_usual(name, mode) for name in names])
    states = effects.states.iloc[unit.place][names].to_numpy(dtype=np.float64)
    table = pd.DataFrame(
        {
            "failure_mode": mode,
            "effect": names,
            "label": [_LABELS[name] for name in names],
            "state": [_state_words(n, s) for n, s in zip(names, states, strict=True)],
            "basis": basis[names].to_numpy(dtype=object),
            "multiplier": np.exp(mean),
            "low": np.exp(mean - Z90 * spread),
            "high": np.exp(mean + Z90 * spread),
            "against_usual": np.exp(mean) / usual,
            "origin": [_ORIGINS[name] for name in names],
        }
    )
    return table.sort_values("multiplier", ascending=False, kind="stable", ignore_index=True)


def _state_words(name: str, state: float) -> str:
    if np.isnan(state):
        return ""
    if name == held_arm_effect.NAME:
        return f"held with a chance of {state:.0%}"
    return _BY_NAME[name].state_words(state)


def _usual(name: str, mode: str) -> float:
    if name == held_arm_effect.NAME:
        return held_arm_effect.usual_mean(mode)
    return _BY_NAME[name].usual_moments(mode)[0]
