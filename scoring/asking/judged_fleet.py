"""Learn from a fleet's failures, or do not, and judge it as of a day."""

from dataclasses import dataclass

import pandas as pd

from scoring.assessment import Assessment, FleetAssessor
from scoring.errors import FixableError
from scoring.files.learned_folder import KeptLearning
from scoring.learning.other_plants import OtherPlants


@dataclass(frozen=True)
class Asked:
    """As of when a fleet is judged, how far ahead, and by what.

    Attributes
    ----------
    day : Timestamp
        What was known by its end.
    horizon_days : int
        Days looked ahead. [d]
    handbook_only : bool
        Leave the fleet's own failures aside.
    learned : KeptLearning, optional
        What was learned before, instead of learning from this fleet.
    """

    day: pd.Timestamp
    horizon_days: int = 365
    handbook_only: bool = False
    learned: KeptLearning | None = None


def judged(assessor: FleetAssessor, asked: Asked) -> Assessment:
    """Learn and judge.

    Parameters
    ----------
    assessor : FleetAssessor
        The fleet.
    asked : Asked
        What is asked of it.

    Returns
    -------
    Assessment

    Raises
    ------
    FixableError
        If no unit was in service.
    """
    learning = None
    if asked.learned is not None:
        learning = assessor.with_own_failures(asked.learned.learning, asked.day)
    elif not asked.handbook_only:
        learning = assessor.learn(asked.day)
    assessment = assessor.assess(asked.day, asked.horizon_days, learning)
    if assessment.ranking.empty:
        raise FixableError(
            f"no unit was in service on {asked.day.date()}; ask as of a day (--as-of, as_of) "
            "between installed_on and out_of_service_on"
        )
    return assessment


def left_out(left: OtherPlants | None, others: OtherPlants | None) -> tuple[str, ...]:
    """Say where a fleet is one of the plants that its learning was to begin with.

    Parameters
    ----------
    left : OtherPlants or None
        The plants without this fleet.
    others : OtherPlants or None
        The plants that were given.

    Returns
    -------
    tuple of str
        Nothing, or one sentence.
    """
    if others is None or left is None or len(left.plants) == len(others.plants):
        return ()
    return ("this fleet is one of the plants of --prior; its own share was left out",)
