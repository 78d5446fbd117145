"""Read a text file as a grid, whatever stands between its cells and however it is encoded."""

import csv
import io
from pathlib import Path

from scoring.errors import UnreadableFleetError
from scoring.files.file_kind import BETTER, read_bytes
from scoring.files.table_bounds import require_few_columns
from scoring.files.text_encoding import delimiter_of, encoding_of, text_of
from scoring.reading_plan import Grid

TEXT_ENDINGS = (".csv", ".tsv", ".txt")


def read_text_grid(path: Path, encoding: str = "", delimiter: str = "") -> Grid:
    """Read a text file.

    Parameters
    ----------
    path : Path
        The file.
    encoding, delimiter : str
        As a plan says; empty: found out.

    Raises
    ------
    UnreadableFleetError
        If it cannot be opened, is not written so, or a quoted cell is not closed.
    """
    data = read_bytes(path)
    written = encoding or encoding_of(data)
    text = text_of(data, written, path.name)
    if "\x00" in text:
        raise UnreadableFleetError(f"{path.name} holds NUL characters: it is no text. {BETTER}")
    mark = delimiter or delimiter_of(text)
    csv.field_size_limit(max(csv.field_size_limit(), len(text)))
    try:
        rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True))
    except csv.Error as error:
        raise UnreadableFleetError(
            f"{path.name} cannot be read ({error}): a quoted cell is not closed, or holds a double "
            f"quote that is not written twice. {BETTER}"
        ) from None
    if rows and len(rows[0]) <= 2 and rows[0] and rows[0][0].lower().startswith("sep"):
        rows[0] = [""]
    require_few_columns(max(map(len, rows), default=0), path.name)
    return Grid.from_rows(
        path.name, "", rows, encoding=written, delimiter=mark, folder=path.parent.name
    )
