"""Which units are in service at the end of a day."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray


def places_in_service(units: pd.DataFrame, as_of: pd.Timestamp) -> NDArray[np.int64]:
    """Return the places of the units that are in service at the end of a day.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        The table ``units``.
    as_of : Timestamp
        The day.

    Returns
    -------
    ndarray of int
    """
    hung, gone = (
        units[name].to_numpy().astype("datetime64[D]") <= as_of.to_datetime64()
        for name in ("installed_on", "out_of_service_on")
    )
    return np.flatnonzero(hung & ~gone)
