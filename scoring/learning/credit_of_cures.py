"""What a cure is credited of what was learned: prediction is not cure."""

import numpy as np
from numpy.typing import NDArray

from scoring.learning.covariates import PARTS, State
from scoring.learning.learned import LearnedMode

Floats = NDArray[np.float64]

CREDIT_OF_LEARNED = 0.5
"""Share of a plain finding's learned effect that a cure is credited; planning value of ours. [-]"""


def log_not_credited(learned: LearnedMode, before: State, after: State) -> Floats:
    """Return what hypothetical re-work takes off a hazard's logarithm without being credited it.

    Parameters
    ----------
    learned : LearnedMode
        What the fleet's own failures say.
    before, after : State
        What may explain failures of the units as they are, and as they would be.

    Returns
    -------
    ndarray, shape (n_units,)
        From 0 up. [-]

    Notes
    -----
    That a finding predicts failures is learned beside the handbook, and stands also for the crew's
    other faults, which the finding's cure leaves. So only a share of it is credited; the handbook's
    effects, which have a cause, are credited as a whole. What re-work brings counts as a whole too.
    Each check is counted by itself and only by how it stands afterwards, so that a cure more is
    never credited less.
    """
    columns = learned.columns
    of_findings = columns.part_of_column == PARTS.index("findings")
    eased = columns.design(before)[:, of_findings] - columns.design(after)[:, of_findings]
    weight = learned.posterior.coefficients[of_findings]
    withheld: Floats = (1 - CREDIT_OF_LEARNED) * (np.maximum(eased, 0.0) @ weight)
    return withheld
