"""What a fleet's own failures make of the hazard of one unit, part by part."""

import numpy as np

from scoring.explanation.assessed_unit import AssessedUnit
from scoring.explanation.nameplate_numbers import number_of_the_learned_nameplate
from scoring.explanation.traced_number import Input, TracedNumber
from scoring.learning.covariate_meanings import covariate_meanings
from scoring.learning.covariates import PARTS, PLAIN_STATES
from scoring.learning.learned import LearnedMode

WHAT_IT_MAKES_OF_IT = "what the fleet's own failures make of it"

SOURCE = (
    "our own fit to this fleet's failures; what was believed before is the handbook with its "
    "uncertainties"
)

SOURCE_AFTER_OTHERS = (
    "our own fit to this fleet's failures; what was believed before is what other plants' failures "
    "make of the handbook, so it is in this too"
)


def numbers_of_the_correction(unit: AssessedUnit, mode: str, topic: str) -> list[TracedNumber]:
    """Return what the fleet's own failures make of a hazard; nothing by the handbook alone.

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
    list of TracedNumber
    """
    correction = unit.risk.modes[mode].correction
    if correction is None:
        return []
    learned, own = unit.learned[mode]
    began_with_others = learned.columns.prior is not None
    source = SOURCE_AFTER_OTHERS if began_with_others else SOURCE
    whose = "that is usual" if began_with_others else "of the fleet's time for which it stood"
    multiplier = dict(zip(PARTS, np.exp(correction.parts[unit.place]).tolist(), strict=True))
    words = {
        "effects": "multipliers of the effects, after learning over before",
        "findings": "findings, each as a finding",
        "nameplate": "the nameplate, powers and words after learning over before",
        "site": _site(unit, learned),
        "own failures": (
            f"the unit's own failures, {unit.at(own.failures):g} where the handbook expected "
            f"{unit.at(own.expected):.2g}"
        ),
        "early life": "early life, by its share of the time ahead",
        "old age": "old age, by its share of the time ahead",
        "level": "level of the whole fleet",
    }
    findings = TracedNumber(
        topic,
        "what findings add, each as a finding",
        multiplier["findings"],
        "",
        "product of factors",
        _findings(unit, learned),
        source,
        f"for each check seen (its multiplier)^(1 if found else 0, less the share {whose}); 1 "
        "where there is none",
    )
    whole = TracedNumber(
        topic,
        WHAT_IT_MAKES_OF_IT,
        float(np.exp(unit.at(correction.log_ratio))),
        "",
        "product of parts",
        (
            *(Input(words[part], multiplier[part]) for part in PARTS),
            Input("log standard deviation of it", unit.at(correction.log_spread), beside=True),
            Input(
                "share of the handbook's variance that the failures took away",
                unit.at(correction.share_learned),
                beside=True,
            ),
        ),
        source,
    )
    if learned.columns.level_alone:
        return [findings, whole]
    return [findings, number_of_the_learned_nameplate(unit, learned, topic, source), whole]


def _site(unit: AssessedUnit, learned: LearnedMode) -> str:
    site = str(unit.known.units["site"].iloc[unit.place])
    known = site in learned.columns.sites
    return f"units at the site {site}" if known else f"site {site}, of which nothing was learned"


def _findings(unit: AssessedUnit, learned: LearnedMode) -> tuple[Input, ...]:
    """Return what each state that was seen multiplies the hazard by, those by 1 left out."""
    first = len(learned.columns.effects)
    inputs: list[Input] = []
    if learned.columns.level_alone:
        return ()
    labels = [one.label for one in covariate_meanings(learned.columns) if one.part == "findings"]
    for place, (state, label) in enumerate(zip(PLAIN_STATES, labels, strict=True)):
        bad = unit.known.exceedance[list(state.checks)].iloc[unit.place].max()
        weight = float(learned.posterior.coefficients[first + place])
        if weight == 0 or np.isnan(bad):
            continue
        share = float(learned.columns.share[place])
        said = f"{'found' if bad > 0 else 'seen good'}, {np.exp(weight):.4g}^({int(bad > 0)}"
        inputs.append(
            Input(
                f"{label} {said} - {share:.3g})",
                float(np.exp(weight * ((bad > 0) - share))),
            )
        )
    return tuple(inputs)
