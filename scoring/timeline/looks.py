"""The walkdowns that saw one check, in the order of records."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.records import Fleet
from scoring.timeline.order import Records

Ints = NDArray[np.int64]


@dataclass(frozen=True)
class Looks:
    """The walkdowns that saw one check.

    Attributes
    ----------
    row : ndarray of int, shape (n_looks,)
        Row of the table ``walkdowns``; from its length on, rows of ``events``, which tell of a seat
        that slipped.
    unit, position : ndarray of int, shape (n_looks,)
        As in ``Records``; positions rise.
    day, known_from : ndarray of datetime64[D], shape (n_looks,)
        As in ``Records``.
    exceedance : ndarray of float, shape (n_looks,)
        How bad the value seen is.
    """

    row: Ints
    unit: Ints
    position: Ints
    day: NDArray[np.datetime64]
    known_from: NDArray[np.datetime64]
    exceedance: NDArray[np.float64]

    @classmethod
    def at(
        cls, check: str, fleet: Fleet, records: Records, exceedance: NDArray[np.float64]
    ) -> "Looks":
        """Gather the walkdowns that saw a check.

        Parameters
        ----------
        check : str
            Name of the check.
        fleet : Fleet
            Checked tables.
        records : Records
            Their order.
        exceedance : ndarray of float, shape (n_walkdowns,)
            How bad each walkdown found it.
        """
        seen = fleet.walkdowns[check].notna().to_numpy()
        row = records.walkdowns_in_order
        row = row[seen[row]]
        record = row + records.of_table["walkdowns"].start
        return cls(
            row,
            records.unit[record],
            records.position[record],
            records.day[record],
            records.known_from[record],
            exceedance[row],
        )

    def where(self, keep: NDArray[np.bool_] | Ints | slice) -> "Looks":
        """Return some of the looks."""
        return Looks(
            self.row[keep],
            self.unit[keep],
            self.position[keep],
            self.day[keep],
            self.known_from[keep],
            self.exceedance[keep],
        )

    def joined(self, other: "Looks") -> "Looks":
        """Return both, in the order of records."""
        order = np.argsort(np.concatenate([self.position, other.position]), kind="stable")
        pairs = [
            np.concatenate([getattr(self, name), getattr(other, name)])[order]
            for name in ("row", "unit", "position", "day", "known_from", "exceedance")
        ]
        return Looks(*pairs)
