"""Read an XLSX workbook as text cells: no formula is trusted, no merged cell is guessed."""

import warnings
import zipfile
import zlib
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from typing import Any

from openpyxl import load_workbook
from openpyxl.utils.exceptions import InvalidFileException

from scoring.contract import TABLE_BY_NAME
from scoring.errors import UnreadableFleetError
from scoring.files.workbook_cells import cell_text
from scoring.intake import RawTable, RawTrouble

EXPLANATIONS = "explanations"
"""A sheet of our own templates that holds no records."""

ROUTE = "route"
"""Another one: where the units of a walk stand."""

LARGEST_UNPACKED = 1 << 30
"""A workbook that unpacks to more is refused; planning value of ours. [byte]"""


_DAMAGED = (
    InvalidFileException,
    zipfile.BadZipFile,
    zlib.error,
    OSError,
    EOFError,
    SyntaxError,  # what the XML parser raises
    LookupError,
    ValueError,
    TypeError,
    AttributeError,
)
"""What openpyxl raises on a file that is damaged or no workbook."""


def read_workbook(path: Path) -> tuple[dict[str, RawTable], list[str]]:
    """Read the sheets of a workbook that bear the names of tables.

    Parameters
    ----------
    path : Path
        An ``.xlsx`` file; the first row of each sheet holds the headings.

    Returns
    -------
    tables : dict of str to RawTable
        By table.
    aside : list of str
        Sheets that bear another name.

    Raises
    ------
    UnreadableFleetError
        If the file is no workbook, unpacks to more than ``LARGEST_UNPACKED``, or a sheet has no
        headings.
    """
    merged = _holds_merged_cells(path)
    try:
        with warnings.catch_warnings():  # on styles and lists of words, which we do not need
            warnings.simplefilter("ignore")
            return _read_sheets(path, merged=merged)
    except _DAMAGED as error:
        raise UnreadableFleetError(
            f"{path.name} cannot be read as a workbook ({error}); "
            "save it anew as .xlsx in the spreadsheet program"
        ) from None


def _read_sheets(path: Path, *, merged: bool) -> tuple[dict[str, RawTable], list[str]]:
    # Only the slow way of opening a workbook tells which cells are merged.
    book = load_workbook(path, read_only=not merged, data_only=False)
    try:
        tables = {
            sheet.title: _read_sheet(sheet, f"{path.name}, sheet {sheet.title}", merged=merged)
            for sheet in book.worksheets
            if sheet.title in TABLE_BY_NAME
        }
        known = {*tables, EXPLANATIONS, ROUTE}
        return tables, [s.title for s in book.worksheets if s.title not in known]
    finally:
        book.close()


def _holds_merged_cells(path: Path) -> bool:
    try:
        with zipfile.ZipFile(path) as archive:
            if sum(part.file_size for part in archive.infolist()) > LARGEST_UNPACKED:
                raise UnreadableFleetError(
                    f"{path.name} unpacks to more than {LARGEST_UNPACKED >> 20} MB; "
                    "give such a fleet as CSV or Parquet files"
                )
            sheets = [n for n in archive.namelist() if n.startswith("xl/worksheets/")]
            return any(b"<mergeCell " in archive.read(name) for name in sheets)
    except (zipfile.BadZipFile, zlib.error, OSError, EOFError, RuntimeError) as error:
        raise UnreadableFleetError(
            f"{path.name} cannot be read as a workbook ({error}); "
            "save it as .xlsx in the spreadsheet program"
        ) from None


def _read_sheet(sheet: Any, source: str, *, merged: bool) -> RawTable:  # noqa: ANN401
    troubles: list[RawTrouble] = []
    if not merged:
        sheet.reset_dimensions()  # what a sheet says of its own size may be wrong
    rows = [
        [cell_text(cell, number, troubles) for cell in row]
        for number, row in enumerate(sheet.iter_rows(), 1)
    ]
    width = max((_filled_width(row) for row in rows), default=0)
    headings = rows[0][:width] if rows else []
    if not any(headings):
        raise UnreadableFleetError(
            f"{source} is empty: its first row must hold the headings "
            "(mount-risk template FOLDER makes such a workbook)"
        )
    headings += [""] * (width - len(headings))
    body = [(row + [""] * width)[:width] for row in rows[1:]]
    if merged:
        troubles += _merged_troubles(sheet)
    table = RawTable.from_rows(sheet.title, source, headings, body)
    named = tuple(_with_heading(t, headings) for t in troubles)
    return RawTable(table.name, table.sources, table.headings, table.cells, table.rows, (), named)


def _filled_width(row: list[str]) -> int:
    return max((i + 1 for i, text in enumerate(row) if text), default=0)


def _merged_troubles(sheet: Any) -> Iterable[RawTrouble]:  # noqa: ANN401
    for area in sheet.merged_cells.ranges:
        for row in range(area.min_row, area.max_row + 1):
            yield RawTrouble(
                row,
                str(area.min_col),
                str(area.coord),
                "is a merged cell; only its first cell holds a value",
                "cells that are not merged, each filled",
            )


def _with_heading(trouble: RawTrouble, headings: list[str]) -> RawTrouble:
    """Name the column by its heading instead of its place."""
    place = int(trouble.heading) - 1
    heading = headings[place].strip() if place < len(headings) else ""
    heading = heading or f"column {place + 1}"
    return replace(trouble, heading=heading)
