"""From text cells to values: each distinct text is read once.

A column of a large table holds few distinct texts, so the work is done on those and the answer
is spread over the rows. Surrounding spaces are no part of a value; only an empty cell is blank.
"""

from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc
from numpy.typing import NDArray

from scoring.contract import Column, Kind
from scoring.intake.look_alike_texts import MAY_BE_UNSEEN, unseen_in
from scoring.intake.plain_texts import all_plain, holds_any

_NUMBER = r"^[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]{1,3})?$"
_FRACTION = r"^(?P<whole>[0-9]+(?: +|-))?(?P<over>[0-9]+)/(?P<under>[1-9][0-9]*)$"
_DAY = r"^[0-9]{4}-[0-9]{2}-[0-9]{2}"
_DATE = _DAY + r"([T ][0-9]{2}:[0-9]{2}(:[0-9]{2}(\.[0-9]{1,9})?)?)?$"

SPREADSHEET_ERROR = r"^#(N/A|NV|[A-Z][A-Z_/0-9]*[!?])$"
"""What a spreadsheet writes into a cell that it cannot work out; never a value, nor a text."""

NO_TEXT = r"\x00"
"""A character that files and databases take for the end of a text, or refuse."""


@dataclass(frozen=True)
class DistinctTexts:
    """The distinct texts of a column and, for each row, which one it holds.

    Attributes
    ----------
    texts : pyarrow string array, shape (n_distinct,)
        Without surrounding spaces.
    codes : ndarray of int, shape (n_rows,)
        Which text each row holds.
    blank : ndarray of bool, shape (n_distinct,)
        Which texts are empty.
    row_by_row : bool
        Whether each row has a text of its own, in the order of the rows: ids are, for few are
        the same.
    """

    texts: Any
    codes: NDArray[np.int64]
    blank: NDArray[np.bool_]
    row_by_row: bool = False

    @classmethod
    def of(cls, cells: Any, *, row_by_row: bool = False) -> "DistinctTexts":  # noqa: ANN401 - pyarrow ships no types
        """Encode a column of text cells; one that is encoded already stays as it is."""
        if not pa.types.is_dictionary(cells.type):
            if row_by_row:
                texts = trimmed(cells)
                codes = np.arange(len(cells), dtype=np.int64)
                return cls(texts, codes, _flags(pc.equal(texts, "")), row_by_row=True)
            cells = cells.dictionary_encode()
        texts = trimmed(cells.dictionary)
        codes = cells.indices.to_numpy(zero_copy_only=False).astype(np.int64)
        return cls(texts, codes, _flags(pc.equal(texts, "")))

    def at(self, rows: NDArray[np.intp] | NDArray[np.bool_]) -> NDArray[np.object_]:
        """Return the texts of some rows."""
        picked = self.texts.take(pa.array(self.codes[rows]))
        texts: NDArray[np.object_] = picked.to_numpy(zero_copy_only=False).astype(object)
        return texts


@dataclass(frozen=True)
class ReadCells:
    """What a column's distinct texts say.

    Attributes
    ----------
    found : ndarray, shape (n_distinct,)
        The value of each distinct text; missing where blank or bad. Of text the texts as found,
        a pyarrow array.
    bad : ndarray of bool, shape (n_distinct,)
        Which texts are not allowed.
    half_digit : ndarray of float, shape (n_distinct,) or empty
        Of a number: half a unit in the last digit written.
    timed : ndarray of bool, shape (n_distinct,) or empty
        Of a date: whether it came with a time.
    """

    found: Any
    bad: NDArray[np.bool_]
    half_digit: NDArray[np.float64] = field(default_factory=lambda: np.empty(0))
    timed: NDArray[np.bool_] = field(default_factory=lambda: np.empty(0, dtype=bool))


def trimmed(cells: Any) -> Any:  # noqa: ANN401 - pyarrow ships no types
    """Return text cells without surrounding spaces, encoded or not."""
    if pa.types.is_dictionary(cells.type):
        cells = cells.dictionary_decode()
    return pc.utf8_trim_whitespace(cells)


def _flags(answer: Any) -> NDArray[np.bool_]:  # noqa: ANN401 - pyarrow ships no types
    flags: NDArray[np.bool_] = answer.to_numpy(zero_copy_only=False).astype(bool)
    return flags


def _matches(texts: Any, pattern: str) -> NDArray[np.bool_]:  # noqa: ANN401
    return _flags(pc.match_substring_regex(texts, pattern))


def read_numbers(distinct: DistinctTexts, *, fractions: bool = False) -> ReadCells:
    """Read decimal numbers, and inch fractions such as ``2 15/16`` where they are usual.

    Examples
    --------
    >>> import pyarrow as pa
    >>> cells = DistinctTexts.of(pa.array(["12.5", "2 15/16", "1,5", ""]))
    >>> read = read_numbers(cells, fractions=True)
    >>> read.found.tolist(), read.bad.tolist()
    ([12.5, 2.9375, nan, nan], [False, False, True, False])
    """
    texts = distinct.texts
    decimal = _matches(texts, _NUMBER)
    values = np.full(len(texts), np.nan)
    values[decimal] = pc.cast(texts.filter(pa.array(decimal)), pa.float64()).to_numpy()
    half_digit = _half_digit(texts, decimal)
    good = decimal & np.isfinite(values)
    if fractions:
        parts = pc.extract_regex(texts, _FRACTION)
        fraction = _flags(parts.is_valid())
        picked = parts.filter(pa.array(fraction))
        whole = pc.replace_substring_regex(pc.struct_field(picked, "whole"), r"[ -]+$", "")
        whole = pc.cast(pc.if_else(pc.equal(whole, ""), "0", whole), pa.float64()).to_numpy()
        over = pc.cast(pc.struct_field(picked, "over"), pa.float64()).to_numpy()
        under = pc.cast(pc.struct_field(picked, "under"), pa.float64()).to_numpy()
        values[fraction] = whole + over / under
        half_digit[fraction] = 0.5 / under
        good |= fraction
    values[~good] = np.nan
    return ReadCells(values, ~good & ~distinct.blank, half_digit=half_digit)


