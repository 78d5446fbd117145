"""Folders of CSV files as an export writes them: safe in a spreadsheet, and read back exactly.

A spreadsheet runs a cell that begins with ``= + - @`` as a formula, so such text gets an
apostrophe in front, also where it has some already. A small file beside the tables says so; with
it there, reading takes one apostrophe away again. Without it nothing is taken away, as a person's
own text may begin like that.
"""

import csv
import json
import re
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pyarrow.compute as pc

from scoring.contract import TABLE_BY_NAME
from scoring.intake import RawTable

MARK = "exported.json"
"""Name of the file that says how the texts are written."""

WRITTEN_BY = "mount-risk export"
_SAID = {
    "written_by": WRITTEN_BY,
    "texts": "text that begins with = + - @ has an apostrophe in front, which reading takes away "
    "as long as this file lies beside the tables",
}
_ARMED = r"^('*[=+\-@])"
_SIGNED = r"[+\-][0-9]+(\.[0-9]+)?"
_DISARMED = r"^'('*[=+\-@])"


def write_csv_folder(tables: Mapping[str, RawTable], folder: Path) -> list[Path]:
    """Write tables as CSV files, with the file that says how.

    Parameters
    ----------
    tables : mapping of str to RawTable
        Under the headings of the contract.
    folder : Path
        There already.

    Returns
    -------
    list of Path
        The tables written.
    """
    write_mark(folder)
    return [_write_csv(table, folder / f"{name}.csv") for name, table in tables.items()]


def write_mark(folder: Path) -> None:
    """Write the file that says how the texts of a folder are written."""
    (folder / MARK).write_text(json.dumps(_SAID, indent=1) + "\n", encoding="utf-8")


def disarmed_cell(text: str) -> str:
    """Return a cell with an apostrophe in front where a spreadsheet would run it; not a number.

    Examples
    --------
    >>> [disarmed_cell(text) for text in ("=1+1", "'=1+1", "-1.5", "-1+1", "U-1")]
    ["'=1+1", "''=1+1", '-1.5', "'-1+1", 'U-1']
    """
    return "'" + text if re.match(_ARMED, text) and not re.fullmatch(_SIGNED, text) else text


def _write_csv(table: RawTable, path: Path) -> Path:
    cells = _changed(table, _ARMED, r"'\1").cells
    columns = [column.to_pylist() for column in cells]
    with path.open("w", encoding="utf-8", newline="") as file:
        # With this end of line the writer also quotes text that holds a lone return.
        writer = csv.writer(file, lineterminator="\r\n")
        writer.writerow(table.headings)
        writer.writerows(zip(*columns, strict=True))
    return path


def is_exported(folder: Path) -> bool:
    """Tell whether a folder was written by an export."""
    mark = folder / MARK
    return mark.is_file() and WRITTEN_BY.encode() in mark.read_bytes()


def as_before_export(table: RawTable) -> RawTable:
    """Return a table of an exported folder with its texts as they were.

    Examples
    --------
    >>> table = RawTable.from_rows("units", "units.csv", ["site"], [["'=A1"], ["''@b"], ["'c"]])
    >>> as_before_export(table).column("site")
    ['=A1', "'@b", "'c"]
    """
    return _changed(table, _DISARMED, r"\1")


def _changed(table: RawTable, pattern: str, new: str) -> RawTable:
    columns = TABLE_BY_NAME[table.name].column_by_name
    return replace(
        table,
        cells=tuple(
            pc.replace_substring_regex(cells, pattern, new)
            if heading not in columns or not columns[heading].is_numeric
            else cells
            for heading, cells in zip(table.headings, table.cells, strict=True)
        ),
    )
