"""A table as the bytes of a CSV file, put together by columns.

Each distinct text of a column is quoted once, and rows are joined outside Python; so that a ranking
of many thousand units is written in the time in which it is read. Kinds of columns that are not
known here are left to the slower writer, which writes the same.
"""

import csv
import io
from collections.abc import Iterator
from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc

from scoring.files.bytes_of_texts import in_one_piece
from scoring.intake.plain_texts import holds_any

NUMBER = "%.8g"
"""How numbers with decimals are written: more digits than anything here is known to."""

ROWS_AT_ONCE = 20_000
"""Rows put together in one go, to bound memory. Ours."""

_MARKS = b',"\r\n'
_MUST_BE_QUOTED = '[,"\r\n]'
_NOTHING, _COMMA, _LINE_END, _QUOTE = (
    pa.scalar(mark, pa.large_string()) for mark in ("", ",", "\n", '"')
)
Column = pd.Series


def csv_pieces(frame: pd.DataFrame) -> Iterator[bytes] | None:
    r"""Return a CSV file in pieces, the headings first; None where a column is of another kind.

    Parameters
    ----------
    frame : DataFrame
        Texts, numbers, yes or no, whole days; missing values become empty cells.

    Returns
    -------
    iterator of bytes or None
        UTF-8, lines that end in a line feed, cells quoted only where they must be.

    Examples
    --------
    >>> frame = pd.DataFrame({"unit_id": ["A", "B, b"], "load": [0.1, None]})
    >>> b"".join(csv_pieces(frame)).splitlines()
    [b'unit_id,load', b'A,0.1', b'"B, b",']
    """
    if frame.shape[1] < 2:  # an empty cell that stands alone would have to be quoted
        return None
    cells = [_cells(frame.iloc[:, place]) for place in range(frame.shape[1])]
    if any(column is None for column in cells):
        return None
    return _joined([str(name) for name in frame.columns], cells, len(frame))


def _joined(headings: list[str], cells: list[Any], size: int) -> Iterator[bytes]:
    first = io.StringIO()
    csv.writer(first, lineterminator="\n").writerow(headings)
    yield first.getvalue().encode()
    for start in range(0, size, ROWS_AT_ONCE):
        some = [column.slice(start, ROWS_AT_ONCE) for column in cells]
        some = [c.dictionary_decode() if pa.types.is_dictionary(c.type) else c for c in some]
        lines = pc.binary_join_element_wise(*some, _COMMA)
        whole = pa.LargeListArray.from_arrays([0, len(lines)], lines)
        yield pc.binary_join(whole, _LINE_END)[0].as_buffer().to_pybytes() + b"\n"


def _cells(column: Column) -> Any:  # noqa: ANN401 - pyarrow ships no types
    """Return the cells of a column as text, ready to stand between commas; None for another."""
    kind = column.dtype
    if isinstance(kind, np.dtype) and kind.kind in "fiubM":
        return _numbers_or_days(column, kind.kind)
    if isinstance(kind, pd.StringDtype):
        return _texts(in_one_piece(column))
    if isinstance(kind, pd.CategoricalDtype) or column.dtype == object:
        codes, distinct = pd.factorize(column)
        texts = np.asarray(distinct, dtype=object)
        if all(isinstance(text, str) for text in texts):
            return _spread(codes, texts)
    return None


def _numbers_or_days(column: Column, kind: str) -> Any:  # noqa: ANN401
    if kind == "f":
        return _numbers(column.to_numpy(dtype=np.float64))
    if kind == "b":
        return _spread(column.to_numpy().astype(np.int64), np.array(["False", "True"], object))
    if kind == "M":
        return _days(column)
    return pa.array(column.to_numpy()).cast(pa.large_string())


def _texts(cells: Any) -> Any:  # noqa: ANN401
    """Quote each distinct text where it must be; most columns hold nothing to quote."""
    if not holds_any(cells, _MARKS):
        return pc.fill_null(cells, "")
    encoded = cells.dictionary_encode()
    codes = pc.fill_null(encoded.indices, -1).to_numpy(zero_copy_only=False)
    return _spread(codes, encoded.dictionary)


def _numbers(values: np.ndarray[Any, np.dtype[np.float64]]) -> Any:  # noqa: ANN401
    """Write all numbers in one go; where each begins is told by the ends of its lines."""
    known = ~np.isnan(values)
    found = values[known].tolist()
    lines = ((NUMBER + "\n") * len(found) % tuple(found)).encode()
    letters = np.frombuffer(lines, dtype=np.uint8)
    is_end = letters == ord("\n")
    begins = np.zeros(len(values) + 1, dtype=np.int64)
    begins[1:][known] = np.diff(np.flatnonzero(is_end), prepend=-1) - 1
    texts = [pa.py_buffer(np.cumsum(begins)), pa.py_buffer(letters[~is_end])]
    return pa.LargeStringArray.from_buffers(len(values), *texts)


def _days(column: Column) -> Any:  # noqa: ANN401
    codes, distinct = pd.factorize(column)
    days = pd.DatetimeIndex(distinct)
    if (days != days.normalize()).any():
        return None
    return _spread(codes, np.array(days.strftime("%Y-%m-%d"), dtype=object))


def _spread(codes: np.ndarray[Any, np.dtype[np.int64]], texts: np.ndarray[Any, Any]) -> Any:  # noqa: ANN401
    """Quote each text where it must be, and say which stands in each row: -1 for none."""
    cells = pa.concat_arrays(
        [pa.array(texts, pa.large_string()), pa.array([""], pa.large_string())]
    )
    within = pc.replace_substring(cells, '"', '""')
    quoted = pc.binary_join_element_wise(_QUOTE, within, _QUOTE, _NOTHING)
    cells = pc.if_else(pc.match_substring_regex(cells, _MUST_BE_QUOTED), quoted, cells)
    places = np.where(codes < 0, len(texts), codes).astype(np.int32)
    return pa.DictionaryArray.from_arrays(places, cells)
