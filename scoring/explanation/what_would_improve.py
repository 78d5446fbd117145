"""What a plant could do so that its numbers are to be trusted further."""

from dataclasses import dataclass

import numpy as np
import pandas as pd

from scoring.assessment import Assessment
from scoring.contract import CHECK_BY_NAME, UNITS
from scoring.contract.events import MODES
from scoring.handbook import held_arm_effect
from scoring.handbook.multipliers import CHECKS_OF_EFFECT
from scoring.validation.choose_basis import FEW_FAILURES

MOST_CHECKS = 5
"""Checks named, those first that leave most in the dark. Ours."""

MOST_NAMED = 3
"""Of checks that tell the same so many are named. Ours."""

MOST_NUMBERS = 4
"""Numbers of the nameplate named. Ours."""

SHARE_WORTH_NAMING = 0.2
"""Share of units at which a number is blank from which on it is named; planning value of ours."""

NUMBERS_THAT_MATTER = (
    "duty_h_per_day",
    "output_speed_rpm",
    "output_torque_nm",
    "joint_rated_torque_nm",
    "peak_factor",
    "arm_length_mm",
    "screw_torque_nm",
)
"""Numbers of the nameplate that rates, loads or margins rest on."""

_CHECKS_OF_EFFECT = CHECKS_OF_EFFECT | {
    held_arm_effect.NAME: held_arm_effect.CHECKS_OF_WHAT_HOLDS_IT,
}


@dataclass(frozen=True)
class Improvement:
    """One thing to do.

    Attributes
    ----------
    do : str
        What.
    why : str
        What it would change, with the numbers that say so.
    """

    do: str
    why: str


def what_would_improve(assessment: Assessment) -> list[Improvement]:
    """Say what would make the numbers of a fleet more certain.

    Parameters
    ----------
    assessment : Assessment
        The fleet; with or without what was learned.

    Returns
    -------
    list of Improvement
        What concerns failures first, then what was not seen, then nameplates.
    """
    return [*_of_failures(assessment), *_of_looks(assessment), *_of_nameplates(assessment)]


def _of_failures(assessment: Assessment) -> list[Improvement]:
    learning = assessment.learning
    since = assessment.known.units["failures_recorded_from"]
    if learning is None or all(basis.learned is None for basis in learning.basis.values()):
        return [
            Improvement(
                "Write down every bearing failure, seal leak and joint slip, its day, and since "
                "when you do",
                "failures of this fleet are not kept: every chance is the handbook's alone",
            )
        ]
    said = []
    blank = int(since.isna().sum())
    if blank:
        said.append(
            Improvement(
                "Say for every unit since when its failures are written down",
                f"blank at {blank:,} of {len(since):,} units: taken as from their start, so that a "
                "gap in the books counts as a time without failures",
            )
        )
    silent = int(assessment.known.units["slips_recorded_from"].isna().sum())
    if silent:
        said.append(
            Improvement(
                "Say for every unit since when its slips are written down",
                f"blank at {silent:,} of {len(since):,} units: of slips nothing is learned there",
            )
        )
    few = {
        mode: basis.learned.posterior.events
        for mode, basis in learning.basis.items()
        if basis.learned is not None and basis.learned.posterior.events < FEW_FAILURES
    }
    said.extend(
        Improvement(
            f"Go on writing down every {mode.replace('_', ' ')}, and what was found before it",
            f"only {events:.0f} on record: below some {FEW_FAILURES} the handbook decides nearly "
            "everything",
        )
        for mode, events in few.items()
    )
    return said


def _of_looks(assessment: Assessment) -> list[Improvement]:
    """Name the checks whose not being seen leaves most in the dark."""
    parts = [assessment.risk.modes[mode].multipliers.unseen_variance.mean() for mode in MODES]
    unseen = pd.concat(parts, axis=1).sum(axis=1).sort_values(ascending=False)
    total = float(unseen.sum())
    said = []
    for effect, variance in unseen.head(MOST_CHECKS).items():
        checks = _CHECKS_OF_EFFECT[str(effect)]
        status = assessment.known.status[list(checks)].to_numpy()
        dark = int((status == 0).any(axis=1).sum())
        share = variance / total if total > 0 else 0.0
        if dark == 0 or not share > 0:
            continue
        labels = [CHECK_BY_NAME[check].label for check in checks]
        more = len(labels) - MOST_NAMED
        words = ", ".join(labels[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")
        seen = "not seen" if len(labels) == 1 else "not all seen"
        said.append(
            Improvement(
                f"Look at: {words}",
                f"{seen} at {dark:,} of {len(status):,} units; {100 * share:.0f} % of what is in "
                "the dark because nobody has looked",
            )
        )
    return said


def _of_nameplates(assessment: Assessment) -> list[Improvement]:
    units = assessment.known.units
    columns = {column.name: column for column in UNITS.columns}
    blank = units[list(NUMBERS_THAT_MATTER)].isna().mean().sort_values(ascending=False)
    worst = blank[blank >= SHARE_WORTH_NAMING].head(MOST_NUMBERS)
    return [
        Improvement(
            f"Write down: {columns[str(name)].meaning}",
            f"blank at {100 * share:.0f} % of {len(units):,} units: a usual value is assumed there",
        )
        for name, share in worst.items()
        if np.isfinite(share)
    ]
