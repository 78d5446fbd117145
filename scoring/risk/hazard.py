"""The hazard of each failure and the chance of the first one within a horizon."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.interval import Z90
from scoring.contract.events import SEAL_LEAK
from scoring.handbook.base_rates import BASE_RATES, BaseRate
from scoring.handbook.effect import Evidence
from scoring.handbook.multipliers import USUAL_LOG_PRODUCTS, Multipliers, multipliers
from scoring.records import DAYS_PER_YEAR
from scoring.timeline.known import Known

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class ModeRisk:
    """The risk of one failure at each unit.

    Attributes
    ----------
    log_base : ndarray, shape (n_units,)
        Logarithm of the rate of a unit without faults, of its duty and surroundings, at the
        usual age. [log 1/year]
    multipliers : Multipliers
        What multiplies it.
    age_exposure : ndarray, shape (n_units,)
        Horizon in years, weighted by how the hazard grows with age. [year]
    log_spread : ndarray, shape (n_units,)
        Standard deviation of the logarithm of the hazard. [-]
    expected : ndarray, shape (n_units,)
        Expected failures within the horizon, were the unit to go on. [-]
    probability, low, high : ndarray, shape (n_units,)
        Chance of the first failure within the horizon, and its 90 % interval. [-]
    """

    log_base: Floats
    multipliers: Multipliers
    age_exposure: Floats
    log_spread: Floats
    expected: Floats
    probability: Floats
    low: Floats
    high: Floats


def mode_risk(mode: str, evidence: Evidence, horizon_days: int) -> ModeRisk:
    r"""Work out the risk of one failure.

    .. math:: p = 1 - \exp(-H), \quad H = h_0 \prod_k M_k \int (a / a_0)^{b - 1} da

    Parameters
    ----------
    mode : str
        The failure.
    evidence : Evidence
        What was known, limits, consequences.
    horizon_days : int
        Days looked ahead, above 0. [d]

    Returns
    -------
    ModeRisk

    Notes
    -----
    The hazard is lognormal: its spread joins the base rate's, the handbook's and that of what was
    not seen. A seal seen dripping has failed: its probability is 1 until it is renewed.
    """
    rate = BASE_RATES[mode]
    known = evidence.known
    effects = multipliers(mode, evidence)
    age = known.history["bearing_age_days" if mode != SEAL_LEAK else "seal_age_days"].to_numpy()
    log_base = _log_base(mode, rate, evidence)
    exposure = _age_exposure(rate, age / DAYS_PER_YEAR, horizon_days / DAYS_PER_YEAR)
    log_hazard = log_base + effects.log_mean.to_numpy().sum(axis=1)
    spread = np.sqrt(rate.uncertainty**2 + effects.log_variance.to_numpy().sum(axis=1))
    expected = np.exp(log_hazard) * exposure
    width = np.exp(Z90 * spread)
    failed = _has_failed(mode, known)
    return ModeRisk(
        log_base,
        effects,
        exposure,
        spread,
        expected,
        *(np.where(failed, 1.0, -np.expm1(-expected * f)) for f in (1.0, 1 / width, width)),
    )


def _log_base(mode: str, rate: BaseRate, evidence: Evidence) -> Floats:
    """Return the rate without faults: field rate over the product of usual multipliers."""
    units = evidence.known.units
    usual = USUAL_LOG_PRODUCTS[mode][units["mounting"].cat.codes.to_numpy()]
    log_base: Floats = np.log(rate.field_rate) - usual + log_shape(rate, units)
    return log_base


def log_shape(rate: BaseRate, units: pd.DataFrame) -> Floats:
    """Return the logarithm of what the nameplate makes of a rate, blanks counting as usual.

    Parameters
    ----------
    rate : BaseRate
        With its covariates.
    units : DataFrame, shape (n_units, ...)
        The table ``units``.

    Returns
    -------
    ndarray, shape (n_units,)
    """
    total = np.zeros(len(units))
    for covariate in rate.covariates:
        relative = units[covariate.column].to_numpy(dtype=np.float64) / covariate.usual
        total += covariate.power * np.log(np.where(np.isnan(relative), 1.0, relative))
    for column, by_word in rate.words.items():
        logs = [np.log(by_word[word]) for word in units[column].cat.categories]
        total += np.array([*logs, 0.0])[units[column].cat.codes.to_numpy()]
    return total


def _age_exposure(rate: BaseRate, age: Floats, horizon: float) -> Floats:
    """Integrate (age / usual age)^(slope - 1) over the horizon, in years."""
    slope = rate.age_slope
    grown = (age + horizon) ** slope - age**slope
    exposure: Floats = grown / (slope * rate.usual_age ** (slope - 1))
    return exposure


def _has_failed(mode: str, known: Known) -> NDArray[np.bool_]:
    if mode != SEAL_LEAK:
        return np.zeros(len(known.units), dtype=bool)
    return known.history["leak_since"].notna().to_numpy(dtype=bool)
