"""Age in service: of bearing and seal from shaft to shaft, of a joint since it was hung."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

Days = NDArray[np.datetime64]


class Hangings:
    """The units of a fleet, along each reducer in the order in which it was hung.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        The table ``units``.
    """

    def __init__(self, units: pd.DataFrame) -> None:
        day = "datetime64[D]"
        self._started = units["started_on"].fillna(units["installed_on"]).to_numpy().astype(day)
        asset = units["asset_id"].to_numpy(dtype=object)
        alone = pd.isna(asset)
        chain = np.where(alone, -np.arange(1, len(units) + 1), pd.factorize(asset)[0])
        # Hung and taken off within a day, it goes before the shaft that it was hung on next.
        left, hung = units["out_of_service_on"].to_numpy(), units["installed_on"].to_numpy()
        self._ended = left.astype(day)
        self._order = np.lexsort([left, hung, chain])
        self._first = np.ones(len(chain), dtype=bool)
        self._first[1:] = chain[self._order][1:] != chain[self._order][:-1]

    def ages(self, renewed_on: Days, today: np.datetime64) -> NDArray[np.float64]:
        """Return for how long a part has been in service, over all shafts of its reducer.

        Parameters
        ----------
        renewed_on : ndarray of datetime64[D], shape (n_units,)
            When the part was last renewed on this shaft; missing if never.
        today : datetime64[D]
            The day.

        Returns
        -------
        ndarray of float, shape (n_units,)
            Days in service; time between two shafts does not count. [d]
        """
        started, order = self._started, self._order
        ended = np.fmin(self._ended, today)
        renewed = ~np.isnat(renewed_on)
        since = np.where(renewed, np.fmax(renewed_on, started), started)
        here = np.maximum((ended - since) / np.timedelta64(1, "D"), 0.0)

        # Along each reducer: sum what came since the last renewal.
        anew = self._first | renewed[order]
        total = np.cumsum(here[order])
        before = np.where(anew, total - here[order], 0.0)
        age = np.empty(len(order))
        age[order] = total - np.maximum.accumulate(before)
        return age


def days_on_the_shaft(
    units: pd.DataFrame,
    place: NDArray[np.int64],
    hung_on: Days,
    day: Days | np.datetime64,
) -> NDArray[np.float64]:
    """Return for how long a joint has been in service since its unit was hung.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        The table ``units``.
    place : ndarray of int, shape (n,)
        Which unit.
    hung_on : ndarray of datetime64[D], shape (n,)
        When it was hung last.
    day : datetime64[D] or ndarray of it, shape (n,)
        As of when, in service.

    Returns
    -------
    ndarray of float, shape (n,)
        Not below 0. [d]
    """
    started = units["started_on"].fillna(units["installed_on"]).to_numpy().astype("datetime64[D]")
    since = np.fmax(started[place], hung_on.astype("datetime64[D]"))
    days: NDArray[np.float64] = np.maximum((day - since) / np.timedelta64(1, "D"), 0.0)
    return days
