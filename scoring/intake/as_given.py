"""Faults are told as a person finds them: at the own heading and row, with the cell as given."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray


@dataclass(frozen=True)
class AsGiven:
    """What one source of a table looked like before a plan read it.

    Attributes
    ----------
    headings : mapping of str to str
        By column of the contract, the heading as found.
    heading_row : int
        Where the headings are.
    rows : ndarray of int64
        Rows of the source.
    cells : mapping of str to pyarrow string array
        By column of the contract, the cells of these rows as found.
    """

    headings: Mapping[str, str] = field(default_factory=dict)
    heading_row: int = 1
    rows: NDArray[np.int64] = field(default_factory=lambda: np.empty(0, dtype=np.int64))
    cells: Mapping[str, Any] = field(default_factory=dict)


def told_as_given(
    faults: pd.DataFrame, sources: tuple[str, ...], given: tuple[AsGiven | None, ...]
) -> pd.DataFrame:
    """Tell faults at the headings and rows of their sources, with the cells as found.

    Parameters
    ----------
    faults : DataFrame
        Of one table.
    sources : tuple of str
        Its sources.
    given : tuple of AsGiven or None
        What these looked like.

    Returns
    -------
    DataFrame
    """
    told = faults.copy()
    for source, look in zip(sources, given, strict=False):
        here = (faults["source"] == source).to_numpy()
        if look is None or not here.any():
            continue
        for column in faults.loc[here, "column"].unique():
            spots = here & (faults["column"] == column).to_numpy()
            _tell(told, spots, str(column), look)
    return told


def _tell(told: pd.DataFrame, spots: NDArray[np.bool_], column: str, look: AsGiven) -> None:
    rows = told.loc[spots, "row"].to_numpy()
    of_headings = rows <= 1
    told.loc[spots, "row"] = np.where(of_headings, look.heading_row, rows)
    if column in look.headings:
        told.loc[spots, "column"] = look.headings[column]
    if column in look.cells and len(look.rows):
        place = np.searchsorted(look.rows, rows).clip(0, len(look.rows) - 1)
        found = (look.rows[place] == rows) & ~of_headings
        values = told.loc[spots, "value"].to_numpy(dtype=object)
        cells = look.cells[column].take(place).to_pylist()
        told.loc[spots, "value"] = [
            cell if hit and cell else value
            for cell, hit, value in zip(cells, found, values, strict=True)
        ]
