"""What a whole fleet is expected to lose, and how sure that is."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.interval import Z90
from scoring.contract.events import MODES
from scoring.handbook.base_rates import BASE_RATES
from scoring.handbook.nameplate_columns import nameplate_columns
from scoring.learning.covariates import SITE_SCALE
from scoring.learning.failure_rows import shares_of_ages, state_now
from scoring.learning.learned import LearnedMode
from scoring.learning.own_failures import OwnFailures
from scoring.records import DAYS_PER_YEAR
from scoring.risk.chance_of_failing import chance_of_failing
from scoring.risk.fleet_risk import FleetRisk
from scoring.timeline.known import Known

Floats = NDArray[np.float64]

_STEP = 1e-4
"""Of the logarithm of a hazard, by which a slope is taken. [-]"""


@dataclass(frozen=True)
class LossOfFleet:
    """Expected loss of all units together.

    Attributes
    ----------
    mean : float
        Sum of the expected losses of the units. [currency]
    low, high : float
        Its 90 % interval. [currency]
    units : int
        In service.
    """

    mean: float
    low: float
    high: float
    units: int


def loss_of_the_fleet(
    known: Known,
    risk: FleetRisk,
    horizon_days: int,
    learned: dict[str, tuple[LearnedMode, OwnFailures]],
) -> LossOfFleet:
    r"""Add up what units are expected to lose, with how unsure the sum is.

    .. math:: v = \sum_m \Big( g_m^T C_m g_m + \sum_k \big(\sum_u w_{um} s_{uk}\big)^2
              + \sum_u w_{um}^2 s_u^2 \Big), \quad w_{um} = c_{um} \, dp_{um} / d \ln H_{um}

    Parameters
    ----------
    known : Known
        The units in service.
    risk : FleetRisk
        Their risk.
    horizon_days : int
        Days looked ahead, as in ``risk``. [d]
    learned : dict of str to tuple of LearnedMode and OwnFailures
        What the fleet's own failures say, as in ``risk``.

    Returns
    -------
    LossOfFleet

    Notes
    -----
    What all units share is added before it is squared: the coefficients that failures taught
    (``g`` is the sum of the columns of units weighted by ``w``, ``C`` the larger of both
    covariances), else the handbook's level, effects ``k`` and powers. What each unit has for itself
    is squared before it is added: what was not seen or is blank, and how units alike on paper
    differ. Propagation of errors to the first order (textbook); the sum is taken as lognormal about
    its mean, as each hazard is. What has failed already is lost for certain. It is the interval of
    the expected loss: what truly comes scatters more.
    """
    standing = np.zeros(len(known.units))
    variance = 0.0
    for mode in MODES:
        one, cost = risk.modes[mode], risk.costs.of_failure(mode)
        failed = one.low >= 1
        standing += np.where(failed, cost, 0.0)
        weight = np.where(failed, 0.0, cost * _slope(one.expected))
        variance += _variance(mode, known, risk, horizon_days, (weight, learned.get(mode)))
    mean, certain = float(risk.expected_loss.sum()), float(standing.sum())
    unsure = mean - certain
    if unsure <= 0:
        return LossOfFleet(mean, mean, mean, len(known.units))
    spread = np.sqrt(np.log1p(variance / unsure**2))
    middle = unsure * np.exp(-(spread**2) / 2)
    low, high = (certain + middle * np.exp(sign * Z90 * spread) for sign in (-1, 1))
    return LossOfFleet(mean, min(float(low), mean), max(float(high), mean), len(known.units))


def _slope(expected: Floats) -> Floats:
    """Return by how much a chance rises with the logarithm of the hazard."""
    more, less = (chance_of_failing(expected * np.exp(step)) for step in (_STEP, -_STEP))
    return np.asarray((more - less) / (2 * _STEP))


def _variance(
    mode: str,
    known: Known,
    risk: FleetRisk,
    horizon_days: int,
    asked: tuple[Floats, tuple[LearnedMode, OwnFailures] | None],
) -> float:
    """Return the variance of the expected loss by one failure."""
    weight, learned = asked
    one, rate = risk.modes[mode], BASE_RATES[mode]
    effects = one.multipliers
    unseen = effects.unseen_variance.to_numpy()
    by_effect = weight @ np.sqrt(np.maximum(effects.log_variance.to_numpy() - unseen, 0.0))
    plate = nameplate_columns(mode, known.units, None)
    by_power = (weight @ plate.over_usual) * plate.terms.deviation
    blanks = plate.variance_of_blanks()
    if learned is None:
        shared = rate.uncertainty**2 * weight.sum() ** 2
        shared += (by_effect**2).sum() + (by_power**2).sum()
    else:
        of_fleet, own = learned
        start = known.history[rate.age_column].to_numpy() / DAYS_PER_YEAR
        ages = shares_of_ages(mode, start, start + horizon_days / DAYS_PER_YEAR)
        state = state_now(effects.log_mean.to_numpy(), known, ages, own, plate)
        slope = weight @ of_fleet.columns.design(state)
        posterior = of_fleet.posterior
        shared = max(slope @ spread @ slope for spread in (posterior.laplace, posterior.sandwich))
        shared += (SITE_SCALE * (weight @ of_fleet.columns.of_unknown_site(state))) ** 2
        shared += (np.delete(by_effect, of_fleet.columns.effects) ** 2).sum()
        if of_fleet.columns.level_alone:
            shared += (by_power**2).sum()
        else:
            blanks = plate.variance_of_blanks(of_fleet.of_nameplate)
    alone = unseen.sum(axis=1) + blanks + rate.unlike_units**2
    return float(shared + (weight**2) @ alone)
