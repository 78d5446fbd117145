"""Units at days, and which record of each was the last by then."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from scoring.timeline.order import number_of_unit_day

Ints = NDArray[np.int64]
Days = NDArray[np.datetime64]

NEVER = np.datetime64("3000-01-01", "D")
"""A day after all others."""


@dataclass(frozen=True)
class UnitDays:
    """Units at days, sorted by unit and then by day; a unit may come at many days.

    Attributes
    ----------
    unit : ndarray of int, shape (n_unit_days,)
        Place in ``Fleet.units``.
    day : ndarray of datetime64[D], shape (n_unit_days,)
        The day, to its end.
    """

    unit: Ints
    day: Days

    @cached_property
    def key(self) -> Ints:
        """One number for each unit and day, rising."""
        return number_of_unit_day(self.unit, self.day)

    def last(self, unit: Ints, since: Days) -> Ints:
        """Return which of some spells, sorted as unit-days are, is the last begun by each day.

        Parameters
        ----------
        unit : ndarray of int, shape (n_spells,)
            Whose it is.
        since : ndarray of datetime64[D], shape (n_spells,)
            Its first day.

        Returns
        -------
        ndarray of int, shape (n_unit_days,)
            Place among the spells; -1 where the unit has none by then.

        Examples
        --------
        >>> days = np.array(["2024-01-05", "2024-01-09", "2024-01-09"], dtype="datetime64[D]")
        >>> unit_days = UnitDays(np.array([0, 0, 1]), days)
        >>> begun = np.array(["2024-01-05", "2024-01-07"], dtype="datetime64[D]")
        >>> unit_days.last(np.array([0, 0]), begun).tolist()
        [0, 1, -1]
        """
        return self._last(unit, number_of_unit_day(unit, since))

    def _last(self, unit: Ints, begun: Ints) -> Ints:
        """Return the same of spells by the number of the unit and the first day of each."""
        size = len(self.unit)
        if len(unit) == 0:
            return np.full(size, -1, dtype=np.int64)
        first = np.searchsorted(self.key, begun, side="left")
        last = np.cumsum(np.bincount(first, minlength=size + 1)[:size]) - 1
        last[(last >= 0) & (unit[last] != self.unit)] = -1
        return last

    def newest(self, unit: Ints, known_from: Days) -> Ints:
        """Return which record is the newest known by each day, however late it was written.

        Parameters
        ----------
        unit : ndarray of int, shape (n_records,)
            Whose it is; records stand in the order in which things happened.
        known_from : ndarray of datetime64[D], shape (n_records,)
            From when on each is known.

        Returns
        -------
        ndarray of int, shape (n_unit_days,)
            Place among the records; -1 where none is known.

        Examples
        --------
        >>> days = np.array(["2024-01-05", "2024-01-09"], dtype="datetime64[D]")
        >>> unit_days = UnitDays(np.array([0, 0]), days)
        >>> known_from = np.array(["2024-01-08", "2024-01-04"], dtype="datetime64[D]")
        >>> unit_days.newest(np.array([0, 0]), known_from).tolist()
        [1, 1]
        """
        known = number_of_unit_day(unit, known_from)
        if bool((known[1:] >= known[:-1]).all()):  # written down in the order in which it happened
            return self._last(unit, known)
        order = np.argsort(known, kind="stable")
        last = self._last(unit[order], known[order])
        return np.where(last >= 0, np.maximum.accumulate(order)[last], -1)
