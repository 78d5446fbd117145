"""Read an XLSX workbook as text cells: no formula is trusted, no merged cell is guessed."""

import warnings
import zipfile
import zlib
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pyarrow as pa
from openpyxl import load_workbook
from openpyxl.utils.exceptions import InvalidFileException

from scoring.contract import TABLE_BY_NAME
from scoring.errors import UnreadableFleetError
from scoring.files.sheet_bounds import LAST_ROW, MergedCells, merged_cells, require_bearable
from scoring.files.table_bounds import require_few_columns
from scoring.files.workbook_cells import cell_text
from scoring.intake import RawTable, RawTrouble, refuse_junk
from scoring.intake.junk import ROWS_LOOKED_AT

EXPLANATIONS = "explanations"
"""A sheet of our own templates that holds no records."""

ROUTE = "route"
"""Another one: where the units of a walk stand."""

DAMAGED = (
    InvalidFileException,
    zipfile.BadZipFile,
    zlib.error,
    OSError,
    EOFError,
    RuntimeError,  # what the archive raises where it is locked by a password
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
        If the file is no workbook, unpacks to far more than records do, or a sheet has no
        headings, or far more rows or columns than records have.
    """
    try:
        with warnings.catch_warnings():  # on styles and lists of words, which we do not need
            warnings.simplefilter("ignore")
            require_bearable(path)
            return _read_sheets(path)
    except DAMAGED as error:
        raise UnreadableFleetError(
            f"{path.name} cannot be read as a workbook ({error}); "
            "save it anew as .xlsx in the spreadsheet program"
        ) from None


def _read_sheets(path: Path) -> tuple[dict[str, RawTable], list[str]]:
    book = load_workbook(path, read_only=True, data_only=False)
    try:
        tables = {
            sheet.title: _read_sheet(sheet, path)
            for sheet in book.worksheets
            if sheet.title in TABLE_BY_NAME
        }
        known = {*tables, EXPLANATIONS, ROUTE}
        return tables, [s.title for s in book.worksheets if s.title not in known]
    finally:
        book.close()


def _read_sheet(sheet: Any, path: Path) -> RawTable:  # noqa: ANN401
    source = f"{path.name}, sheet {sheet.title}"
    troubles: list[RawTrouble] = []
    sheet.reset_dimensions()  # what a sheet says of its own size may be wrong
    filled = filled_rows(sheet, source, troubles)
    first, headings = next(filled, (1, []))
    if first != 1:
        headings = []
    if not headings:
        raise UnreadableFleetError(
            f"{source} is empty: its first row must hold the headings "
            "(mount-risk template FOLDER makes such a workbook)"
        )
    rows: list[tuple[int, list[str]]] = []
    look_at = ROWS_LOOKED_AT
    for one in filled:
        rows.append(one)
        if len(rows) == look_at:  # so that nobody waits for a million rows of junk
            some = rows[:: look_at // ROWS_LOOKED_AT]
            refuse_junk(_table(sheet.title, source, headings, some))
            look_at *= 2
    # Which part of the file holds a sheet, and so its merged cells, openpyxl tells nowhere else.
    merged = merged_cells(path, sheet._worksheet_path)  # noqa: SLF001
    troubles += _merged_troubles(merged, last_row=rows[-1][0] if rows else 1)
    table = _table(sheet.title, source, headings, rows)
    return replace(table, troubles=tuple(_with_heading(t, list(table.headings)) for t in troubles))


def _table(
    name: str, source: str, headings: list[str], rows: list[tuple[int, list[str]]]
) -> RawTable:
    width = max(len(headings), *(len(row) for _, row in rows), 0)
    columns = (
        pa.array([row[place] if place < len(row) else "" for _, row in rows], pa.string())
        for place in range(width)
    )
    return RawTable(
        name,
        (source,),
        tuple(heading.strip() for heading in headings) + ("",) * (width - len(headings)),
        tuple(columns),
        np.array([number for number, _ in rows], dtype=np.int64),
    )


def filled_rows(
    sheet: Any,  # noqa: ANN401
    source: str,
    troubles: list[RawTrouble],
) -> Iterator[tuple[int, list[str]]]:
    """Yield the number and the cells of each row that holds any, without blank ones at its end."""
    for number, row in enumerate(sheet.iter_rows(), 1):
        if number > LAST_ROW:
            raise UnreadableFleetError(
                f"{source} has a row below row {LAST_ROW}, the last that a sheet can have; it was "
                "damaged: save it anew in the spreadsheet program, or give CSV files"
            )
        cells = [cell_text(cell, number, troubles) for cell in row]
        if width := _filled_width(cells):
            require_few_columns(width, f"{source}, row {number},")
            yield number, cells[:width]


def _filled_width(row: list[str]) -> int:
    return max((i + 1 for i, text in enumerate(row) if text), default=0)


def _merged_troubles(merged: list[MergedCells], last_row: int) -> Iterable[RawTrouble]:
    for area in merged:
        for row in range(area.first_row, min(area.last_row, last_row) + 1):
            yield RawTrouble(
                row,
                str(area.first_column),
                area.coord,
                "is a merged cell; only its first cell holds a value",
                "cells that are not merged, each filled",
            )


def _with_heading(trouble: RawTrouble, headings: list[str]) -> RawTrouble:
    """Name the column by its heading instead of its place."""
    place = int(trouble.heading) - 1
    heading = headings[place].strip() if place < len(headings) else ""
    heading = heading or f"column {place + 1}"
    return replace(trouble, heading=heading)
