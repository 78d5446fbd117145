"""The walkdowns that saw each check, in the order of records."""

from dataclasses import dataclass, replace

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import CHECKS
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

    def where(self, keep: NDArray[np.bool_] | Ints | slice) -> "Looks":
        """Return some of the looks; itself, where a mask keeps all."""
        if isinstance(keep, np.ndarray) and keep.dtype == np.bool_:
            keep = np.flatnonzero(keep)
            if len(keep) == len(self.row):
                return self
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


def looks_at_checks(records: Records, exceedance: pd.DataFrame) -> dict[str, Looks]:
    """Gather for each check the walkdowns that saw it.

    Parameters
    ----------
    records : Records
        The order of all records.
    exceedance : DataFrame, shape (n_walkdowns, n_checks)
        How bad each walkdown found each check; missing where it did not see it.

    Returns
    -------
    dict of str to Looks
    """
    row = records.walkdowns_in_order
    record = row + records.of_table["walkdowns"].start
    every = Looks(  # in order once, not for each check anew
        row,
        records.unit[record],
        records.position[record],
        records.day[record],
        records.known_from[record],
        np.empty(len(row)),
    )
    looks = {}
    for check in CHECKS:
        bad = exceedance[check.name].to_numpy()[row]
        looks[check.name] = replace(every, exceedance=bad).where(~np.isnan(bad))
    return looks
