"""Write what a plant keeps as the files that it keeps."""

import csv
import sqlite3
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from odfdo import Document, Row, Table
from openpyxl import Workbook
from own_writing import Cell

Rows = Sequence[Sequence[Cell]]
ROWS_OF_A_SHEET = 1_048_576


@dataclass(frozen=True)
class Sheet:
    """One sheet of a workbook.

    Attributes
    ----------
    rows : sequence of rows
        All of them, headings and notes too.
    merged : tuple of str
        Ranges that are one cell, such as ``A1:D1``.
    shown_as : dict of str to str
        How a column is shown, by its letter: a spreadsheet's number format.
    """

    rows: Rows
    merged: tuple[str, ...] = ()
    shown_as: Mapping[str, str] = field(default_factory=dict)


def write_text(path: Path, rows: Rows, mark: str = ",", *, order_mark: bool = False) -> None:
    """Write a text file with a mark between its cells, with or without a byte-order mark."""
    path.parent.mkdir(parents=True, exist_ok=True)
    encoding = "utf-8-sig" if order_mark else "utf-8"
    with path.open("w", encoding=encoding, newline="") as file:
        csv.writer(file, delimiter=mark).writerows(rows)


def write_workbook(path: Path, sheets: Mapping[str, Sheet]) -> None:
    """Write an XLSX workbook."""
    path.parent.mkdir(parents=True, exist_ok=True)
    book = Workbook()
    book.remove(book.worksheets[0])
    for name, sheet in sheets.items():
        page = book.create_sheet(name)
        for row in sheet.rows:
            page.append(list(row))
        for area in sheet.merged:
            page.merge_cells(area)
        for letter, shown in sheet.shown_as.items():
            for cell in page[letter]:
                if not isinstance(cell.value, str):
                    cell.number_format = shown
    book.save(path)


def write_opendocument(path: Path, sheets: Mapping[str, Sheet]) -> None:
    """Write an ODS workbook, with values of their kinds: text, number, date, yes or no."""
    path.parent.mkdir(parents=True, exist_ok=True)
    book = Document("spreadsheet")
    book.body.clear()
    for name, sheet in sheets.items():
        page = Table(name)
        for cells in sheet.rows:
            row = Row()
            row.set_values(list(cells))
            page.append_row(row)
        # as a spreadsheet program leaves it: one empty row that stands for all the rest
        page.append(Row(1, repeated=ROWS_OF_A_SHEET - len(sheet.rows)))
        for area in sheet.merged:
            page.set_span(area)
        book.body.append(page)
    book.save(str(path))


def write_database(path: Path, tables: Mapping[str, tuple[Sequence[str], Rows]]) -> None:
    """Write a database of SQLite; by table: its columns with their types, and its rows."""
    path.parent.mkdir(parents=True, exist_ok=True)
    base = sqlite3.connect(path)
    for name, (columns, rows) in tables.items():
        base.execute(f"CREATE TABLE {name} ({', '.join(columns)})")
        marks = ", ".join("?" * len(columns))
        base.executemany(f"INSERT INTO {name} VALUES ({marks})", rows)  # noqa: S608 - our own names
    base.commit()
    base.close()
