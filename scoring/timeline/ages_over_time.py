"""Age in service of bearing and seal at many days, over all shafts of a reducer."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.timeline.order import number_of_unit_day
from scoring.timeline.timeline import Timeline
from scoring.timeline.unit_days import NEVER

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Days = NDArray[np.datetime64]

PARTS = ("bearing", "seal")
"""The parts that age."""


class ServiceClock:
    """Runs while a reducer is in service, on whichever shaft.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        The table ``units``.

    Attributes
    ----------
    chain : ndarray of int, shape (n_units,)
        Which reducer hangs there; one without an ``asset_id`` is a reducer of its own.
    """

    def __init__(self, units: pd.DataFrame) -> None:
        self._hung = _day_column(units["installed_on"])
        self._started = _day_column(units["started_on"].fillna(units["installed_on"]))
        left = _day_column(units["out_of_service_on"])
        self._left = np.where(np.isnat(left), NEVER, left)
        asset = units["asset_id"].to_numpy(dtype=object)
        alone = np.arange(len(units)) + len(units)
        self.chain: Ints = np.where(pd.isna(asset), alone, pd.factorize(asset)[0])
        # Hung and taken off within a day, it goes before the shaft that it was hung on next.
        self._order = np.lexsort([self._left, self._hung, self.chain])
        chain = self.chain[self._order]
        whole = self._served(self._order, self._left[self._order])
        whole[np.append(chain[1:] != chain[:-1], True)] = 0.0  # nothing follows its last shaft
        total = np.cumsum(whole) - whole
        first = np.append(True, chain[1:] != chain[:-1])
        self._before = np.empty(len(units))
        self._before[self._order] = total - np.maximum.accumulate(np.where(first, total, 0.0))

    def read(self, place: Ints, day: Days) -> Floats:
        """Return for how long a reducer had been in service on a day, since it was first hung.

        Parameters
        ----------
        place : ndarray of int, shape (n,)
            The unit, as its place in ``Fleet.units``.
        day : ndarray of datetime64[D], shape (n,)
            The day.

        Returns
        -------
        ndarray of float, shape (n,)
            Time between two shafts does not count. [d]
        """
        return self._before[place] + self._served(place, np.minimum(day, self._left[place]))

    def shaft_on(self, chain: Ints, day: Days) -> Ints:
        """Return the unit as which a reducer hangs on a day, or hung last."""
        hung = number_of_unit_day(self.chain[self._order], self._hung[self._order])
        last = np.searchsorted(hung, number_of_unit_day(chain, day), side="right") - 1
        place: Ints = self._order[last]
        return place

    def _served(self, place: Ints, until: Days) -> Floats:
        days: Floats = np.maximum((until - self._started[place]) / np.timedelta64(1, "D"), 0.0)
        return days


class Renewals:
    """Tells the age of a part of each reducer by what was known on a day.

    Parameters
    ----------
    timeline : Timeline
        The records.
    clock : ServiceClock
        The time in service.
    part : str
        One of ``PARTS``.

    Attributes
    ----------
    known_from : ndarray of datetime64[D], shape (n_renewals,)
        From when on each renewal is known.
    chain : ndarray of int, shape (n_renewals,)
        Of which reducer.
    shaft : ndarray of int, shape (n_renewals,)
        As which unit that reducer hangs on the day from which the renewal is known.
    """

    def __init__(self, timeline: Timeline, clock: ServiceClock, part: str) -> None:
        resets = timeline.resets
        new = np.flatnonzero(resets.new_bearing if part == "bearing" else resets.new_seal)
        chain = clock.chain[resets.unit[new]]
        order = np.argsort(number_of_unit_day(chain, resets.known_from[new]), kind="stable")
        renewed = new[order]
        self._clock = clock
        self.chain: Ints = chain[order]
        self.known_from: Days = resets.known_from[renewed]
        self.shaft: Ints = clock.shaft_on(self.chain, self.known_from)
        reading = clock.read(resets.unit[renewed], resets.day[renewed])
        # The latest known is the one with the highest reading, whenever it was written down.
        self._latest = pd.Series(reading).groupby(self.chain).cummax().to_numpy()

    def age(self, place: Ints, day: Days) -> Floats:
        """Return the age of the part as known by the end of a day.

        Parameters
        ----------
        place : ndarray of int, shape (n,)
            The unit, as its place in ``Fleet.units``; in service on that day.
        day : ndarray of datetime64[D], shape (n,)
            The day.

        Returns
        -------
        ndarray of float, shape (n,)
            In service. [d]
        """
        reading = self._clock.read(place, day)
        if len(self.chain) == 0:
            return reading
        chain = self._clock.chain[place]
        known = number_of_unit_day(self.chain, self.known_from)
        last = np.searchsorted(known, number_of_unit_day(chain, day), side="right") - 1
        own = (last >= 0) & (self.chain[last] == chain)
        return reading - np.where(own, self._latest[last], 0.0)


def _day_column(column: "pd.Series[pd.Timestamp]") -> Days:
    days: Days = column.to_numpy().astype("datetime64[D]")
    return days
