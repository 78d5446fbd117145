"""What is wrong with the records: where, what was given, what would be right."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.records import SOURCE_STEP

MOST_TOLD = 1000
"""Faults of one table that are told one by one; the others are counted. Nobody mends more by hand,
and the rejected rows are written out whole. Ours."""

FAULT_COLUMNS = ("table", "source", "row", "column", "value", "wrong", "right")


@dataclass
class Faults:
    """Collects the faults of one table.

    Attributes
    ----------
    table : str
        The table.
    sources : tuple of str
        The files or sheets it was read from.
    heading_of : dict of str to str
        Under which heading each column of the contract was found; filled while reading.
    most : int or None
        So many are kept, the others are counted; None: all are kept.
    untold : int
        How many were only counted.
    """

    table: str
    sources: tuple[str, ...]
    heading_of: dict[str, str] = field(default_factory=dict)
    most: int | None = None
    untold: int = 0
    _told: int = 0
    _parts: list[pd.DataFrame] = field(default_factory=list)

    def add(
        self,
        rows: NDArray[np.int64],
        column: str,
        values: Sequence[str] | NDArray[np.object_],
        wrong: str | Sequence[str] | NDArray[np.object_],
        right: str | Sequence[str] | NDArray[np.object_],
    ) -> None:
        """Add a fault for each of ``rows``.

        Parameters
        ----------
        rows : ndarray of int64
            Rows as counted in ``RawTable.rows``; 1 where the headings are meant.
        column : str
            Heading as found; empty where the whole row is meant.
        values, wrong, right : str or sequence of str
            What was given, what is wrong with it, what would be right; one for all or one each.
        """
        if len(rows) == 0:
            return
        room = len(rows) if self.most is None else max(self.most - self._told, 0)
        kept = min(room, len(rows))
        self.untold += len(rows) - kept
        self._told += kept
        if kept:
            words = {"value": values, "wrong": wrong, "right": right}
            some = {name: w if isinstance(w, str) else w[:kept] for name, w in words.items()}
            self._parts.append(pd.DataFrame({"row": rows[:kept], "column": column, **some}))

    def add_one(self, row: int, column: str, value: str, wrong: str, right: str) -> None:
        """Add a single fault."""
        self.add(np.array([row]), column, [value], wrong, right)

    def frame(self) -> pd.DataFrame:
        """Return the faults in the order of rows.

        Returns
        -------
        DataFrame
            Columns ``table``, ``source``, ``row``, ``column``, ``value``, ``wrong``, ``right``.
        """
        if not self._parts:
            return _no_faults().copy()
        faults = pd.concat(self._parts, ignore_index=True).sort_values("row", kind="stable")
        place, row = np.divmod(faults["row"].to_numpy(), SOURCE_STEP)
        sources = np.array(self.sources, dtype=object)[place]
        return faults.assign(table=self.table, source=sources, row=row)[list(FAULT_COLUMNS)]

    @property
    def touch_headings(self) -> bool:
        """Whether the headings themselves are wrong, so that no row can be used."""
        return any(bool((part["row"] % SOURCE_STEP <= 1).any()) for part in self._parts)


@cache
def _no_faults() -> pd.DataFrame:
    """Return a frame without rows; to make one takes as long as to read several columns."""
    return pd.DataFrame(columns=list(FAULT_COLUMNS), dtype=object).astype({"row": "int64"})
