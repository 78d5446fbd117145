"""Read a CSV file as text cells; say plainly what kind of file it is if it is another kind."""

import csv
import io
import re
from pathlib import Path

import numpy as np
import pyarrow as pa
from pyarrow import csv as arrow_csv

from scoring.contract import TABLE_BY_NAME
from scoring.errors import UnreadableFleetError
from scoring.files.csv_quotes import quotes_are_in_order
from scoring.files.file_kind import BETTER, read_bytes, text_bytes
from scoring.files.table_bounds import (
    LARGEST_SETTINGS,
    require_few_columns,
    require_records_or_small,
    require_small,
)
from scoring.intake import RawTable, refuse_junk

LARGE_FILE = 1 << 24
"""Of a larger file the beginning is looked at first. Ours. [byte]"""

MOST_EMPTY_LINES = 5_000_000
"""Two by two: they are counted one by one, for a fault names the row that a person sees. Ours."""

READ_AT_ONCE = 1 << 20
"""Cells of so much text are held in the processor's own memory while they are cut; a longer row is
read row by row. Ours. [byte]"""

BEGINNING = 1 << 21
"""So much of it; and the headings must end within. Ours. [byte]"""


def read_csv(path: Path, name: str) -> RawTable:
    """Read a CSV file.

    Parameters
    ----------
    path : Path
        UTF-8, with or without a byte-order mark; commas between the cells.
    name : str
        The table of the contract it stands for.

    Returns
    -------
    RawTable
        Cells as text; rows counted as a spreadsheet counts them.

    Raises
    ------
    UnreadableFleetError
        If the file is empty, in another encoding, or separated by something else.
    """
    require_records_or_small(path, name)
    is_large = path.is_file() and path.stat().st_size > LARGE_FILE
    if is_large and name in TABLE_BY_NAME:
        _look_ahead(path, name)
    data = read_bytes(path, LARGEST_SETTINGS + 1 if path.is_fifo() else None)
    if path.is_fifo():  # a pipe does not say before how long it is
        require_small(len(data), str(path))
    data = text_bytes(data, path.name)
    if data.endswith((b"\n\n", b"\n\r\n", b"\r\r")):  # empty lines at the end are left out
        data = data.rstrip(b"\r\n") + b"\n"
    table = _read_fast(data, _headings(data, path.name), name, path.name)
    if table is not None:
        return table
    _require_few_empty_lines(data, path.name)
    return _read_exactly(data, name, path.name)


def _require_few_empty_lines(data: bytes, name: str) -> None:
    """Refuse millions of empty lines between rows."""
    if data.count(b"\n\n") + data.count(b"\n\r\n\r") > MOST_EMPTY_LINES:
        raise UnreadableFleetError(
            f"{name} has millions of empty lines between its rows; save it anew without them"
        )


def _look_ahead(path: Path, name: str) -> None:
    """Refuse a large file for what its beginning shows, before all of it is read."""
    begun = read_bytes(path, BEGINNING)
    whole_lines = begun[: begun.rfind(b"\n") + 1] or begun
    data = text_bytes(whole_lines, path.name)
    table = _read_fast(data, _headings(data, path.name), name, path.name)
    refuse_junk(table or _read_exactly(data, name, path.name, strict=False))


def _headings(data: bytes, name: str) -> list[str]:
    """Return the cells of the first line; refuse a file with another mark between its cells."""
    text = data[:BEGINNING].decode(errors="ignore")
    if len(data) >= BEGINNING and not re.search(r"[^\r\n][\r\n]", text):
        raise UnreadableFleetError(
            f"{name}: the first line, which must hold the headings, does not end within "
            f"{BEGINNING >> 20} MB; is it the right file? {BETTER}"
        )
    first_line = re.split(r"[\r\n]", text.lstrip("\r\n"), maxsplit=1)[0]
    if re.fullmatch("sep=.", first_line):
        raise UnreadableFleetError(
            f"{name} begins with {first_line!r}, a line for a spreadsheet program; delete it, "
            f"so that the headings come first. {BETTER}"
        )
    for mark, word in ((";", "semicolons"), ("\t", "tabs")):
        if first_line.count(mark) > first_line.count(","):
            raise UnreadableFleetError(
                f"{name} has {word} between its cells, not commas; its numbers may then have "
                f"decimal commas, which cannot be told from marks between thousands. {BETTER}"
            )
    require_few_columns(first_line.count(",") + 1, name)
    csv.field_size_limit(max(csv.field_size_limit(), len(data)))
    return next(csv.reader([first_line]))


def _is_plain(data: bytes, width: int) -> bool:
    """Tell whether the fast reader counts rows as we do: one heading line, lines of one kind."""
    first_line = data[: data.find(b"\n") + 1 or None]
    one_line = b'"' not in first_line and first_line.count(b",") == width - 1
    lone_return = b"\r" in data and data.count(b"\r") != data.count(b"\r\n")
    return width > 1 and one_line and not data.startswith((b"\n", b"\r")) and not lone_return


def _read_fast(data: bytes, headings: list[str], name: str, source: str) -> RawTable | None:
    """Read with the columnar reader; None if a line is empty or of odd length, or quotes are odd.

    To that reader an empty line is a row of one cell.
    """
    if not _is_plain(data, len(headings)) or not quotes_are_in_order(data):
        return None
    names = [f"c{i}" for i in range(len(headings))]
    try:
        table = arrow_csv.read_csv(
            pa.BufferReader(data),
            read_options=arrow_csv.ReadOptions(
                column_names=names, skip_rows=1, block_size=READ_AT_ONCE
            ),
            parse_options=arrow_csv.ParseOptions(
                newlines_in_values=b'"' in data, ignore_empty_lines=False
            ),
            convert_options=arrow_csv.ConvertOptions(
                check_utf8=False,  # it was looked at
                column_types=dict.fromkeys(names, pa.string()),
                strings_can_be_null=False,
                quoted_strings_can_be_null=False,
            ),
        )
    except pa.ArrowInvalid:
        return None
    rows = np.arange(2, table.num_rows + 2, dtype=np.int64)
    columns = table.columns[::-1]
    del table  # so that each column is let go of as soon as it stands in one piece
    cells = tuple(_one_array(columns.pop()) for _ in names)
    return RawTable(name, (source,), tuple(h.strip() for h in headings), cells, rows)


def _one_array(chunks: pa.ChunkedArray) -> pa.Array:
    return pa.concat_arrays(chunks.chunks) if chunks.num_chunks else pa.array([], pa.string())


def _read_exactly(data: bytes, name: str, source: str, *, strict: bool = True) -> RawTable:
    """Read row by row, keeping rows of odd length and counting empty lines."""
    lines = csv.reader(io.TextIOWrapper(io.BytesIO(data), "utf-8", newline=""), strict=strict)
    numbered = enumerate(lines, 1)
    try:
        first, headings = next((number, row) for number, row in numbered if row)
        require_few_columns(len(headings), source)
        rows = (row for _, row in numbered)
        return RawTable.from_rows(name, source, headings, rows, first + 1)
    except csv.Error as error:
        raise UnreadableFleetError(
            f"{source} cannot be read as CSV ({error}): a quoted cell is not closed, or holds a "
            f"double quote that is not written twice. {BETTER}"
        ) from None
