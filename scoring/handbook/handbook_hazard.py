"""The handbook's hazard of a unit without faults: nameplate and age."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.handbook.base_rates import BASE_RATES, BaseRate
from scoring.handbook.multipliers import USUAL_LOG_PRODUCTS
from scoring.handbook.nameplate_columns import NameplateColumns

Floats = NDArray[np.float64]


def log_base(units: pd.DataFrame, plate: NameplateColumns) -> Floats:
    """Return the logarithm of the rate without faults, at the usual age.

    The field rate, as the nameplate shapes it, over the product of usual multipliers.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        The table ``units``.
    plate : NameplateColumns
        Their nameplates, as they shape the failure.

    Returns
    -------
    ndarray, shape (n_units,)
        [log 1/year]
    """
    mode = plate.terms.mode
    usual = USUAL_LOG_PRODUCTS[mode][units["mounting"].cat.codes.to_numpy()]
    base: Floats = np.log(BASE_RATES[mode].field_rate) - usual + plate.log_shape
    return base


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
