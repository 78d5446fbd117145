"""What stands in the files, found without the tool: each by the library of its own kind."""

import csv
import sqlite3
from pathlib import Path

from messy_fleet import Source
from odfdo import Document
from openpyxl import load_workbook

Rows = list[list[object]]


def cells(source: Source) -> dict[str, Rows]:
    """Return the rows by file, sheet, or query."""
    return _KINDS[source.path.suffix](source)


def _text(source: Source) -> dict[str, Rows]:
    with source.path.open(encoding="utf-8-sig", newline="") as file:
        mark = csv.Sniffer().sniff(file.readline(), ",;").delimiter
        file.seek(0)
        return {source.path.name: list(csv.reader(file, delimiter=mark))}


def _workbook(source: Source) -> dict[str, Rows]:
    book = load_workbook(source.path)
    return {page.title: [list(row) for row in page.iter_rows(values_only=True)] for page in book}


def _opendocument(source: Source) -> dict[str, Rows]:
    book = Document(str(source.path))
    found = {}
    for page in book.body.tables:
        page.rstrip()  # a million empty rows below
        found[page.name] = [list(row) for row in page.iter_values()]
    return found


def _database(source: Source) -> dict[str, Rows]:
    base = sqlite3.connect(source.path)
    found = base.execute(source.query)
    rows = [[one[0] for one in found.description], *map(list, found)]
    base.close()
    return {source.query: rows}


_KINDS = {".csv": _text, ".xlsx": _workbook, ".ods": _opendocument, ".db": _database}


def all_cells(sources: tuple[Source, ...]) -> dict[tuple[Path, str], Rows]:
    """Return the rows of all sources, by file and by sheet or query."""
    return {(source.path, name): rows for source in sources for name, rows in cells(source).items()}
