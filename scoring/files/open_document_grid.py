"""Read every sheet of an OpenDocument spreadsheet (ODS) as a grid.

The format is ISO/IEC 26300: a packed file whose ``content.xml`` holds the tables.
"""

import zipfile
import zlib
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import IO
from xml.etree import ElementTree as ET

import numpy as np
import pyarrow as pa

from scoring.errors import UnreadableFleetError
from scoring.files.sheet_bounds import LAST_ROW, require_bearable
from scoring.files.table_bounds import MOST_COLUMNS, require_few_columns
from scoring.intake import RawTrouble
from scoring.reading_plan import Grid

_TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
_OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
_TEXT = "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}"
_DAMAGED = (
    zipfile.BadZipFile,
    zlib.error,
    OSError,
    EOFError,
    KeyError,
    RuntimeError,
    ET.ParseError,
)
MOST_REPEATED = 10_000
"""A filled row repeated more often is refused; planning value of ours."""

_LOGICAL = {"of:=TRUE()", "of:=FALSE()"}


def read_open_document_grids(path: Path) -> list[Grid]:
    """Read every sheet of an OpenDocument spreadsheet that holds anything.

    Raises
    ------
    UnreadableFleetError
        If it is none, unpacks to too much, or repeats filled rows without end.
    """
    try:
        require_bearable(path)
        with zipfile.ZipFile(path) as archive, archive.open("content.xml") as content:
            sheets = list(_sheets(content, path.name))
    except _DAMAGED as error:
        raise UnreadableFleetError(
            f"{path.name} cannot be read as an OpenDocument spreadsheet ({error}); "
            "save it anew as .ods or .xlsx in the spreadsheet program"
        ) from None
    return [sheet.grid(path) for sheet in sheets if sheet.rows]


@dataclass
class _Sheet:
    """One sheet while it is read: its filled rows with their numbers."""

    name: str
    rows: list[tuple[int, list[str]]] = field(default_factory=list)
    troubles: list[RawTrouble] = field(default_factory=list)
    merged: list[tuple[int, int, int, int]] = field(default_factory=list)
    next_row: int = 1

    def add(self, row: ET.Element, file: str) -> None:
        """Add a row, as often as it is repeated."""
        again = _count(row, "number-rows-repeated")
        cells = _cells(row, self.next_row, self.troubles, self.merged)
        if cells:
            require_few_columns(len(cells), f"{file}, sheet {self.name}, row {self.next_row},")
            if again > MOST_REPEATED or self.next_row > LAST_ROW:
                raise UnreadableFleetError(
                    f"{file}, sheet {self.name}, row {self.next_row} is repeated {again} times, as "
                    "no record is; delete what is filled below the records"
                )
            self.rows += [(self.next_row + step, list(cells)) for step in range(again)]
        self.next_row += again

    def grid(self, path: Path) -> Grid:
        """Return what was read."""
        width = max(len(cells) for _, cells in self.rows)
        columns = tuple(
            pa.array([c[place] if place < len(c) else "" for _, c in self.rows], pa.string())
            for place in range(width)
        )
        return Grid(
            path.name,
            self.name,
            columns,
            np.array([number for number, _ in self.rows], dtype=np.int64),
            typed=True,
            troubles=tuple(self.troubles),
            merged=tuple(self.merged),
            folder=path.parent.name,
        )


def _sheets(content: IO[bytes], file: str) -> Iterator[_Sheet]:
    """Read sheets row by row, keeping nothing of a row once it was read."""
    sheet = _Sheet("")
    for event, element in ET.iterparse(content, events=("start", "end")):  # noqa: S314 - see above
        if event == "start" and element.tag == f"{_TABLE}table":
            sheet = _Sheet(element.get(f"{_TABLE}name", ""))
        elif event == "end" and element.tag == f"{_TABLE}table-row":
            sheet.add(element, file)
            element.clear()
        elif event == "end" and element.tag == f"{_TABLE}table":
            element.clear()
            yield sheet


def _cells(
    row: ET.Element,
    number: int,
    troubles: list[RawTrouble],
    merged: list[tuple[int, int, int, int]],
) -> list[str]:
    cells: list[str] = []
    for cell in row:
        if cell.tag not in (f"{_TABLE}table-cell", f"{_TABLE}covered-table-cell"):
            continue
        again = min(_count(cell, "number-columns-repeated"), MOST_COLUMNS + 1 - len(cells))
        text = _text_of(cell)
        formula = cell.get(f"{_TABLE}formula", "")
        if formula and formula.replace(" ", "") not in _LOGICAL:
            right = "its value: copy the cell, then paste as values"
            troubles.append(RawTrouble(number, str(len(cells) + 1), formula, "is a formula", right))
        down, across = _count(cell, "number-rows-spanned"), _count(cell, "number-columns-spanned")
        if down > 1 or across > 1:
            place = len(cells) + 1
            merged.append((number, place, number + down - 1, place + across - 1))
        cells += [text] * again
    while cells and not cells[-1]:
        cells.pop()
    return cells


def _count(element: ET.Element, name: str) -> int:
    text = element.get(_TABLE + name, "1")
    return int(text) if text.isdigit() and len(text) < 10 else 1


def _text_of(cell: ET.Element) -> str:
    kind = cell.get(f"{_OFFICE}value-type", "")
    if kind == "boolean":
        return cell.get(f"{_OFFICE}boolean-value", "").upper()
    if kind == "date":
        return cell.get(f"{_OFFICE}date-value", "").removesuffix("T00:00:00")
    if kind in ("float", "percentage", "currency"):
        value = cell.get(f"{_OFFICE}value", "")
        return value.removesuffix(".0")
    lines = ["".join(part.itertext()) for part in cell.iter(f"{_TEXT}p")]
    return "\n".join(lines)