def _half_digit(texts: Any, decimal: NDArray[np.bool_]) -> NDArray[np.float64]:  # noqa: ANN401
    """Return half a unit in the last digit written of each decimal number."""
    digits = pc.utf8_length(pc.replace_substring_regex(texts, r"^[^.]*\.?|[eE].*$", "")).to_numpy()
    places = -digits.astype(float)
    powers = decimal & _matches(texts, "[eE]")
    if powers.any():
        power = pc.replace_substring_regex(texts.filter(pa.array(powers)), r"^.*[eE]\+?", "")
        places[powers] += pc.cast(power, pa.int64()).to_numpy()
    half: NDArray[np.float64] = 0.5 * 10.0 ** places.clip(-300, 300)
    return half


def read_dates(distinct: DistinctTexts) -> ReadCells:
    """Read plant-local ISO 8601 dates, with or without a time.

    Examples
    --------
    >>> import pyarrow as pa
    >>> cells = DistinctTexts.of(pa.array(["2026-03-31", "2026-02-30", "2026-03-31T14:30"]))
    >>> read = read_dates(cells)
    >>> read.bad.tolist(), read.timed.tolist()
    ([False, True, False], [False, False, True])
    """
    shaped = _matches(distinct.texts, _DATE)
    texts = distinct.texts.to_numpy(zero_copy_only=False)
    values = np.full(len(texts), np.datetime64("NaT"), dtype="datetime64[s]")
    parsed = pd.to_datetime(
        pd.Series(texts[shaped], dtype=object), format="ISO8601", errors="coerce"
    )
    values[shaped] = parsed.to_numpy().astype("datetime64[s]")
    years = values.astype("datetime64[Y]").astype(int) + 1970
    good = ~np.isnat(values) & (years >= 1900) & (years < 2200)
    values[~good] = np.datetime64("NaT")
    timed = _matches(distinct.texts, r"[T ][0-9]{2}:") & good
    return ReadCells(values, ~good & ~distinct.blank, timed=timed)


def read_choices(distinct: DistinctTexts, allowed: tuple[str, ...]) -> ReadCells:
    """Read words of a list; the value is the place in the list, -1 for blank."""
    place = pc.index_in(distinct.texts, pa.array(allowed, distinct.texts.type))
    values = pc.fill_null(place, -1).to_numpy().astype(np.int64)
    return ReadCells(values, (values < 0) & ~distinct.blank)


def read_several(distinct: DistinctTexts, allowed: tuple[str, ...]) -> ReadCells:
    """Read lists of words with ``;`` between them; the value is the list without spaces."""
    tidy = pc.replace_substring_regex(distinct.texts, r"\s*;\s*", ";")
    tidy = pc.utf8_trim(tidy, ";")
    word = "(" + "|".join(allowed) + ")"
    good = _matches(tidy, f"^{word}(;{word})*$")
    return ReadCells(tidy, ~good & ~distinct.blank)


def read_texts(distinct: DistinctTexts, *, longest: int | None = None) -> ReadCells:
    """Read free text and identifiers as they are; ``NA`` and ``None`` are texts like others."""
    texts = distinct.texts
    if all_plain(texts):  # holds no NUL, nor what nobody sees
        bad = _matches(texts, SPREADSHEET_ERROR) if holds_any(texts, b"#") else _none_of(texts)
        if longest is not None:
            bad |= pc.binary_length(texts).to_numpy() > longest
        return ReadCells(texts, bad)
    bad = _matches(texts, f"{SPREADSHEET_ERROR}|{NO_TEXT}")
    if longest is not None:
        bad |= pc.utf8_length(texts).to_numpy() > longest
        maybe = _matches(texts, MAY_BE_UNSEEN)
        some = texts.filter(pa.array(maybe)).to_pylist()
        bad[maybe] |= np.array([bool(unseen_in(text)) for text in some], dtype=bool)
    return ReadCells(texts, bad)


def _none_of(texts: Any) -> NDArray[np.bool_]:  # noqa: ANN401
    return np.zeros(len(texts), dtype=bool)


def read_cells(distinct: DistinctTexts, column: Column, *, fractions: bool = False) -> ReadCells:
    """Read the cells of a column by its kind."""
    if column.is_numeric:
        return read_numbers(distinct, fractions=fractions)
    if column.kind is Kind.DATE:
        return read_dates(distinct)
    if column.kind is Kind.CHOICE:
        return read_choices(distinct, column.allowed)
    if column.kind is Kind.SEVERAL:
        return read_several(distinct, column.allowed)
    return read_texts(distinct, longest=64 if column.kind is Kind.IDENTIFIER else None)
