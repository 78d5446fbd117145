"""What drives the risk of one unit, effect by effect: by the handbook, and after learning."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.interval import Z90
from scoring.contract.events import JOINT_SLIP, MODES
from scoring.explanation.assessed_unit import AssessedUnit
from scoring.explanation.where_nobody_looked import where_nobody_looked
from scoring.handbook import grip_effect
from scoring.handbook.multipliers import (
    EFFECT_NAMES,
    EFFECTS,
    UNCERTAINTIES,
    has_multiplier,
)
from scoring.handbook.worked_out_effect import NOT_HERE, NOT_SEEN, SEEN_IN_PART
from scoring.handbook.worked_out_effects import WORKED_OUT
from scoring.learning.learned import LearnedMode
from scoring.learning.what_was_learned import deviations

Floats = NDArray[np.float64]

_BY_NAME = {effect.name: effect for effect in EFFECTS}
_WORKED_OUT = {effect.name: effect for effect in WORKED_OUT}
LABELS_OF_EFFECTS = {effect.name: effect.label for effect in EFFECTS} | {
    effect.name: effect.label for effect in WORKED_OUT
}


def effects_of_unit(unit: AssessedUnit) -> pd.DataFrame:
    """Return what drives each risk, effect by effect.

    Parameters
    ----------
    unit : AssessedUnit
        The unit.

    Returns
    -------
    DataFrame
        ``failure_mode``, ``effect``, ``label``, ``state`` in words, ``basis``; ``multiplier``, the
        one that is used, with its 90 % interval ``low`` to ``high`` [-]; ``handbook``,
        ``handbook_low``, ``handbook_high``, the same before the fleet's own failures were learned
        from; ``against_usual``, the one used over what it is where nobody has looked at such a
        mounting of such a crew [-]; for what was not seen ``faulty``, the chance of a fault that it
        counts with, and ``faulty_by_handbook``, that of the handbook [-], else missing; ``origin``
        of the handbook's number. The strongest first.

    Notes
    -----
    An interval joins how unsure the one coefficient is with what was not seen, and of a grip how
    unsure its margin is; no state multiplies
    by less than 1, and no interval reaches below, but that of a grip: a good one slips less than
    usual ones do.
    """
    return pd.concat([_effects_of_mode(unit, mode) for mode in MODES], ignore_index=True)


def coefficients_of_effects(mode: str, learned: LearnedMode | None) -> tuple[Floats, Floats]:
    """Return by how much each logarithm of a multiplier is changed, and how unsure that is.

    Parameters
    ----------
    mode : str
        The failure.
    learned : LearnedMode, optional
        What the fleet's own failures say; without it the handbook stands, as unsure as it is.

    Returns
    -------
    tuple of ndarray, shape (n_effects,)
        Coefficient and standard deviation, as shares of the logarithm, in the order of
        ``EFFECT_NAMES``. [-]
    """
    value, deviation = np.zeros(len(EFFECT_NAMES)), UNCERTAINTIES[mode].copy()
    if learned is not None:
        effects = learned.columns.effects
        value[effects] = learned.posterior.coefficients[: len(effects)]
        deviation[effects] = deviations(learned.posterior)[: len(effects)]
    return value, deviation


def _effects_of_mode(unit: AssessedUnit, mode: str) -> pd.DataFrame:
    effects = unit.risk.modes[mode].multipliers
    basis = effects.basis.iloc[unit.place].to_numpy(dtype=object)
    multiplies = np.array([has_multiplier(name, mode) for name in EFFECT_NAMES])
    here = np.flatnonzero((basis != NOT_HERE) & multiplies)
    names = [EFFECT_NAMES[place] for place in here]
    mean, unseen, variance, states = (
        table.iloc[unit.place].to_numpy(dtype=np.float64)[here]
        for table in (
            effects.log_mean,
            effects.unseen_variance,
            effects.log_variance,
            effects.states,
        )
    )
    # what else is unsure of it, as the margin is of a grip
    besides = np.maximum(variance - unseen - (UNCERTAINTIES[mode][here] * mean) ** 2, 0.0)
    learned, _ = unit.learned.get(mode, (None, None))
    coefficient, deviation = (values[here] for values in coefficients_of_effects(mode, learned))
    usual = where_nobody_looked(unit, mode).loc[names]
    not_seen = np.isin(basis[here], (NOT_SEEN, SEEN_IN_PART))
    against_usual = (np.array(names) == grip_effect.NAME) & (mode == JOINT_SLIP)
    least = np.where(against_usual, -np.inf, 0.0)
    columns: dict[str, object] = {
        "failure_mode": mode,
        "effect": names,
        "label": [LABELS_OF_EFFECTS[name] for name in names],
        "state": [_state_words(mode, n, s) for n, s in zip(names, states, strict=True)],
        "basis": basis[here],
    }
    for ends, log_multiplier, unsure in (
        (("multiplier", "low", "high"), (1 + coefficient) * mean, deviation * mean),
        (
            ("handbook", "handbook_low", "handbook_high"),
            mean,
            UNCERTAINTIES[mode][here] * mean,
        ),
    ):
        half = Z90 * np.sqrt(unseen + besides + unsure**2)
        limits = (log_multiplier, np.maximum(log_multiplier - half, least), log_multiplier + half)
        columns |= {name: np.exp(logs) for name, logs in zip(ends, limits, strict=True)}
    log_usual = np.log(usual["usual"].to_numpy())
    columns["against_usual"] = np.exp((1 + coefficient) * (mean - log_usual))
    for column in ("faulty", "faulty_by_handbook"):
        columns[column] = np.where(not_seen, usual[column], np.nan)
    columns["origin"] = [
        _WORKED_OUT[name].origin[mode] if name in _WORKED_OUT else _BY_NAME[name].origin
        for name in names
    ]
    table = pd.DataFrame(columns)
    return table.sort_values("multiplier", ascending=False, kind="stable", ignore_index=True)


def _state_words(mode: str, name: str, state: float) -> str:
    if np.isnan(state):
        return ""
    if name in _WORKED_OUT:
        return _WORKED_OUT[name].state_words(mode, state)
    return _BY_NAME[name].state_words(state)
