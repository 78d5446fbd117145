"""What each covariate stands for, in words and in the handbook."""

from dataclasses import dataclass

import numpy as np

from scoring.contract import CHECK_BY_NAME
from scoring.handbook.base_rates import BASE_RATES
from scoring.handbook.multipliers import EFFECTS
from scoring.handbook.nameplate_columns import TERMS
from scoring.handbook.worked_out_effects import WORKED_OUT
from scoring.learning.covariates import (
    EARLY_LIFE_YEARS,
    OLD_AGE_YEARS,
    PARTS,
    Covariates,
)
from scoring.records import DAYS_PER_YEAR

_BY_NAME = {effect.name: effect for effect in EFFECTS}
_WORKED_OUT = {effect.name: effect for effect in WORKED_OUT}

NO_WORD = "no word of the handbook; how far it may move was chosen on generated fleets"
"""Where what the handbook does not know comes from."""


@dataclass(frozen=True)
class CovariateMeaning:
    """What a column stands for.

    Attributes
    ----------
    part : str
        One of ``PARTS``.
    name : str
        The effect, the check, what of the nameplate, the site; or the part itself.
    label : str
        What a person calls it.
    state : str
        The state of which its multiplier is given.
    log_multiplier : float
        Logarithm of what that state multiplies the hazard by, in the handbook. [-]
    slope : float
        By how much that logarithm rises with the column's coefficient. [-]
    only_worse : bool
        Whether it can only raise a risk.
    origin : str
        Where the handbook has it from.
    """

    part: str
    name: str
    label: str
    state: str
    log_multiplier: float
    slope: float
    only_worse: bool
    origin: str


def covariate_meanings(columns: Covariates) -> list[CovariateMeaning]:
    """Say what each column of one failure mode stands for, in their order.

    Parameters
    ----------
    columns : Covariates
        The columns.

    Returns
    -------
    list of StandsFor
        The state of an effect is its worst.
    """
    return [
        _OF_PART[PARTS[part]](columns.mode, name)
        for part, name in zip(columns.part_of_column, columns.names, strict=True)
    ]


def _effect(mode: str, name: str) -> CovariateMeaning:
    if name in _WORKED_OUT:
        worked_out = _WORKED_OUT[name]
        log, state = worked_out.worst(mode)
        label, origin = worked_out.label, worked_out.origin[mode]
    else:
        effect = _BY_NAME[name]
        log, label = float(np.log(effect.multipliers[mode][-1])), effect.label
        state, origin = effect.state_words(effect.states[-1]), effect.origin
        if sum(one.label == label for one in EFFECTS) > 1:
            label = name.replace("_", " ")
    return CovariateMeaning("effects", name, label, state, log, log, only_worse=True, origin=origin)


def _finding(mode: str, name: str) -> CovariateMeaning:
    del mode
    label = _WORKED_OUT[name].label if name in _WORKED_OUT else CHECK_BY_NAME[name].label
    return CovariateMeaning(
        "findings", name, label, "found bad", 0.0, 1.0, only_worse=True, origin=NO_WORD
    )


def _nameplate(mode: str, name: str) -> CovariateMeaning:
    terms = TERMS[mode]
    log = float(terms.handbook[terms.names.index(name)])
    for one in terms.numbers:
        if one.name == name:
            return CovariateMeaning(
                "nameplate",
                name,
                one.label,
                one.state,
                log * one.slope,
                one.slope,
                only_worse=one.never_helps,
                origin=one.powers[mode].origin,
            )
    of_word, word = next(
        (one, word) for one in terms.words for word in one.shares if f"{one.name}: {word}" == name
    )
    return CovariateMeaning(
        "nameplate", name, of_word.label, word.replace("_", " "), log, 1.0,
        only_worse=False, origin=of_word.origin,
    )  # fmt: skip


def _site(mode: str, name: str) -> CovariateMeaning:
    del mode
    return CovariateMeaning("site", name, name, "", 0.0, 1.0, only_worse=False, origin=NO_WORD)


def _own(mode: str, name: str) -> CovariateMeaning:
    del mode
    label, state = "a unit's own failures", "twice as many as expected so far"
    slope = float(np.log(2))
    return CovariateMeaning(name, name, label, state, 0.0, slope, only_worse=True, origin=NO_WORD)


def _early(mode: str, name: str) -> CovariateMeaning:
    del mode
    state = f"the first {EARLY_LIFE_YEARS * DAYS_PER_YEAR:.0f} days of a part"
    return CovariateMeaning(name, name, name, state, 0.0, 1.0, only_worse=False, origin=NO_WORD)


def _old(mode: str, name: str) -> CovariateMeaning:
    del mode
    state = f"a part of more than {OLD_AGE_YEARS:.0f} years"
    return CovariateMeaning(name, name, name, state, 0.0, 1.0, only_worse=False, origin=NO_WORD)


def _level(mode: str, name: str) -> CovariateMeaning:
    origin = BASE_RATES[mode].origin
    return CovariateMeaning(name, name, "all units", "", 0.0, 1.0, only_worse=False, origin=origin)


_OF_PART = {
    "effects": _effect,
    "findings": _finding,
    "nameplate": _nameplate,
    "site": _site,
    "own failures": _own,
    "early life": _early,
    "old age": _old,
    "level": _level,
}
