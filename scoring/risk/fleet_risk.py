"""The risk of a whole fleet: all failures, and what they are expected to cost."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.contract.events import MODES
from scoring.handbook.unit_evidence import UnitEvidence
from scoring.learning.learned import LearnedMode
from scoring.learning.own_failures import OwnFailures
from scoring.risk.hazard import ModeRisk, mode_risks
from scoring.risk.loss import Costs, UsualCosts, fill_costs


@dataclass(frozen=True)
class FleetRisk:
    """The risk of each unit in service.

    Attributes
    ----------
    modes : dict of str to ModeRisk
        The risk of each failure.
    costs : Costs
        What failures cost.
    expected_loss : ndarray, shape (n_units,)
        Sum over failures of probability times cost. [currency]
    """

    modes: dict[str, ModeRisk]
    costs: Costs
    expected_loss: NDArray[np.float64]


def fleet_risk(
    evidence: UnitEvidence,
    horizon_days: int,
    learned: dict[str, tuple[LearnedMode, OwnFailures]],
    usual_costs: UsualCosts | None = None,
) -> FleetRisk:
    """Work out the risk of each unit.

    Parameters
    ----------
    evidence : UnitEvidence
        What was known of the units in service, their limits, how the torque arm is held, how usual
        faults are.
    horizon_days : int
        Days looked ahead. [d]
    learned : dict of str to tuple of LearnedMode and OwnFailures
        What the fleet's own failures say, and those of each unit, for each failure whose hazard
        they are to correct.
    usual_costs : UsualCosts, optional
        What failures usually cost; by default at these units.

    Returns
    -------
    FleetRisk
    """
    modes = mode_risks(evidence, horizon_days, learned)
    return _with_loss(modes, fill_costs(evidence.known.units, usual_costs))


def fleet_risk_again(
    before: FleetRisk,
    evidence: UnitEvidence,
    horizon_days: int,
    learned: dict[str, tuple[LearnedMode, OwnFailures]],
) -> FleetRisk:
    """Work out the risk of the same units with another horizon or learning.

    Parameters
    ----------
    before : FleetRisk
        Their risk; what it multiplies hazards by, and its costs, rest on neither.
    evidence : UnitEvidence
        The same.
    horizon_days : int
        Days looked ahead. [d]
    learned : dict of str to tuple of LearnedMode and OwnFailures
        As for ``fleet_risk``.

    Returns
    -------
    FleetRisk
    """
    effects = {mode: risk.multipliers for mode, risk in before.modes.items()}
    return _with_loss(mode_risks(evidence, horizon_days, learned, effects), before.costs)


def _with_loss(modes: dict[str, ModeRisk], costs: Costs) -> FleetRisk:
    loss = sum(modes[mode].probability * costs.of_failure(mode) for mode in MODES)
    return FleetRisk(modes, costs, np.asarray(loss, dtype=np.float64))
