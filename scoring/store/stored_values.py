"""Between the frames of a fleet and the values of a store.

A number is kept as a number in the contract's unit, a date as the contract writes it, everything
else as text; missing is blank.
"""

import hashlib
import json
from collections.abc import Iterator, Mapping
from typing import Any

import pandas as pd

from scoring.contract import Column, Kind, Table
from scoring.files.records_as_text import dates_as_written
from scoring.records import timed

AT_ONCE = 20_000
"""Rows that are laid out at once. Ours."""


def stored_rows(frame: pd.DataFrame, table: Table) -> list[dict[str, object]]:
    """Return the rows of a checked table as the store keeps them.

    Parameters
    ----------
    frame : DataFrame
        As in a ``Fleet``.
    table : Table
        Its contract.

    Returns
    -------
    list of dict
        One for each row: every column of the contract, None for blank.

    Examples
    --------
    >>> from scoring.contract import EVENTS
    >>> from scoring.records import empty_table
    >>> stored_rows(empty_table(EVENTS), EVENTS)
    []
    """
    names = [column.name for column in table.columns]
    columns = [_stored_column(frame, column) for column in table.columns]
    return [dict(zip(names, row, strict=True)) for row in zip(*columns, strict=True)]


def rows_some_at_a_time(frame: pd.DataFrame, table: Table) -> Iterator[dict[str, object]]:
    """Yield the same rows, of which few are held at once: each takes kilobytes."""
    for start in range(0, len(frame), AT_ONCE):
        yield from stored_rows(frame.iloc[start : start + AT_ONCE], table)


def _stored_column(frame: pd.DataFrame, column: Column) -> list[Any]:
    values = frame[column.name]
    if column.kind is Kind.DATE:
        texts = dates_as_written(values, frame[timed(column.name)].to_numpy(bool))
    elif column.kind is Kind.COUNT:
        texts = values.astype("Int64").astype(object)
    elif column.is_numeric:
        texts = (values + 0.0).astype(object)  # no minus nought: a database may forget the minus
    else:
        texts = values.astype(object)
    stored: list[Any] = texts.where(values.notna(), None).tolist()
    return stored


def digest(row: Mapping[str, object]) -> str:
    """Return a name of a row's content: the same for the same content, whatever its order.

    Examples
    --------
    >>> digest({"a": 1.5, "b": None}) == digest({"a": 1.5})
    True
    """
    filled = {name: value for name, value in sorted(row.items()) if value is not None}
    return hashlib.sha256(json.dumps(filled, ensure_ascii=False).encode()).hexdigest()


def filled(row: Mapping[str, object]) -> dict[str, object]:
    """Return what is not blank in a row."""
    return {name: value for name, value in row.items() if value is not None}
