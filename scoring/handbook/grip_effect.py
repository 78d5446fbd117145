"""How the grip of a friction joint multiplies the hazard of a slip."""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.joint_grip import JointGrip
from scoring.contract.mountings import CLAMPED, EVERY_MOUNTING
from scoring.handbook.grip_loss import (
    LOSSES,
    grip_loss,
    grip_loss_where_nobody_looked,
    usual_grip_loss,
)
from scoring.handbook.slip_hazard import (
    LOG_MARGINS,
    MARGIN_AS_SPECIFIED,
    SPREAD_OF_MARGINS,
    USUAL_YEARS,
    SlipHazards,
    slip_hazards,
    slips_of_a_margin,
)
from scoring.handbook.unit_evidence import UnitEvidence
from scoring.limits.assumptions import PLANNING_VALUE
from scoring.records import DAYS_PER_YEAR, has_mounting

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

NAME = "grip"
LABEL = "grip of the joint"
CHECKS = (
    "bore_condition",
    "torque_passes",
    "final_torque_nm",
    "screws_low",
    "shaft_diameter_measured_mm",
    "engagement_mm",
    "shaft_end",
    "disc_offset_mm",
)

STEP_OF_SPREAD = 0.025
"""Steps in which it is told how well margins are known. [-]"""

UNCERTAINTY = 0.3
"""Standard deviation of the logarithm of the multiplier over that logarithm. [-]"""

ORIGIN = (
    "our own calculation of the slip margin, given the peaks survived; how often a joint slips by "
    f"its margin: {PLANNING_VALUE}"
)

_NODES, _WEIGHTS = np.polynomial.hermite_e.hermegauss(31)
_NORMAL = _WEIGHTS / _WEIGHTS.sum()


@dataclass(frozen=True)
class GripMultiplier:
    """By what the grip multiplies a slip's hazard, shape (n_units,) each.

    Against usual joints of that mounting whose nameplate says as much, which slip at the field
    rate; 1 for a keyed bore.

    Attributes
    ----------
    mean : ndarray
        Over how much grip may be lost, and over what the margin may be. [-]
    unseen_variance : ndarray
        Variance of its logarithm by what of the grip nobody saw. [-]
    margin_variance : ndarray
        That by how unsure the margin is. [-]
    """

    mean: Floats
    unseen_variance: Floats
    margin_variance: Floats


def grip_multiplier(evidence: UnitEvidence) -> GripMultiplier:
    """Return by what the grip multiplies the hazard of a slip at each unit.

    Parameters
    ----------
    evidence : UnitEvidence
        What was known, limits, the grip as found, how usual faults are.

    Returns
    -------
    GripMultiplier

    Notes
    -----
    The mean over how much of the grip may be lost (``grip_loss``), of the hazard over the year
    ahead of a joint that has survived since it was hung (``slip_hazards``). Its margin as specified
    is drawn towards what joints usually have, in the measure in which rating and torque are
    estimated or assumed. A worse finding moves shares to greater losses, and no hazard falls with
    them: so no worse finding lowers the mean. A grip that is not relied on counts as none.
    """
    return _against_usual(evidence, grip_loss(evidence))


def grip_where_nobody_looked(evidence: UnitEvidence) -> Floats:
    """Return the mean multiplier at each unit, had nobody looked at its joint, shape (n_units,)."""
    return _against_usual(evidence, grip_loss_where_nobody_looked(evidence)).mean


def log_margin_as_specified(grip: JointGrip) -> tuple[Floats, Floats]:
    """Return middle and deviation of each log margin as specified, drawn towards what is usual.

    Parameters
    ----------
    grip : JointGrip
        With rating and demand, and how well both are known.

    Returns
    -------
    tuple of ndarray, shape (n_units,)
        Normal laws of a margin with a normal prior, textbook. [-]
    """
    usual, prior = np.log(MARGIN_AS_SPECIFIED), SPREAD_OF_MARGINS**2
    weight = prior / (prior + grip.spread_as_specified**2)
    with np.errstate(divide="ignore"):
        computed = np.log(grip.rating / grip.demand)
    known = np.isfinite(computed)
    middle = np.where(known, usual + weight * (np.where(known, computed, usual) - usual), usual)
    return middle, np.sqrt(np.where(known, 1 - weight, 1.0) * prior)


