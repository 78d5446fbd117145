"""The risk of a whole fleet: both failures, and what they are expected to cost."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.consequence import Consequences, work_out
from scoring.handbook.effect import MODES
from scoring.handbook.prevalence import Prevalence
from scoring.handbook.unit_evidence import UnitEvidence
from scoring.learning.learned import LearnedMode
from scoring.learning.own_failures import OwnFailures
from scoring.limits import UnitLimits
from scoring.risk.hazard import ModeRisk, mode_risk
from scoring.risk.loss import Costs, fill_costs
from scoring.timeline.known import Known


@dataclass(frozen=True)
class FleetRisk:
    """The risk of each unit in service.

    Attributes
    ----------
    consequences : Consequences
        What the findings do, in physical units.
    modes : dict of str to ModeRisk
        The risk of each failure.
    costs : Costs
        What failures cost.
    expected_loss : ndarray, shape (n_units,)
        Sum over failures of probability times cost. [currency]
    """

    consequences: Consequences
    modes: dict[str, ModeRisk]
    costs: Costs
    expected_loss: NDArray[np.float64]


def fleet_risk(
    known: Known,
    limits: UnitLimits,
    horizon_days: int,
    prevalence: Prevalence,
    learned: dict[str, tuple[LearnedMode, OwnFailures]],
) -> FleetRisk:
    """Work out the risk of each unit.

    Parameters
    ----------
    known : Known
        What was known of the units in service.
    limits : UnitLimits
        Their limits.
    horizon_days : int
        Days looked ahead. [d]
    prevalence : Prevalence
        How usual faults are where nobody has looked.
    learned : dict of str to tuple of LearnedMode and OwnFailures
        What the fleet's own failures say, and those of each unit, for each failure whose hazard
        they are to correct.

    Returns
    -------
    FleetRisk
    """
    consequences = work_out(known, limits, prevalence.arms(prevalence.groups(known)))
    evidence = UnitEvidence(known, limits, consequences.restraint, prevalence)
    modes = {mode: mode_risk(mode, evidence, horizon_days, learned.get(mode)) for mode in MODES}
    costs = fill_costs(known.units)
    loss = sum(modes[mode].probability * costs.of_failure(mode) for mode in MODES)
    return FleetRisk(consequences, modes, costs, np.asarray(loss, dtype=np.float64))
