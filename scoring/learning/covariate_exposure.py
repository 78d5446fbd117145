"""The failures and the time on which what was learned of each column rests."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.handbook.multipliers import CHECKS_OF_EFFECT, EFFECT_NAMES, EFFECTS
from scoring.handbook.nameplate_columns import TERMS
from scoring.handbook.worked_out_effects import WORKED_OUT
from scoring.learning.covariates import PARTS, PLAIN_CHECKS, PLAIN_STATES, Covariates, State
from scoring.learning.failure_rows import FailureRows
from scoring.learning.learned import LearnedMode

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

_BY_NAME = {effect.name: effect for effect in EFFECTS}
_SHOWN_BY = CHECKS_OF_EFFECT | {effect.name: effect.shown_by for effect in WORKED_OUT}


@dataclass(frozen=True)
class CovariateExposure:
    """What each coefficient of one failure mode rests on, shape (n_columns,) each.

    Attributes
    ----------
    failures : ndarray
        In rows in which it stood. [-]
    years : ndarray
        Time at risk of these rows. [year]
    expected : ndarray
        Failures expected of these rows, had its coefficient stayed at 0. [-]
    accounts_for : ndarray
        Failures expected of these rows that were not to be expected had the state been good, or
        the nameplate usual; 0 where there is no such thing. [-]
    """

    failures: Floats
    years: Floats
    expected: Floats
    accounts_for: Floats


def plain_checks_of(effect: str) -> tuple[str, ...]:
    """Return the checks, other than symptoms, whose finding tells of an effect.

    Examples
    --------
    >>> plain_checks_of("breather"), plain_checks_of("vibration")
    (('breather',), ())
    """
    return tuple(check for check in _SHOWN_BY[effect] if check in PLAIN_CHECKS)


def stood(columns: Covariates, state: State, column: int) -> Flags:
    """Tell in which rows something stood that a column tells of.

    Parameters
    ----------
    columns : Covariates
        The columns.
    state : State
        What may explain failures of the rows.
    column : int
        Which column.

    Returns
    -------
    ndarray of bool, shape (n_rows,)
        An effect: a finding of one of its checks stood, on a mounting that has it. A symptom: it
        was seen, and worse than what it is taken to be where nobody looked. A plain finding: it
        stood. A number on the nameplate: it is above the usual; a word: it is there. A site: the
        unit is there. Own failures: the unit had failed more often than expected. Early life, old
        age: the part was in it. The level: always.
    """
    part, name = PARTS[columns.part_of_column[column]], columns.names[column]
    if part == "effects":
        return _effect_stood(columns.mode, name, state)
    if part == "findings":
        names = [one.name for one in PLAIN_STATES]
        return np.asarray(state.states_bad[:, names.index(name)] == 1)
    if part == "nameplate":
        return np.asarray(state.nameplates[state.unit, columns.nameplate.index(name)] > 0)
    if part == "site":
        return np.asarray(state.site == state.sites.index(name))
    whether = {"own failures": state.own, "early life": state.early, "old age": state.old}
    return np.asarray(whether.get(part, np.ones(len(state))) > 0)


def _effect_stood(mode: str, name: str, state: State) -> Flags:
    logs = state.log_multipliers[:, EFFECT_NAMES.index(name)]
    checks = [PLAIN_CHECKS.index(check) for check in plain_checks_of(name)]
    if checks:
        return np.asarray((state.bad[:, checks] == 1).any(axis=1) & (logs > 0))
    not_seen = np.float32(np.log(_BY_NAME[name].usual_mean_and_square(mode)[0]))
    return np.asarray(logs > not_seen + np.float32(1e-6))


def covariate_exposure(rows: FailureRows, learned: LearnedMode) -> CovariateExposure:
    """Sum up what each coefficient rests on.

    Parameters
    ----------
    rows : FailureRows
        What was learned from, all of it.
    learned : LearnedMode
        What was learned of one failure.

    Returns
    -------
    CovariateExposure
    """
    columns, coefficients = learned.columns, learned.posterior.coefficients
    of_mode = rows.modes[columns.mode]
    state = of_mode.state_by(rows.place, -1)
    design = columns.design(state)
    expected = of_mode.expected * np.exp(learned.posterior.log_ratio(design))
    events = of_mode.events[:, -1] * (of_mode.expected > 0)
    terms = TERMS[columns.mode]
    handbook = dict(zip(terms.names, terms.handbook.tolist(), strict=True))
    sums = np.zeros((len(coefficients), 4))
    for column, coefficient in enumerate(coefficients):
        here = np.flatnonzero(stood(columns, state, column))
        part, value = PARTS[columns.part_of_column[column]], design[here, column]
        log_state = np.zeros(len(here))
        if part == "effects":
            log_state = (1 + coefficient) * value
        elif part == "findings":
            log_state += coefficient
        elif part == "nameplate":
            log_state = (coefficient + handbook[columns.names[column]]) * value
        sums[column] = (
            events[here].sum(),
            of_mode.years[here].sum(),
            (expected[here] * np.exp(-coefficient * value)).sum(),
            (expected[here] * -np.expm1(-log_state)).sum(),
        )
    return CovariateExposure(*sums.T)
