"""From a workbook's typed cell to text, as a CSV file of ours would hold it.

A cell may hold a number and show something else: ``12`` under the number format ``0000`` shows
``0012``. Where the cell is an identifier, which of the two is meant is not ours to guess.
"""

import datetime as dt
import re
from functools import lru_cache
from typing import Any

from scoring.contract import Kind
from scoring.intake import RawTrouble

MOST_DIGITS = 15
"""A spreadsheet keeps no more digits of a number."""

_NAMES = (Kind.IDENTIFIER,)
_WORDS = (Kind.IDENTIFIER, Kind.TEXT)
_AS_TEXT = "the same as text: format the column as text, then type it anew"
_LOGICAL = {"=TRUE()": "TRUE", "=FALSE()": "FALSE"}
"""What a free office suite writes for a logical value that was typed."""

_TRUTH = re.compile(r'^(BOOLEAN|"(TRUE|WAHR|VERDADERO|VRAI|VERDADEIRO)")', re.IGNORECASE)
"""Formats under which the numbers 1 and 0 show as true and false."""

_SHOWS_ITS_VALUE = {"General", "0", "@", "#"}


def cell_text(  # noqa: PLR0911 - one for each kind of cell
    cell: Any,  # noqa: ANN401
    row: int,
    troubles: list[RawTrouble],
) -> str:
    """Write a cell as text; what is odd about it is added to the troubles.

    Parameters
    ----------
    cell : openpyxl cell
        Of a sheet opened for its formulas.
    row : int
        Its row.
    troubles : list of RawTrouble
        Where a formula, and a number or date that stands for a text, are added; their heading
        is the place of the column, 1 first.

    Returns
    -------
    str
        Dates in ISO 8601, whole numbers without a point; empty for an empty cell.
    """
    value = cell.value
    if value is None:
        return ""
    if cell.data_type == "f" and str(value).replace(" ", "").upper() in _LOGICAL:
        return _LOGICAL[str(value).replace(" ", "").upper()]
    if cell.data_type == "f":
        text = str(getattr(value, "text", None) or getattr(value, "ref", None) or value)
        right = "its value: copy the cell, then paste as values"
        troubles.append(RawTrouble(row, str(cell.column), text, "is a formula", right))
        return text
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, int | float):
        if value in (0, 1) and _TRUTH.search(cell.number_format or ""):
            return "TRUE" if value else "FALSE"
        text = _number_text(value)
        wrong, kinds = _what_is_odd(text, value, cell.number_format)
        if wrong:
            troubles.append(RawTrouble(row, str(cell.column), text, wrong, _AS_TEXT, kinds))
        return text
    if isinstance(value, dt.datetime):
        text = _date_text(value)
        troubles.append(
            RawTrouble(
                row,
                str(cell.column),
                text,
                "is a date, perhaps made of what was typed",
                _AS_TEXT,
                _NAMES,
            )
        )
        return text
    return str(value)


def _number_text(value: float) -> str:
    if isinstance(value, int) or (value.is_integer() and abs(value) < 10**MOST_DIGITS):
        return str(int(value))
    return repr(value)


def _date_text(value: dt.datetime) -> str:
    date_only = value.time() == dt.time()
    return value.date().isoformat() if date_only else value.isoformat(timespec="seconds")


def _what_is_odd(text: str, value: float, number_format: str) -> tuple[str, tuple[Kind, ...]]:
    """Say how a number differs from what the cell shows, and for which columns that matters."""
    if abs(value) >= 10**MOST_DIGITS:
        return f"is a number of more than {MOST_DIGITS} digits, rounded by the spreadsheet", _WORDS
    if number_format in _SHOWS_ITS_VALUE:
        return "", ()
    if len(text.lstrip("-").partition(".")[0]) < _leading_zeros(number_format):
        return "is a number shown with leading zeros; format the column as text", _WORDS
    return f"is a number shown as its format {number_format} says", _NAMES


@lru_cache(maxsize=256)
def _leading_zeros(number_format: str) -> int:
    """Count the digits that a number format always shows before the point.

    Examples
    --------
    >>> [_leading_zeros(shown) for shown in ("0000", "0.00", "[$-409]00000", "#,##0")]
    [4, 1, 5, 0]
    """
    plain = re.sub(r"\[[^\]]*\]", "", number_format)
    return len(plain) - len(plain.lstrip("0"))
