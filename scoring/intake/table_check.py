"""One table on its way through the checks: which of its rows are bad so far, and why."""

from typing import Protocol

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import WALKDOWNS, Table
from scoring.intake.details_of_looks import fill_in_what_details_say
from scoring.intake.duplicate_keys import find_double_keys
from scoring.intake.faults import MOST_TOLD, Faults
from scoring.intake.look_alike_ids import fault_look_alikes
from scoring.intake.raw import RawTable
from scoring.intake.read_table import ReadTable, read_table
from scoring.intake.rejected_rows import RejectedRows, rejected_by_key
from scoring.records import ROW, empty_table


class FindBroken(Protocol):
    """Finds broken rows among good ones and adds their faults."""

    def __call__(self, frame: pd.DataFrame, *, faults: Faults) -> NDArray[np.bool_]:
        """Return which rows are broken."""


class TableCheck:
    """One table on its way through the checks.

    Parameters
    ----------
    table : Table
        Its contract.
    read : ReadTable
        Its rows.
    faults : Faults
        Collects what is wrong.
    """

    def __init__(self, table: Table, read: ReadTable, faults: Faults) -> None:
        self.table = table
        self.read = read
        self.faults = faults
        self.bad = read.bad.copy()
        self.repeated = np.zeros(len(read.frame), dtype=bool)

    @classmethod
    def begin(cls, table: Table, raw: RawTable, mapping: dict[str, str]) -> "TableCheck":
        """Read a table's cells."""
        faults = Faults(table.name, raw.sources, most=MOST_TOLD)
        read = read_table(raw, table, mapping, faults)
        if table.name == WALKDOWNS.name:
            fill_in_what_details_say(read.frame)
        return cls(table, read, faults)

    def require_rows(self) -> None:
        """Add a fault where there are headings only."""
        if self.read.holds_no_rows and self.usable:
            self.faults.add_one(1, "", "", "holds headings but no rows", "one row for each reducer")

    def reject(self, rows: NDArray[np.bool_]) -> None:
        """Mark rows as bad."""
        self.bad |= rows

    def settle_keys(self) -> None:
        """Let each key name one row."""
        self.repeated, clashing = find_double_keys(self.table, self.read, ~self.bad, self.faults)
        self.reject(clashing)

    def settle_look_alikes(self) -> None:
        """Refuse ids that look the same as another one and are not."""
        names = [name for name in (self.table.key, "asset_id") if name in self.read.frame.columns]
        kept = self._kept()
        frame = self._rows_of(kept, [*names, ROW])
        self.bad[np.flatnonzero(kept)[fault_look_alikes(self.table, frame, self.faults)]] = True

    def _kept(self) -> NDArray[np.bool_]:
        return ~self.bad & ~self.repeated

    def good(self) -> pd.DataFrame:
        """Return the rows without a fault so far, each once."""
        if not self.usable:
            return empty_table(self.table)
        return self._rows_of(self._kept())

    def _rows_of(self, kept: NDArray[np.bool_], names: list[str] | None = None) -> pd.DataFrame:
        """Return some rows; where they are all of them, nothing of them is copied."""
        frame = self.read.frame if names is None else self.read.frame[names]
        if kept.all():
            return frame.copy(deep=False)
        return frame.loc[kept].reset_index(drop=True)

    def reject_among_good(self, find: FindBroken) -> None:
        """Look at the good rows only, and mark those that are found broken."""
        kept = self._kept()
        frame = self._rows_of(kept)
        self.bad[np.flatnonzero(kept)[find(frame, faults=self.faults)]] = True

    @property
    def usable(self) -> bool:
        """Whether its headings are such that its rows can be used."""
        return not self.faults.touch_headings

    def rejected_by_key(self) -> "pd.Series[str]":
        """Say for each key of a bad row where that row is."""
        heading = self.faults.heading_of.get(self.table.key, self.table.key)
        return rejected_by_key(self.read.raw, self.bad, heading)

    def rejected_numbers(self) -> NDArray[np.int64]:
        """Return the numbers of the bad rows."""
        odd = np.array([odd.row for odd in self.read.raw.ragged], dtype=np.int64)
        return np.concatenate([self.read.raw.rows[self.bad], odd])

    def rejected(self) -> RejectedRows:
        """Return the bad rows as found."""
        return RejectedRows.of(self.read.raw, self.bad)
