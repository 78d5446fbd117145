"""What to look at, or to write down, for the chance of a failure to be known more closely."""

from dataclasses import dataclass, replace

import numpy as np

from scoring.consequences.interval import Z90
from scoring.contract.events import MODES
from scoring.explanation.assessed_unit import AssessedUnit
from scoring.explanation.effects_of_unit import LABELS_OF_EFFECTS
from scoring.explanation.nameplate_numbers import plate_of

LEAST_SHARE = 0.005
"""Share of the variance from which on it is worth naming. Ours. [-]"""

LOOK, WRITE = "look at it", "write it down"


@dataclass(frozen=True)
class Narrowed:
    """The 90 % interval of a chance, were one thing more known.

    Attributes
    ----------
    name : str
        What would be known.
    do : str
        How: look at it, or write it down.
    low, high : float
        Ends of the interval, with as many failures expected as now. [-]
    """

    name: str
    do: str
    low: float
    high: float


@dataclass(frozen=True)
class WhatNarrows:
    """What narrows the interval of the failure that costs most.

    Attributes
    ----------
    mode : str
        The failure.
    chance, low, high : float
        Its chance and interval now. [-]
    by : tuple of Narrowed
        What narrows it most first.
    """

    mode: str
    chance: float
    low: float
    high: float
    by: tuple[Narrowed, ...]


def what_narrows_it(unit: AssessedUnit) -> WhatNarrows:
    """Return what would narrow the interval of the failure that makes most of a unit's loss.

    Of those failures, that is, whose interval anything narrows, if there is one.

    Parameters
    ----------
    unit : AssessedUnit
        The unit.

    Returns
    -------
    WhatNarrows

    Notes
    -----
    What was not seen and what is blank each have a share of the variance of the logarithm of the
    hazard. Without that share the interval about the median is narrower; where it then lies depends
    on what is found, so it is shown with as many failures expected as now.
    """
    risk = unit.risk
    losses = {
        mode: unit.at(risk.modes[mode].probability * risk.costs.of_failure(mode)) for mode in MODES
    }
    not_failed = [mode for mode in MODES if unit.at(risk.modes[mode].probability) < 1.0]
    found = [_of_mode(unit, mode) for mode in sorted(not_failed, key=lambda one: -losses[one])]
    return next((one for one in found if one.by), found[0])


def _of_mode(unit: AssessedUnit, mode: str) -> WhatNarrows:
    one = unit.risk.modes[mode]
    variance, expected = unit.at(one.log_spread) ** 2, unit.at(one.expected)
    chance = unit.at(one.probability)
    by = []
    for name, do, part in (*_not_seen(unit, mode), *_blanks(unit, mode)):
        if part > LEAST_SHARE * variance:
            low, high = _interval(expected, np.sqrt(max(variance - part, 0.0)), chance)
            by.append((part, Narrowed(name, do, low, high)))
    ordered = tuple(narrowed for _, narrowed in sorted(by, key=lambda one: -one[0]))
    return WhatNarrows(mode, chance, unit.at(one.low), unit.at(one.high), ordered)


def _interval(expected: float, spread: float, chance: float) -> tuple[float, float]:
    median = expected * np.exp(-(spread**2) / 2)
    low, high = (float(-np.expm1(-median * np.exp(sign * Z90 * spread))) for sign in (-1, 1))
    return min(low, chance), max(high, chance)


def _not_seen(unit: AssessedUnit, mode: str) -> list[tuple[str, str, float]]:
    row = unit.risk.modes[mode].multipliers.unseen_variance.iloc[unit.place]
    return [(LABELS_OF_EFFECTS[str(name)], LOOK, float(part)) for name, part in row.items()]


def _blanks(unit: AssessedUnit, mode: str) -> list[tuple[str, str, float]]:
    """Return how much less of the variance came from blanks, were one of them written down."""
    plate = plate_of(unit, mode)
    learned: np.ndarray | float = 0.0
    if mode in unit.learned and not unit.learned[mode][0].columns.level_alone:
        learned = unit.learned[mode][0].of_nameplate
    now = float(plate.variance_of_blanks(learned)[0])
    written = []
    for place, number in enumerate(plate.terms.numbers):
        blank = plate.blank.copy()
        blank[:, place] = 0.0
        written.append((number.label, replace(plate, blank=blank)))
    for place, word in enumerate(plate.terms.words):
        no_word = plate.no_word.copy()
        no_word[:, place] = False
        written.append((word.label, replace(plate, no_word=no_word)))
    return [
        (label, WRITE, now - float(then.variance_of_blanks(learned)[0])) for label, then in written
    ]
