"""What a fleet's own failures say: of effects, findings and sites, and of those who hung units."""

from dataclasses import dataclass

import pandas as pd

from scoring.assessment import FleetAssessor, FleetLearning
from scoring.explanation.failures_by_crew import failures_by_crew
from scoring.learning.failure_rows import FailureRows
from scoring.learning.what_was_learned import what_was_learned

FEW_FAILURES_PROVE_LITTLE = (
    "Few failures prove little: an interval that holds 1, or the handbook's own number, is what "
    "chance alone may bring about. Crews are those who hung a unit first, and later re-work by "
    "others counts as theirs; the faults found at their units, site and age are in what is "
    "expected already."
)
"""Beside everything that is said of what was learned."""


@dataclass(frozen=True)
class WhatWasLearned:
    """What a fleet's own failures say.

    Attributes
    ----------
    learning : FleetLearning
        What was learned, whether it is used, and why.
    table : DataFrame
        By effect, finding and site, from ``scoring.learning.what_was_learned``.
    crews : DataFrame
        From ``scoring.explanation.failures_by_crew``.
    """

    learning: FleetLearning
    table: pd.DataFrame
    crews: pd.DataFrame

    @property
    def failures_are_kept(self) -> bool:
        """Whether there was anything to learn from."""
        return any(basis.learned is not None for basis in self.learning.basis.values())

    @property
    def as_one_table(self) -> pd.DataFrame:
        """Both tables as one; what is drawn towards 1 is what the fleet says of a crew."""
        if self.crews.empty:
            return self.table
        named = {f"drawn{end}": f"fleet{end}" for end in ("", "_low", "_high")}
        crews = self.crews.rename(columns={**named, "installer": "effect"})
        crews = crews.assign(part="installer", label=crews["effect"])
        return pd.concat([self.table, crews], ignore_index=True)


def what_the_fleet_says(
    assessor: FleetAssessor, rows: FailureRows, learning: FleetLearning
) -> WhatWasLearned:
    """Lay out what a fleet's own failures say.

    Parameters
    ----------
    assessor : FleetAssessor
        The fleet.
    rows : FailureRows
        Failures beside what may explain them, from ``assessor.failure_rows`` of a day.
    learning : FleetLearning
        What was learned of them, from ``assessor.learn`` of that day.

    Returns
    -------
    WhatWasLearned
        Also of failures whose chances rest on the handbook alone, for what was learned of them
        predicted worse.
    """
    learned = {
        mode: basis.learned for mode, basis in learning.basis.items() if basis.learned is not None
    }
    crews = failures_by_crew(
        rows, learned, assessor.fleet.units["installer"], assessor.prevalence(learning.as_of)
    )
    return WhatWasLearned(learning, what_was_learned(rows, learned), crews)


PRIOR_ONLY = "prior only"

LEAST_NARROWED = 0.05
"""By which share failures must narrow a standard deviation to have taught anything; planning value
of ours. [-]"""


def share_in_words(share: float) -> str:
    """Say how much of what was unsure the failures have shown; planning values of ours.

    Parameters
    ----------
    share : float
        Of the variance, 0 to 1. [-]

    Examples
    --------
    >>> [share_in_words(share) for share in (0.04, 0.3, 0.6)]
    ['prior only', 'some', 'much']
    """
    for limit, words in ((1 - (1 - LEAST_NARROWED) ** 2, PRIOR_ONLY), (0.5, "some")):
        if share < limit:
            return words
    return "much"
