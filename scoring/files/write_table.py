"""Write a table as CSV, Parquet or XLSX, safe to open in a spreadsheet.

A spreadsheet runs a cell that begins with ``= + - @``, a tab or a return as a formula. In a CSV
file such text gets an apostrophe in front; in a workbook it is stored as text.
"""

import re
from collections.abc import Iterable
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import BinaryIO

import pandas as pd

from scoring.errors import FixableError
from scoring.files.bytes_of_texts import begins_with_any, in_one_piece
from scoring.files.csv_writing import NUMBER, csv_pieces
from scoring.files.whole_file import whole_file
from scoring.intake.plain_texts import holds_any

SUFFIXES = (".csv", ".parquet", ".xlsx")
IN_PARTS = (".csv", ".parquet")
"""What is written of a table that memory may not hold: a workbook holds a million rows."""
_BEGINS_A_FORMULA = b"=+-@\t\r"
_RUNS_AS_FORMULA = r"^[=+\-@\t\r]"


def write_table(frame: pd.DataFrame, path: Path, *, sheet: str = "ranking") -> None:
    """Write a table in the format that the suffix of ``path`` names.

    Parameters
    ----------
    frame : DataFrame
        The table; missing values become empty cells.
    path : Path
        Ends in ``.csv``, ``.parquet`` or ``.xlsx``; its folder is made if need be.
    sheet : str
        Name of the sheet in a workbook.

    Raises
    ------
    FixableError
        If the suffix is another one, or the file cannot be written.
    """
    check_suffix(path)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with whole_file(path) as place:
            if path.suffix == ".csv":
                _write_csv(disarmed(frame), place)
            elif path.suffix == ".parquet":
                frame.to_parquet(place, index=False)
            else:
                write_workbook({sheet: frame}, place)
    except OSError as error:
        raise FixableError(_cannot_be_written(path, error)) from None


def _write_csv(frame: pd.DataFrame, path: Path) -> None:
    pieces = csv_pieces(frame)
    if pieces is None:
        frame.to_csv(path, index=False, lineterminator="\n", float_format=NUMBER)
        return
    with path.open("wb") as file:
        file.writelines(pieces)


def write_rows(parts: Iterable[pd.DataFrame], path: Path) -> None:
    """Write a table that comes in parts, of which one at a time is held.

    Parameters
    ----------
    parts : iterable of DataFrame
        At least one, all with the same columns.
    path : Path
        Ends in ``.csv`` or ``.parquet``; its folder is made if need be.

    Raises
    ------
    FixableError
        If the suffix is another one, or the file cannot be written.
    """
    check_suffix(path, IN_PARTS)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("wb") as file:
            if path.suffix == ".csv":
                _write_csv_parts(parts, file)
            else:
                _write_parquet(parts, file)
    except OSError as error:
        raise FixableError(_cannot_be_written(path, error)) from None


def _write_csv_parts(parts: Iterable[pd.DataFrame], file: BinaryIO) -> None:
    for number, part in enumerate(parts):
        rows = disarmed(part)
        pieces = csv_pieces(rows)
        if pieces is None:
            said = rows.to_csv(index=False, lineterminator="\n", float_format=NUMBER).encode()
        else:
            said = b"".join(pieces)
        file.write(said if number == 0 else said[said.index(b"\n") + 1 :])


def _write_parquet(parts: Iterable[pd.DataFrame], file: BinaryIO) -> None:
    import pyarrow as pa  # noqa: PLC0415 - not every command writes Parquet
    import pyarrow.parquet as pq  # noqa: PLC0415 - as above

    rest = iter(parts)
    table = pa.Table.from_pandas(next(rest), preserve_index=False)
    with pq.ParquetWriter(file, table.schema) as writer:
        writer.write_table(table)
        for part in rest:
            writer.write_table(pa.Table.from_pandas(part, table.schema, preserve_index=False))


def _cannot_be_written(path: Path, error: OSError) -> str:
    return (
        f"{path} cannot be written ({error.strerror or error}); is it open in another "
        "program, or is the folder read-only?"
    )


def table_bytes(frame: pd.DataFrame, suffix: str, *, sheet: str = "ranking") -> bytes:
    r"""Return a table as the bytes of a file, for a page to hand out.

    Parameters
    ----------
    frame : DataFrame
        The table.
    suffix : str
        ``.csv``, ``.parquet`` or ``.xlsx``.
    sheet : str
        Name of the sheet in a workbook.

    Examples
    --------
    >>> table_bytes(pd.DataFrame({"unit_id": ["U-1"]}), ".csv")
    b'unit_id\nU-1\n'
    """
    with TemporaryDirectory() as folder:
        path = Path(folder) / f"table{suffix}"
        write_table(frame, path, sheet=sheet)
        return path.read_bytes()


def check_suffix(path: Path, allowed: tuple[str, ...] = SUFFIXES) -> None:
    """Refuse a suffix that cannot be written."""
    if path.suffix not in allowed:
        raise FixableError(
            f"{path.name} ends in {path.suffix or 'nothing'}; write one of {', '.join(allowed)}"
        )


def disarmed(frame: pd.DataFrame) -> pd.DataFrame:
    """Put an apostrophe before text that a spreadsheet would run as a formula.

    Returns within a text become line feeds.

    Examples
    --------
    >>> disarmed(pd.DataFrame({"unit_id": ["=1+1", "U-1"]}))["unit_id"].tolist()
    ["'=1+1", 'U-1']
    """
    out = frame.copy(deep=False)
    for name in out.columns[[_is_text(out[c]) for c in out.columns]]:
        if _is_harmless(out[name]):
            continue
        texts = _texts(out[name])
        armed = texts.str.match(_RUNS_AS_FORMULA)
        if armed.any():
            out[name] = out[name].astype(object).mask(armed, "'" + texts)
        returns = texts.str.contains("\r", regex=False)
        if returns.any():  # which would end a row for some programs
            plain = (
                out[name].where(returns, "").astype("str").str.replace(r"\r\n?", "\n", regex=True)
            )
            out[name] = out[name].astype(object).mask(returns, plain)
    return out


def _is_harmless(column: "pd.Series[str]") -> bool:
    """Tell by the bytes of all texts that none runs as a formula, nor holds a return."""
    if not isinstance(column.dtype, pd.StringDtype) or not len(column):
        return False
    texts = in_one_piece(column)
    return not begins_with_any(texts, _BEGINS_A_FORMULA) and not holds_any(texts, b"\r")


def as_found(text: str) -> str:
    """Return a text without the apostrophe that ``disarmed`` put before it.

    Examples
    --------
    >>> as_found("'-temp"), as_found("'s-Graven")
    ('-temp', "'s-Graven")
    """
    return text[1:] if re.match("'" + _RUNS_AS_FORMULA[1:], text) else text


def _texts(column: "pd.Series[str]") -> "pd.Series[str]":
    """Return the texts of a column, with none where there is something else, or nothing."""
    if isinstance(column.dtype, pd.StringDtype):
        return column.fillna("")
    is_text = column.map(lambda value: isinstance(value, str)).astype(bool)
    return column.astype(object).where(is_text, "").astype("str")


def _is_text(column: "pd.Series[str]") -> bool:
    return isinstance(column.dtype, pd.StringDtype | pd.CategoricalDtype) or column.dtype == object


def write_workbook(sheets: dict[str, pd.DataFrame], path: Path) -> None:
    """Write frames as the sheets of a workbook; text stays text, headings are bold."""
    # a third of what most commands import, and most write no workbook
    from scoring.files.workbook_writing import write_sheets  # noqa: PLC0415

    write_sheets(sheets, path)