@cache
def usual_slips(mounting: str) -> float:
    """Return the mean [-] of ``slips_of_a_margin`` over usual joints of a mounting."""
    log_margin = np.log(MARGIN_AS_SPECIFIED) + SPREAD_OF_MARGINS * _NODES
    slips = slips_of_a_margin(np.exp(log_margin[:, np.newaxis] - LOSSES))
    return float(_NORMAL @ slips @ usual_grip_loss(mounting))


@cache
def usual_hazard(mounting: str, spread: float) -> float:
    """Return the mean hazard [1/year] of usual joints whose margin is known so well.

    Parameters
    ----------
    mounting : str
        How it holds the shaft.
    spread : float
        Deviation of the log margin once it is drawn towards what is usual. [-]
    """
    of_middles = np.sqrt(max(SPREAD_OF_MARGINS**2 - spread**2, 0.0))
    middle = np.log(MARGIN_AS_SPECIFIED) + of_middles * _NODES
    hazard, _ = _by_loss(slip_hazards(spread, usual_slips(mounting)), middle, np.array(USUAL_YEARS))
    return float(_NORMAL @ hazard @ usual_grip_loss(mounting))


def without_grip(mounting: str) -> float:
    """Return the multiplier [-] of a joint without any grip, its margin known as usual.

    Parameters
    ----------
    mounting : str
        How it holds the shaft.
    """
    spread = SPREAD_OF_MARGINS
    hazards = slip_hazards(spread, usual_slips(mounting))
    worst, _ = hazards.at(LOG_MARGINS[:1], np.zeros(1))
    return float(worst[0]) / usual_hazard(mounting, spread)


def _by_loss(hazards: SlipHazards, middle: Floats, years: Floats) -> tuple[Floats, Floats]:
    """Return hazard and mean square at each loss, shape (n_units, n_losses)."""
    margins = np.maximum(middle[:, np.newaxis] - LOSSES, LOG_MARGINS[0])
    return hazards.at(margins, np.atleast_1d(years)[:, np.newaxis])


def _against_usual(evidence: UnitEvidence, lost: Floats) -> GripMultiplier:
    known = evidence.known
    middle, spread = log_margin_as_specified(evidence.grip)
    years = known.history["joint_age_days"].to_numpy(dtype=np.float64) / DAYS_PER_YEAR
    mean, of_means, square = np.ones((3, len(known.units)))
    # in few steps, for each is worked out once; no finding and no load moves it
    spread = np.maximum(np.round(spread / STEP_OF_SPREAD), 3) * STEP_OF_SPREAD
    mounting = known.units["mounting"].cat.codes.to_numpy()
    for code, name in enumerate(EVERY_MOUNTING):
        if name not in CLAMPED:
            continue
        for kind in np.unique(spread[mounting == code]):
            rows = np.flatnonzero((mounting == code) & (spread == kind))
            hazards = slip_hazards(float(kind), usual_slips(name))
            hazard, squared = _by_loss(hazards, middle[rows], years[rows])
            usual = usual_hazard(name, float(kind))
            mean[rows] = (hazard * lost[rows]).sum(axis=1) / usual
            of_means[rows] = (hazard**2 * lost[rows]).sum(axis=1) / usual**2
            square[rows] = (squared * lost[rows]).sum(axis=1) / usual**2
    of_means = np.maximum(of_means, mean**2)
    return GripMultiplier(
        mean, np.log(of_means / mean**2), np.log(np.maximum(square, of_means) / of_means)
    )


def not_here(evidence: UnitEvidence) -> Flags:
    """Tell which units have no friction joint."""
    return ~has_mounting(evidence.known.units, CLAMPED)
