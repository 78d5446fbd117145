"""A table as it was found: headings and text cells, with the row each came from."""

from dataclasses import dataclass, replace
from typing import Any, NamedTuple

import numpy as np
import pyarrow as pa
from numpy.typing import NDArray

from scoring.contract import Kind
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
    only_in : tuple of Kind
        It matters only in columns of these kinds; empty: in all.
    """

    row: int
    heading: str
    value: str
    wrong: str
    right: str
    only_in: tuple[Kind, ...] = ()


class RaggedRow(NamedTuple):
    """A row with more or fewer cells than there are headings."""

    row: int
    cells: tuple[str, ...]
    width: int
    """How many headings its source has."""


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
    ragged : tuple of RaggedRow
        Rows with more or fewer cells than there are headings.
    troubles : tuple of RawTrouble
        What the reader found wrong.
    """

    name: str
    sources: tuple[str, ...]
    headings: tuple[str, ...]
    cells: tuple[Any, ...]
    rows: NDArray[np.int64]
    ragged: tuple[RaggedRow, ...] = ()
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
        ([2], (RaggedRow(row=3, cells=('3',), width=2),))
        """
        width = len(headings)
        even = [(n, row) for n, row in enumerate(rows, first_row) if len(row) == width]
        odd = [
            RaggedRow(n, tuple(row), width)
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
        mine, theirs = _numbered(self.headings), _numbered(other.headings)
        both = (*mine, *(heading for heading in theirs if heading not in mine))
        step = SOURCE_STEP * len(self.sources)
        return RawTable(
            self.name,
            self.sources + other.sources,
            tuple(heading for heading, _ in both),
            tuple(
                pa.concat_arrays(
                    [_cells_or_blank(self, mine, h), _cells_or_blank(other, theirs, h)]
                )
                for h in both
            ),
            np.concatenate([self.rows, other.rows + step]),
            self.ragged + tuple(odd._replace(row=odd.row + step) for odd in other.ragged),
            self.troubles + tuple(replace(t, row=t.row + step) for t in other.troubles),
        )

    def without(self, rows: NDArray[np.int64]) -> "RawTable":
        """Return this table without the rows of these numbers, and without their troubles."""
        kept = ~np.isin(self.rows, rows)
        gone = set(rows.tolist())
        return replace(
            self,
            cells=tuple(column.filter(pa.array(kept)) for column in self.cells),
            rows=self.rows[kept],
            ragged=tuple(odd for odd in self.ragged if odd.row not in gone),
            troubles=tuple(t for t in self.troubles if t.row not in gone),
        )


def _numbered(headings: tuple[str, ...]) -> dict[tuple[str, int], int]:
    """Return the place of each heading, a repeated one counted, so that none hides another."""
    places: dict[tuple[str, int], int] = {}
    for place, heading in enumerate(headings):
        places[heading, headings[:place].count(heading)] = place
    return places


def _cells_or_blank(
    table: RawTable, places: dict[tuple[str, int], int], heading: tuple[str, int]
) -> Any:  # noqa: ANN401
    if heading in places:
        return table.cells[places[heading]]
    return pa.array([""] * len(table.rows), pa.string())
