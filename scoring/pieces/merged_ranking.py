"""The ranking of all pieces: their rows merged by rank, some at a time."""

from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc
from numpy.typing import NDArray

from scoring.contract.ranking import HOLD
from scoring.files.write_table import write_rows

ROWS_AT_ONCE = 50_000
"""Rows merged at once. Ours."""


class MergedRanking:
    """Ranked rows of pieces, by the rank of each among all.

    Parameters
    ----------
    paths : sequence of Path
        Files of ranked rows, each in the order of its own ranks.
    """

    def __init__(self, paths: Sequence[Path]) -> None:
        self._sources = [pa.memory_map(str(path)) for path in paths]
        self._tables = [pa.ipc.open_file(source).read_all() for source in self._sources]
        self._piece, self._row = self._in_order()
        verdicts = [table.column("verdict").cast(pa.string()) for table in self._tables]
        counted = pc.value_counts(pa.chunked_array([c for v in verdicts for c in v.chunks]))
        self.counts = {one["values"]: one["counts"] for one in counted.to_pylist()}
        """How many units have each verdict."""

    def __len__(self) -> int:
        """Return how many units are ranked."""
        return len(self._piece)

    def head(self, rows: int) -> pd.DataFrame:
        """Return the first rows, as the contract's table ``ranking``."""
        return self._rows(0, min(rows, len(self)))

    def parts(self) -> Iterator[pd.DataFrame]:
        """Yield all rows by rank, some at a time."""
        for start in range(0, len(self), ROWS_AT_ONCE):
            yield self._rows(start, min(start + ROWS_AT_ONCE, len(self)))

    def write(self, path: Path) -> None:
        """Write all rows in the format that the suffix of a path names.

        Raises
        ------
        FixableError
            If it is neither ``.csv`` nor ``.parquet``, or the file cannot be written.
        """
        write_rows(self.parts(), path)

    def _in_order(self) -> tuple[NDArray[np.int32], NDArray[np.int32]]:
        """Return piece and row of each rank: holds, the greatest loss, the id."""
        keys = pa.concat_tables(
            pa.table(
                {
                    "runs": pc.not_equal(table.column("verdict").cast(pa.string()), HOLD),
                    "loss": table.column("expected_loss"),
                    "unit_id": table.column("unit_id").cast(pa.large_string()),
                }
            )
            for table in self._tables
        )
        order = pc.sort_indices(
            keys, [("runs", "ascending"), ("loss", "descending"), ("unit_id", "ascending")]
        ).to_numpy()
        sizes = [len(table) for table in self._tables]
        piece = np.repeat(np.arange(len(sizes), dtype=np.int32), sizes)
        row = np.concatenate([np.arange(size, dtype=np.int32) for size in [0, *sizes]])
        return piece[order], row[order]

    def _rows(self, start: int, stop: int) -> pd.DataFrame:
        """Return the rows of some ranks; of each piece they lie beside each other."""
        piece, row = self._piece[start:stop], self._row[start:stop]
        there = np.unique(piece)
        some = [(one, row[piece == one]) for one in there.tolist()]
        parts = [self._tables[one].slice(rows[0], len(rows)) for one, rows in some]
        order = np.empty(len(piece), dtype=np.int64)
        order[np.argsort(piece, kind="stable")] = np.arange(len(piece))
        if not parts:
            parts = [self._tables[0].slice(0, 0)]
        frame: pd.DataFrame = pa.concat_tables(parts).take(pa.array(order)).to_pandas()
        frame["rank"] = np.arange(start + 1, stop + 1)
        return frame
