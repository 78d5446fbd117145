"""What the nameplate of a unit makes of a rate, number by number and word by word."""

import numpy as np
import pandas as pd

from scoring.contract import UNITS
from scoring.explanation.assessed_unit import AssessedUnit
from scoring.explanation.traced_number import Input, TracedNumber
from scoring.handbook.nameplate_columns import NameplateColumns, nameplate_columns
from scoring.handbook.nameplate_effects import LOAD
from scoring.learning.covariate_meanings import covariate_meanings
from scoring.learning.learned import LearnedMode

WHAT_THE_NAMEPLATE_MAKES_OF_IT = "what the nameplate makes of the rate"


def plate_of(unit: AssessedUnit, mode: str) -> NameplateColumns:
    """Return the nameplate of the one unit, as it shapes a failure."""
    return nameplate_columns(mode, unit.known.units.iloc[[unit.place]])


def number_of_the_nameplate(unit: AssessedUnit, mode: str, topic: str) -> TracedNumber:
    """Return what the nameplate makes of the rate of a failure by the handbook.

    Parameters
    ----------
    unit : AssessedUnit
        The unit.
    mode : str
        The failure.
    topic : str
        Under which heading it is shown.

    Returns
    -------
    TracedNumber
    """
    plate = plate_of(unit, mode)
    inputs, origins = [], []
    of_each = np.exp(plate.by_column[0]).tolist()
    for place, one in enumerate(plate.terms.numbers):
        power = one.powers[mode]
        said = _number_given(unit, one.name, float(plate.over_usual[0, place]))
        words = f"{one.label}, {said}, to the power {power.value:g} ± {power.deviation:g}"
        if not one.logarithmic:
            words = f"{one.label}, {said}, {np.exp(power.value):.3g} for each 10 {one.unit}"
        inputs.append(Input(words, of_each[place], "", assumed=bool(plate.blank[0, place] > 0)))
        origins.append(power.origin)
    for place, of_word in enumerate(plate.terms.words, start=len(plate.terms.numbers)):
        said = _given(unit, of_word.name)
        blank = said == "blank"
        inputs.append(Input(f"{of_word.label}, {said}", of_each[place], "", assumed=blank))
        origins.append(of_word.origin)
    return TracedNumber(
        topic,
        WHAT_THE_NAMEPLATE_MAKES_OF_IT,
        float(np.exp(plate.log_shape[0])),
        "",
        "product of factors",
        tuple(inputs),
        "; ".join(dict.fromkeys(origins)),
        "for each thing of the nameplate (value / usual)^power, or by its word; each such that its "
        "mean over usual nameplates is 1, which a blank counts as",
    )


def number_of_the_learned_nameplate(
    unit: AssessedUnit, learned: LearnedMode, topic: str, source: str
) -> TracedNumber:
    """Return what the fleet's own failures make of that, for a failure of which more was learned.

    Parameters
    ----------
    unit : AssessedUnit
        The unit.
    learned : LearnedMode
        What the fleet's own failures say of the failure.
    topic, source : str
        Under which heading it is shown, and where it comes from.

    Returns
    -------
    TracedNumber
    """
    plate = plate_of(unit, learned.columns.mode)
    logs = plate.over_usual[0] * learned.of_nameplate
    labels = [one for one in covariate_meanings(learned.columns) if one.part == "nameplate"]
    inputs = tuple(
        Input(f"{one.label}{'' if one.slope != 1 else ': ' + one.state}", float(np.exp(log)))
        for one, log in zip(labels, logs, strict=True)
        if log != 0
    )
    return TracedNumber(
        topic,
        "what was learned of the nameplate",
        float(np.exp(logs.sum())),
        "",
        "product of factors",
        inputs,
        source,
        "for each number (value / usual)^(power after learning less that before), for each word "
        "(multiplier after over before)^(1 if so, less its usual share)",
    )


def _given(unit: AssessedUnit, column: str) -> str:
    value = unit.known.units[column].iloc[unit.place]
    if pd.isna(value):
        return "blank"
    if isinstance(value, str):
        return value.replace("_", " ")
    return f"{float(value):g} {UNITS[column].unit}".rstrip()


def _number_given(unit: AssessedUnit, name: str, log_over_usual: float) -> str:
    if name == LOAD:
        return f"{np.exp(log_over_usual):.2f} of the usual"
    return _given(unit, name)
