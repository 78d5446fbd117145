"""The ranking of all pieces: their rows merged by rank, some at a time."""

from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc

from scoring.contract.ranking import HOLD
from scoring.files.write_table import IN_PARTS, write_rows, write_table
from scoring.pieces.piece_files import rows_kept

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
        self._paths = paths
        keys, sizes = _keys_of(paths)
        order = pc.sort_indices(
            keys, [("runs", "ascending"), ("loss", "descending"), ("unit_id", "ascending")]
        ).to_numpy()
        piece = np.repeat(np.arange(len(sizes), dtype=np.int32), sizes)
        row = np.concatenate([np.arange(size, dtype=np.int32) for size in [0, *sizes]])
        self._piece, self._row = piece[order], row[order]
        counted = pc.value_counts(keys.column("verdict"))
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
            If there is no such format, or the file cannot be written.
        """
        if path.suffix in IN_PARTS:
            write_rows(self.parts(), path)
        else:
            write_table(self.head(len(self)), path)

    def _rows(self, start: int, stop: int) -> pd.DataFrame:
        """Return the rows of some ranks; of each piece they lie beside each other."""
        piece, row = self._piece[start:stop], self._row[start:stop]
        parts = []
        for one in np.unique(piece).tolist() or [0]:
            rows = row[piece == one]
            ends = (int(rows[0]), int(rows[-1]) + 1) if len(rows) else (0, 0)
            parts.append(rows_kept(self._paths[one], *ends))
        order = np.empty(len(piece), dtype=np.int64)
        order[np.argsort(piece, kind="stable")] = np.arange(len(piece))
        frame: pd.DataFrame = pa.concat_tables(parts).take(pa.array(order)).to_pandas()
        frame["rank"] = np.arange(start + 1, stop + 1)
        return frame


def _keys_of(paths: Sequence[Path]) -> tuple[pa.Table, list[int]]:
    """Return by what rows are ranked, and how many each file has; the files are let go."""
    keys = []
    for path in paths:
        with pa.memory_map(str(path)) as source:
            table = pa.ipc.open_file(source).read_all()
            verdict = table.column("verdict").cast(pa.string())
            columns = {
                "runs": pc.not_equal(verdict, HOLD),
                "loss": table.column("expected_loss"),
                "unit_id": table.column("unit_id").cast(pa.large_string()),
                "verdict": verdict.dictionary_encode(),
            }
            keys.append(pa.table(columns).take(pa.array(np.arange(len(table)))))
    together = pa.concat_tables(keys).unify_dictionaries()
    return together, [len(one) for one in keys]
