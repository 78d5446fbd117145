"""A table as it was found: headings and text cells, with the row each came from."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any, NamedTuple

import numpy as np
import pyarrow as pa
from numpy.typing import NDArray

from scoring.contract import Kind
from scoring.errors import UnreadableFleetError
from scoring.intake.as_given import AsGiven
from scoring.intake.faults import MOST_TOLD
from scoring.records import SOURCE_STEP

ROWS_AT_ONCE = 1 << 16
"""Rows held as lists of text before they become columns."""


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
        One for each heading, an empty string for an empty cell; those of a data set may be encoded,
        each distinct text once.
    rows : ndarray of int64
        Row of each record in its source, plus ``SOURCE_STEP`` times the place of that source.
    ragged : tuple of RaggedRow
        Rows with more or fewer cells than there are headings.
    troubles : tuple of RawTrouble
        What the reader found wrong.
    given : tuple of AsGiven or None
        What each source looked like, where a plan read it.
    """

    name: str
    sources: tuple[str, ...]
    headings: tuple[str, ...]
    cells: tuple[Any, ...]
    rows: NDArray[np.int64]
    ragged: tuple[RaggedRow, ...] = ()
    troubles: tuple[RawTrouble, ...] = ()
    given: tuple[AsGiven | None, ...] = ()

    @classmethod
    def from_rows(
        cls,
        name: str,
        source: str,
        headings: list[str],
        rows: Iterable[list[str]],
        first_row: int = 2,
    ) -> "RawTable":
        """Build a table from lists of text, the odd rows set apart.

        Raises
        ------
        UnreadableFleetError
            If more than a thousand rows, and more than half of those so far, are odd.

        Examples
        --------
        >>> table = RawTable.from_rows("events", "events.csv", ["a", "b"], [["1", "2"], ["3"]])
        >>> table.rows.tolist(), table.ragged
        ([2], (RaggedRow(row=3, cells=('3',), width=2),))
        """
        width = len(headings)
        odd: list[RaggedRow] = []
        numbers: list[int] = []
        blocks: list[tuple[Any, ...]] = []
        waiting: list[list[str]] = []
        for number, row in enumerate(rows, first_row):
            if len(row) == width:
                numbers.append(number)
                waiting.append(row)
                if len(waiting) == ROWS_AT_ONCE:
                    blocks.append(_columns(waiting, width))
                    waiting.clear()
            elif any(cell.strip() for cell in row):
                odd.append(RaggedRow(number, tuple(row), width))
                _require_few(odd, len(numbers), source)
        blocks.append(_columns(waiting, width))
        return cls(
            name,
            (source,),
            tuple(h.strip() for h in headings),
            tuple(pa.concat_arrays(parts) for parts in zip(*blocks, strict=True)),
            np.array(numbers, dtype=np.int64),
            tuple(odd),
        )

    def column(self, heading: str) -> list[str]:
        """Return the cells under a heading."""
        cells: list[str] = self.cells[self.headings.index(heading)].to_pylist()
        return cells

    def at(self, places: NDArray[np.int64]) -> "RawTable":
        """Return this table with some of its rows only, and with all that are odd."""
        some = pa.array(places)
        cells = tuple(column.take(some) for column in self.cells)
        return replace(self, cells=cells, rows=self.rows[places])

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
            (*_given_by_source(self), *_given_by_source(other)),
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


def _columns(rows: list[list[str]], width: int) -> tuple[Any, ...]:
    columns = zip(*rows, strict=True) if rows else ([()] * width)
    return tuple(pa.array(column, pa.string()) for column in columns)


def _require_few(odd: list[RaggedRow], even: int, source: str) -> None:
    if len(odd) > MOST_TOLD and len(odd) > even:
        first = odd[0]
        raise UnreadableFleetError(
            f"{source}: of its first {len(odd) + even} rows {len(odd)} have more or fewer cells "
            f"than there are headings, so the rest was not read. The first, row {first.row}, has "
            f"{len(first.cells)} where the headings are {first.width}. Is it the right file?"
        )


def _given_by_source(table: RawTable) -> tuple[AsGiven | None, ...]:
    return table.given or (None,) * len(table.sources)


def _numbered(headings: tuple[str, ...]) -> dict[tuple[str, int], int]:
    """Return the place of each heading, a repeated one counted, so that none hides another."""
    places: dict[tuple[str, int], int] = {}
    met: Counter[str] = Counter()
    for place, heading in enumerate(headings):
        places[heading, met[heading]] = place
        met[heading] += 1
    return places


def _cells_or_blank(
    table: RawTable, places: dict[tuple[str, int], int], heading: tuple[str, int]
) -> Any:  # noqa: ANN401
    if heading in places:
        return table.cells[places[heading]]
    return pa.array([""] * len(table.rows), pa.string())
