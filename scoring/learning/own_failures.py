"""A unit's own failures so far, beside those that the handbook expects of its kind.

Of its kind, with usual faults, load, duty and peak: those of the unit itself are left out, for
else a worse finding or harder work would make its own failures look fewer than expected, and
could lower its risk.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Days = NDArray[np.datetime64]

FAILURES_OF_THE_HANDBOOK = 4.0
"""Expected failures that the handbook's word on a single unit is worth: chosen on generated
fleets. [-]"""


@dataclass(frozen=True)
class OwnFailures:
    """What became of units so far.

    Attributes
    ----------
    failures, expected : ndarray, shape (n_units,)
        Failures while they were observed, and what the handbook expects of their kind. [-]
    """

    failures: Floats
    expected: Floats

    def where(self, keep: NDArray[np.bool_] | Ints) -> "OwnFailures":
        """Return some of the units."""
        return OwnFailures(self.failures[keep], self.expected[keep])

    @property
    def log_ratio(self) -> Floats:
        r"""Logarithm [-] of failures over expected ones, drawn towards none.

        .. math:: \log \{(failures + 4) / (expected + 4)\}

        Shrinkage by a gamma law, as for observed over expected counts (textbook).

        Examples
        --------
        >>> OwnFailures(np.array([0.0, 2.0]), np.array([0.0, 0.5])).log_ratio.round(3).tolist()
        [0.0, 0.288]
        """
        prior = FAILURES_OF_THE_HANDBOOK
        ratio: Floats = np.log((self.failures + prior) / (self.expected + prior))
        return ratio


def before_each_row(place: Ints, failures: Floats, expected: Floats) -> OwnFailures:
    """Return what had become of each row's unit before it.

    Parameters
    ----------
    place : ndarray of int, shape (n_rows,)
        The unit; rows are sorted by unit and time.
    failures, expected : ndarray, shape (n_rows,)
        Of each row. [-]

    Returns
    -------
    OwnFailures
        One row for each.

    Examples
    --------
    >>> own = before_each_row(np.array([3, 3, 7]), np.array([1.0, 0, 1]), np.array([0.5, 0.2, 0.1]))
    >>> own.failures.tolist(), own.expected.round(9).tolist()
    ([0.0, 1.0, 0.0], [0.0, 0.5, 0.0])
    """
    starts = np.append(True, place[1:] != place[:-1])[: len(place)]
    first = np.flatnonzero(starts)[np.cumsum(starts) - 1]

    def before(values: Floats) -> Floats:
        sums = np.cumsum(values) - values
        outset: Floats = sums - sums[first]
        return outset

    return OwnFailures(before(failures), before(expected))


@dataclass(frozen=True)
class FailureTally:
    """Failures of one mode and what was expected, to be counted up to any day.

    Attributes
    ----------
    n_units : int
        Units of the fleet.
    place : ndarray of int, shape (n_rows,)
        The unit, as its place in ``Fleet.units``.
    start_on, stop_on : ndarray of datetime64[D], shape (n_rows,)
        A row runs from the day after the first to the end of the second.
    failures, expected : ndarray, shape (n_rows,)
        Of each row; failures fall on its last day. [-]
    """

    n_units: int
    place: Ints
    start_on: Days
    stop_on: Days
    failures: Floats
    expected: Floats

    def as_of(self, day: np.datetime64) -> OwnFailures:
        """Return what had become of every unit of the fleet by the end of a day.

        Parameters
        ----------
        day : datetime64[D]
            The day; of a row that reaches beyond it, what was expected counts in proportion.

        Returns
        -------
        OwnFailures
        """
        length = (self.stop_on - self.start_on) / np.timedelta64(1, "D")
        share = np.clip((day - self.start_on) / np.timedelta64(1, "D") / length, 0.0, 1.0)
        happened = self.failures * (self.stop_on <= day)

        def by_unit(values: Floats) -> Floats:
            return np.bincount(self.place, values, self.n_units).astype(np.float64)

        return OwnFailures(by_unit(happened), by_unit(self.expected * share))
