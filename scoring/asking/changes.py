"""What re-work at one unit, or another finding, would change."""

from dataclasses import dataclass

import numpy as np
import pandas as pd

from scoring.looking.assessed_fleet import AssessedFleet
from scoring.what_if.action_arrays import actions_of
from scoring.what_if.candidates import candidates_of
from scoring.what_if.values_to_set import values_to_set_at
from scoring.what_if.what_if import what_if
from scoring.what_if.words_of_hanging import words_of_hanging


@dataclass(frozen=True)
class Change:
    """What would change at one unit.

    Attributes
    ----------
    answer : DataFrame, shape (1, ...)
        As ``what_if`` answers.
    hung_anew : str
        What hanging the unit anew makes void, in words; may be empty.
    """

    answer: pd.DataFrame
    hung_anew: str


def change_at(stands: AssessedFleet, unit_id: str, to_do: str, to_set: str) -> Change:
    """Work out what re-work at one unit, or another finding, would change.

    Parameters
    ----------
    stands : AssessedFleet
        How the fleet stands.
    unit_id : str
        The unit.
    to_do : str
        Actions, ``;`` between them.
    to_set : str
        What a look would find: ``check=value``, ``;`` between checks.

    Returns
    -------
    Change

    Raises
    ------
    FixableError
        If the unit is not in service, an action or check is none of it, or a value cannot be.
    """
    assessment = stands.assessment
    actions = actions_of(to_do)
    unit = assessment.place_of(unit_id)
    looked = values_to_set_at(to_set, assessment.known.units, unit)
    candidates = candidates_of(assessment.known, np.array([unit]), actions[np.newaxis], looked)
    answer = what_if(stands.assessor, assessment, candidates, stands.success, stands.efforts)
    return Change(answer, words_of_hanging(assessment.known, candidates))
