"""Read every sheet of an OpenDocument spreadsheet (ODS) as a grid.

The format is ISO/IEC 26300: a packed file whose ``content.xml`` holds the tables.
"""

import zipfile
import zlib
from pathlib import Path
from xml.etree import ElementTree as ET

from scoring.errors import UnreadableFleetError
from scoring.files.sheet_bounds import LAST_ROW, require_bearable
from scoring.files.table_bounds import MOST_COLUMNS
from scoring.intake import RawTrouble
from scoring.reading_plan import Grid

_TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
_OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
_TEXT = "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}"
_LOGICAL = {"of:=TRUE()", "of:=FALSE()"}


def read_open_document_grids(path: Path) -> list[Grid]:
    """Read every sheet of an OpenDocument spreadsheet that holds anything.

    Raises
    ------
    UnreadableFleetError
        If it is none, or unpacks to too much.
    """
    try:
        require_bearable(path)
        with zipfile.ZipFile(path) as archive:
            root = ET.fromstring(archive.read("content.xml"))  # noqa: S314 - see above
    except (
        zipfile.BadZipFile,
        zlib.error,
        OSError,
        EOFError,
        KeyError,
        RuntimeError,
        ET.ParseError,
    ) as error:
        raise UnreadableFleetError(
            f"{path.name} cannot be read as an OpenDocument spreadsheet ({error}); "
            "save it anew as .ods or .xlsx in the spreadsheet program"
        ) from None
    grids = [_read(table, path) for table in root.iter(f"{_TABLE}table")]
    return [grid for grid in grids if len(grid.rows)]


def _read(table: ET.Element, path: Path) -> Grid:
    rows: list[list[str]] = []
    troubles: list[RawTrouble] = []
    merged: list[tuple[int, int, int, int]] = []
    for row in table.iter(f"{_TABLE}table-row"):
        again = _count(row, "number-rows-repeated")
        cells = _cells(row, len(rows) + 1, troubles, merged)
        if not any(cells) and again > 1:
            rows += [[] for _ in range(min(again, LAST_ROW - len(rows)))]
            continue
        rows += [list(cells) for _ in range(min(again, LAST_ROW - len(rows)))]
    while rows and not any(rows[-1]):
        rows.pop()
    return Grid.from_rows(
        path.name,
        table.get(f"{_TABLE}name", ""),
        rows,
        typed=True,
        troubles=tuple(troubles),
        merged=tuple(merged),
        folder=path.parent.name,
    )


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
        again = min(_count(cell, "number-columns-repeated"), MOST_COLUMNS - len(cells))
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
