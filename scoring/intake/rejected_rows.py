"""Rejected rows: by key for records that speak of them, as found for those who mend them."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
import pyarrow as pa
from numpy.typing import NDArray

from scoring.intake.cells import trimmed
from scoring.intake.raw import RawTable
from scoring.records import SOURCE_STEP


@dataclass(frozen=True)
class RejectedRows:
    """Rows that were rejected, as found.

    Attributes
    ----------
    headings : tuple of str
        As found.
    rows : list of list of str
        Their cells, also the odd ones.
    """

    headings: tuple[str, ...]
    rows: list[list[str]]

    @classmethod
    def of(cls, raw: RawTable, bad: NDArray[np.bool_]) -> "RejectedRows":
        """Take the bad rows, and all of odd length, out of a table as found."""
        cells = [column.filter(pa.array(bad)).to_pylist() for column in raw.cells]
        rows = [list(row) for row in zip(*cells, strict=True)]
        return cls(raw.headings, rows + [list(odd.cells) for odd in raw.ragged])


def rejected_by_key(raw: RawTable, bad: NDArray[np.bool_], key_heading: str) -> "pd.Series[str]":
    """Say for each key of a rejected row where that row is.

    Parameters
    ----------
    raw : RawTable
        The table as found.
    bad : ndarray of bool, shape (n_rows,)
        Which of its rows are rejected; those of odd length are so besides.
    key_heading : str
        Heading of its key, as found.

    Returns
    -------
    Series
        ``row N of SOURCE`` by key.
    """
    keys, rows = rows_by_key(raw, key_heading)
    is_bad = np.isin(rows, np.concatenate([raw.rows[bad], [odd.row for odd in raw.ragged]]))
    keys, rows = keys[is_bad], rows[is_bad]
    rejected = pd.Series(_places(raw, rows), index=keys, dtype=object)
    return rejected[(rejected.index != "") & ~rejected.index.duplicated()]


def rows_by_key(raw: RawTable, key_heading: str) -> tuple[NDArray[np.object_], NDArray[np.int64]]:
    """Return the key of every row, also of those of odd length, and the number of that row."""
    if key_heading not in raw.headings:
        return np.empty(0, dtype=object), np.empty(0, dtype=np.int64)
    place = raw.headings.index(key_heading)
    keys = trimmed(raw.cells[place]).to_numpy(zero_copy_only=False)
    odd = [(o.cells[place].strip(), o.row) for o in raw.ragged if len(o.cells) > place]
    return (
        np.concatenate([keys.astype(object), np.array([k for k, _ in odd], dtype=object)]),
        np.concatenate([raw.rows, np.array([row for _, row in odd], dtype=np.int64)]),
    )


def _places(raw: RawTable, rows: NDArray[np.int64]) -> NDArray[np.object_]:
    source, row = np.divmod(rows, SOURCE_STEP)
    names = np.array(raw.sources, dtype=object)[source]
    places: NDArray[np.object_] = "row " + row.astype(str).astype(object) + " of " + names
    return places
