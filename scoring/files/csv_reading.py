"""Read a CSV file as text cells; say plainly what kind of file it is if it is another kind."""

import csv
import io
from pathlib import Path

import numpy as np
import pyarrow as pa
from pyarrow import csv as arrow_csv

from scoring.errors import UnreadableFleetError
from scoring.intake import RawTable

_BETTER = (
    "In the spreadsheet choose 'save as' and either a workbook (.xlsx), which carries numbers "
    "and dates safely, or 'CSV UTF-8' with commas between the cells and a decimal point."
)


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
    text = _decode(path.read_bytes(), path.name)
    headings = _headings(text, path.name)
    if _is_plain(text, len(headings)):
        table = _read_fast(text, headings, name, path.name)
        if table is not None:
            return table
    return _read_exactly(text, name, path.name)


def _decode(data: bytes, name: str) -> str:
    if not data.strip():
        raise UnreadableFleetError(
            f"{name} is empty; it needs a line of headings (mount-risk template FOLDER makes one)"
        )
    if data.startswith((b"\xff\xfe", b"\xfe\xff")) or b"\x00" in data[:200]:
        raise UnreadableFleetError(f"{name} is written in UTF-16, not in UTF-8. {_BETTER}")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        found = data[error.start : error.start + 1].hex()
        raise UnreadableFleetError(
            f"{name}, line {line}: byte {found} is not UTF-8; the file is probably written in "
            f"ISO-8859-1 or Windows-1252. {_BETTER}"
        ) from None
    if "\x00" in text:
        line = text.count("\n", 0, text.index("\x00")) + 1
        raise UnreadableFleetError(f"{name}, line {line}: holds a NUL byte; the file is damaged.")
    return text


def _headings(text: str, name: str) -> list[str]:
    headings = next(csv.reader(io.StringIO(text)), [])
    first_line = text.partition("\n")[0]
    if len(headings) < 2:
        for mark, word in ((";", "semicolons"), ("\t", "tabs")):
            if mark in first_line:
                raise UnreadableFleetError(
                    f"{name} has {word} between its cells, not commas; its numbers may then have "
                    f"decimal commas, which cannot be told from marks between thousands. {_BETTER}"
                )
    return headings


def _is_plain(text: str, width: int) -> bool:
    """Tell whether the fast reader counts rows as we do: one heading line, no empty line."""
    first_line = text.partition("\n")[0]
    one_line = '"' not in first_line and first_line.count(",") == width - 1
    empty_line = "\n\n" in text or "\n\r\n" in text or text.startswith(("\n", "\r"))
    lone_return = "\r" in text.replace("\r\n", "\n") if "\r" in text else False
    return width > 1 and one_line and not empty_line and not lone_return


def _read_fast(text: str, headings: list[str], name: str, source: str) -> RawTable | None:
    """Read with the columnar reader; None if a row has more or fewer cells than the headings."""
    names = [f"c{i}" for i in range(len(headings))]
    try:
        table = arrow_csv.read_csv(
            pa.BufferReader(text.encode()),
            read_options=arrow_csv.ReadOptions(column_names=names, skip_rows=1, block_size=1 << 24),
            parse_options=arrow_csv.ParseOptions(newlines_in_values='"' in text),
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
    try:
        rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    except csv.Error as error:
        raise UnreadableFleetError(
            f"{source} cannot be read as CSV ({error}); a double quote inside a quoted cell is "
            f"written twice. {_BETTER}"
        ) from None
    return RawTable.from_rows(name, source, rows[0], rows[1:])
