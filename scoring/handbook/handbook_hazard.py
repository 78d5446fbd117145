"""The handbook's hazard of a unit without faults: nameplate and age."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.bearing_loads import log_of_the_load
from scoring.consequences.nameplate import read_nameplates
from scoring.handbook.base_rates import BASE_RATES, BaseRate
from scoring.handbook.multipliers import USUAL_LOG_PRODUCTS

Floats = NDArray[np.float64]


def log_base(mode: str, units: pd.DataFrame) -> Floats:
    """Return the logarithm of the rate without faults, at the usual age.

    The field rate, as the nameplate shapes it, over the product of usual multipliers.

    Parameters
    ----------
    mode : str
        The failure.
    units : DataFrame, shape (n_units, ...)
        The table ``units``.

    Returns
    -------
    ndarray, shape (n_units,)
        [log 1/year]
    """
    rate = BASE_RATES[mode]
    usual = USUAL_LOG_PRODUCTS[mode][units["mounting"].cat.codes.to_numpy()]
    base: Floats = np.log(rate.field_rate) - usual + log_shape(rate, units)
    return base


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
    if rate.by_bearing_load:
        total += log_of_the_load(read_nameplates(units))
    for covariate in rate.covariates:
        relative = units[covariate.column].to_numpy(dtype=np.float64) / covariate.usual
        total += covariate.power * np.log(np.where(np.isnan(relative), 1.0, relative))
    for column, by_word in rate.words.items():
        logs = [np.log(by_word[word]) for word in units[column].cat.categories]
        total += np.array([*logs, 0.0])[units[column].cat.codes.to_numpy()]
    return total


def age_exposure(rate: BaseRate, age: Floats, end: Floats) -> Floats:
    """Integrate (age / usual age)^(slope - 1) over a stretch of a part's life.

    Parameters
    ----------
    rate : BaseRate
        With its slope and usual age.
    age, end : ndarray
        Where the stretch begins and ends, at least 0. [year]

    Returns
    -------
    ndarray
        Years at the usual age in which as much happens. [year]

    Examples
    --------
    >>> age_exposure(BASE_RATES["seal_leak"], np.array([2.5]), np.array([3.5])).round(3)
    array([0.999])
    """
    slope = rate.age_slope
    exposure: Floats = (end**slope - age**slope) / (slope * rate.usual_age ** (slope - 1))
    return exposure
