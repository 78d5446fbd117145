"""One short word for the handbook and the contract that a correction was learned beside."""

import json
from dataclasses import asdict
from hashlib import sha256

import numpy as np

from scoring.consequences.bearing_loads import LOAD_DAMPING, SLOPE
from scoring.consequences.states_of_the_arm import STATES_OF_THE_ARM, ArmState
from scoring.consequences.usual_states import (
    CHANCE_OF_A_CLAMP_MISSED,
    CHANCE_THAT_REWORK_SUCCEEDS,
)
from scoring.contract import FLEET_TABLES, Check, Column
from scoring.handbook import grip_effect, held_arm_effect
from scoring.handbook.base_rates import BASE_RATES
from scoring.handbook.condition import Condition
from scoring.handbook.effect import Effect
from scoring.handbook.grip_loss import HOLDS_NOTHING
from scoring.handbook.multipliers import EFFECT_NAMES, EFFECTS
from scoring.handbook.nameplate_columns import TERMS, NameplateTerms
from scoring.handbook.nameplate_effects import (
    POWER_OF_LOADS,
    POWER_OF_RATING,
    RATING_AT_80_MM,
    ROLLER_OVER_BALL,
    SHARE_OF_THE_MOTOR,
    SPREAD_OF_KINDS,
    SPREAD_OF_MOTORS,
    SPREAD_OF_RATINGS,
    SPREAD_OF_TORQUES,
)
from scoring.handbook.shares_of_losses import LOSSES
from scoring.handbook.slip_hazard import (
    LEAST,
    MARGIN_AS_SPECIFIED,
    MOST,
    POWER,
    SPREAD_OF_MARGINS,
    USUAL_YEARS,
)
from scoring.handbook.what_lowers_grip import GRIP_FAULTS, GripFault
from scoring.learning.covariates import (
    EARLY_LIFE_YEARS,
    EARLY_SCALE,
    FINDING_SCALE,
    LEVEL_ALONE,
    MOST_OF_A_FINDING,
    OLD_AGE_YEARS,
    OLD_SCALE,
    OWN_SCALE,
    PARTS,
    PLAIN_STATES,
    SITE_SCALE,
)
from scoring.learning.own_failures import FAILURES_OF_THE_HANDBOOK
from scoring.limits import assumptions


def handbook_fingerprint() -> str:
    """Return a fingerprint of everything that gives a learned coefficient its meaning.

    Returns
    -------
    str
        SHA-256, as 64 hexadecimal digits, of one JSON text: columns of every table (name, kind,
        unit, words) and what makes a check bad; assumed limits; effects (states, shares,
        multipliers, uncertainty), the numbers of a held arm, a grip and a nameplate, base rates;
        the columns by which failures are explained and their prior deviations. Labels, meanings and
        origins are left out: they may be said better without anything having to be learned anew.

    Examples
    --------
    >>> len(handbook_fingerprint()), handbook_fingerprint() == handbook_fingerprint()
    (64, True)
    """
    content = {
        "columns": [[table.name, *map(_column, table.columns)] for table in FLEET_TABLES],
        "limits": {name: one.value for name, one in sorted(vars(assumptions).items())
                   if isinstance(one, assumptions.Assumed)},
        "effect names": EFFECT_NAMES,
        "effects": [_effect(effect) for effect in EFFECTS],
        "held arm": {name: value for name, value in sorted(vars(held_arm_effect).items())
                     if name.isupper() and _is_numbers(value)},
        "grip": [*map(_grip_fault, GRIP_FAULTS), grip_effect.MOST, grip_effect.RATIO_OF_MOST,
                 grip_effect.UNCERTAINTY, list(LOSSES[:-1]), HOLDS_NOTHING],
        "arm": [*map(_of_the_arm, STATES_OF_THE_ARM), LOAD_DAMPING, SLOPE],
        "slips": [
            POWER, MOST, LEAST, MARGIN_AS_SPECIFIED, SPREAD_OF_MARGINS, USUAL_YEARS,
            LEVEL_ALONE,
        ],
        "usual": [CHANCE_THAT_REWORK_SUCCEEDS, CHANCE_OF_A_CLAMP_MISSED],
        "base rates": {mode: {**asdict(rate), "origin": ""} for mode, rate in BASE_RATES.items()},
        "nameplate": {mode: _of_the_nameplate(terms) for mode, terms in TERMS.items()},
        "ratings": [
            RATING_AT_80_MM, POWER_OF_RATING, POWER_OF_LOADS, ROLLER_OVER_BALL, SHARE_OF_THE_MOTOR,
            SPREAD_OF_KINDS, SPREAD_OF_RATINGS, SPREAD_OF_TORQUES, SPREAD_OF_MOTORS,
        ],
        "plain states": [[state.name, state.checks] for state in PLAIN_STATES],
        "parts": PARTS,
        "scales": [FINDING_SCALE, MOST_OF_A_FINDING, SITE_SCALE, OWN_SCALE, EARLY_SCALE, OLD_SCALE],
        "ages": [EARLY_LIFE_YEARS, OLD_AGE_YEARS],
        "own failures": FAILURES_OF_THE_HANDBOOK,
    }  # fmt: skip
    return sha256(json.dumps(content, sort_keys=True, allow_nan=False).encode()).hexdigest()


def _column(column: Column) -> list[object]:
    declared: list[object] = [column.name, column.kind, column.unit, column.allowed]
    if isinstance(column, Check):
        declared += [column.worse.name, column.seen, column.mountings, column.symptom]
        declared += [column.only_where, column.damage_from]
    return declared


def _is_numbers(value: object) -> bool:
    parts = value if isinstance(value, tuple) else (value,)
    return all(isinstance(part, int | float) for part in parts)


def _of_the_arm(state: ArmState) -> list[object]:
    spread = state.spread
    return [state.name, state.check, spread.points, spread.shares, state.metal]


def _effect(effect: Effect) -> list[object]:
    return [*_condition(effect), effect.multipliers, effect.uncertainty]


def _of_the_nameplate(terms: NameplateTerms) -> list[object]:
    numbers = [[one.name, one.usual, one.spread, one.logarithmic] for one in terms.numbers]
    shares = [[one.name, one.shares] for one in terms.words]
    coefficients = [terms.handbook, terms.deviation, np.nan_to_num(terms.floor)]
    return [numbers, shares, *(one.tolist() for one in coefficients)]


def _grip_fault(fault: GripFault) -> list[object]:
    return [*_condition(fault), fault.factor, fault.ratios, fault.worked_out, fault.besides]


def _condition(what: Condition) -> list[object]:
    return [
        what.name,
        what.checks,
        what.unit,
        what.states,
        what.usual,
        what.mountings,
        what.share_with,
    ]
