"""Read a CSV file as text cells; say plainly what kind of file it is if it is another kind."""

import csv
import io
import re
from pathlib import Path

import numpy as np
import pyarrow as pa
from pyarrow import csv as arrow_csv

from scoring.errors import UnreadableFleetError
from scoring.files.csv_quotes import quotes_are_in_order
from scoring.files.file_kind import BETTER, decode, read_bytes
from scoring.intake import RawTable


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
    text = decode(read_bytes(path), path.name)
    headings = _headings(text, path.name)
    if _is_plain(text, len(headings)):
        table = _read_fast(text, headings, name, path.name)
        if table is not None:
            return table
    return _read_exactly(text, name, path.name)


def _headings(text: str, name: str) -> list[str]:
    """Return the cells of the first line; refuse a file with another mark between its cells."""
    first_line = re.split(r"[\r\n]", text[: 1 << 20].lstrip("\r\n"), maxsplit=1)[0]
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
    return next(csv.reader([first_line]))


def _is_plain(text: str, width: int) -> bool:
    """Tell whether the fast reader counts rows as we do: one heading line, no empty line."""
    first_line = text.partition("\n")[0]
    one_line = '"' not in first_line and first_line.count(",") == width - 1
    empty_line = "\n\n" in text or "\n\r\n" in text or text.startswith(("\n", "\r"))
    lone_return = "\r" in text and text.count("\r") != text.count("\r\n")
    return width > 1 and one_line and not empty_line and not lone_return


def _read_fast(text: str, headings: list[str], name: str, source: str) -> RawTable | None:
    """Read with the columnar reader; None if rows are of odd length or quotes out of order."""
    data = text.encode()
    if not quotes_are_in_order(data):
        return None
    names = [f"c{i}" for i in range(len(headings))]
    try:
        table = arrow_csv.read_csv(
            pa.BufferReader(data),
            read_options=arrow_csv.ReadOptions(column_names=names, skip_rows=1, block_size=1 << 24),
            parse_options=arrow_csv.ParseOptions(newlines_in_values=b'"' in data),
            convert_options=arrow_csv.ConvertOptions(
                column_types=dict.fromkeys(names, pa.string()),
                strings_can_be_null=False,
                quoted_strings_can_be_null=False,
            ),
        )
    except pa.ArrowInvalid:
        return None
    cells = tuple(_one_array(table.column(n)) for n in names)
    rows = np.arange(2, table.num_rows + 2, dtype=np.int64)
    return RawTable(name, (source,), tuple(h.strip() for h in headings), cells, rows)


def _one_array(chunks: pa.ChunkedArray) -> pa.Array:
    return pa.concat_arrays(chunks.chunks) if chunks.num_chunks else pa.array([], pa.string())


def _read_exactly(text: str, name: str, source: str) -> RawTable:
    """Read row by row, keeping rows of odd length and counting empty lines."""
    csv.field_size_limit(max(csv.field_size_limit(), len(text)))
    try:
        rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    except csv.Error as error:
        raise UnreadableFleetError(
            f"{source} cannot be read as CSV ({error}): a quoted cell is not closed, or holds a "
            f"double quote that is not written twice. {BETTER}"
        ) from None
    start = next(place for place, row in enumerate(rows) if row)
    return RawTable.from_rows(name, source, rows[start], rows[start + 1 :], start + 2)
