"""A table as it was found: headings and text cells, with the row each came from."""

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pyarrow as pa
from numpy.typing import NDArray

from scoring.records import SOURCE_STEP


@dataclass(frozen=True)
class RawTrouble:
    """Something wrong with a cell or a row that only its reader could see.

    Attributes
    ----------
    row : int
        Row as a spreadsheet counts it; the headings are row 1.
    heading : str
        Heading of the cell; empty if the whole row is meant.
    value : str
        What was found.
    wrong, right : str
        What is wrong, and what would be right.
    """

    row: int
    heading: str
    value: str
    wrong: str
    right: str


@dataclass(frozen=True)
class RawTable:
    """A table of text cells.

    Attributes
    ----------
    name : str
        The table of the contract it stands for.
    sources : tuple of str
        Files or sheets it was read from, as a person knows them.
    headings : tuple of str
        As found, without surrounding spaces.
    cells : tuple of pyarrow string arrays
        One for each heading, an empty string for an empty cell.
    rows : ndarray of int64
        Row of each record in its source, plus ``SOURCE_STEP`` times the place of that source.
    ragged : tuple of (int, tuple of str)
        Rows with more or fewer cells than there are headings.
    troubles : tuple of RawTrouble
        What the reader found wrong.
    """

    name: str
    sources: tuple[str, ...]
    headings: tuple[str, ...]
    cells: tuple[Any, ...]
    rows: NDArray[np.int64]
    ragged: tuple[tuple[int, tuple[str, ...]], ...] = ()
    troubles: tuple[RawTrouble, ...] = ()

    @classmethod
    def from_rows(
        cls,
        name: str,
        source: str,
        headings: list[str],
        rows: list[list[str]],
        first_row: int = 2,
    ) -> "RawTable":
        """Build a table from lists of text, the odd rows set apart.

        Examples
        --------
        >>> table = RawTable.from_rows("events", "events.csv", ["a", "b"], [["1", "2"], ["3"]])
        >>> table.rows.tolist(), table.ragged
        ([2], ((3, ('3',)),))
        """
        width = len(headings)
        even = [(n, row) for n, row in enumerate(rows, first_row) if len(row) == width]
        odd = [
            (n, tuple(row))
            for n, row in enumerate(rows, first_row)
            if len(row) != width and any(cell.strip() for cell in row)
        ]
        columns = list(zip(*(row for _, row in even), strict=True)) if even else [()] * width
        return cls(
            name,
            (source,),
            tuple(h.strip() for h in headings),
            tuple(pa.array(column, pa.string()) for column in columns),
            np.array([n for n, _ in even], dtype=np.int64),
            tuple(odd),
        )

    def column(self, heading: str) -> list[str]:
        """Return the cells under a heading."""
        cells: list[str] = self.cells[self.headings.index(heading)].to_pylist()
        return cells

    def with_added(self, other: "RawTable") -> "RawTable":
        """Return this table with the rows of another below, under the headings of both.

        Examples
        --------
        >>> one = RawTable.from_rows("events", "one.csv", ["a", "b"], [["1", "2"]])
        >>> two = RawTable.from_rows("events", "two.csv", ["a", "c"], [["3", "4"]])
        >>> both = one.with_added(two)
        >>> both.headings, [cells.to_pylist() for cells in both.cells]
        (('a', 'b', 'c'), [['1', '3'], ['2', ''], ['', '4']])
        """
        new = tuple(h for h in other.headings if h not in self.headings)
        headings = (*self.headings, *new)
        step = SOURCE_STEP * len(self.sources)
        cells = tuple(
            pa.concat_arrays([_cells_or_blank(self, h, i), _cells_or_blank(other, h, None)])
            for i, h in enumerate(headings)
        )
        return RawTable(
            self.name,
            self.sources + other.sources,
            headings,
            cells,
            np.concatenate([self.rows, other.rows + step]),
            self.ragged + tuple((row + step, row_cells) for row, row_cells in other.ragged),
            self.troubles + tuple(replace(t, row=t.row + step) for t in other.troubles),
        )


def _cells_or_blank(table: RawTable, heading: str, place: int | None) -> Any:  # noqa: ANN401
    if place is not None and place < len(table.headings):
        return table.cells[place]
    if heading in table.headings:
        return table.cells[table.headings.index(heading)]
    return pa.array([""] * len(table.rows), pa.string())
