"""Checked records as the text cells that intake reads: what is written is read back the same."""

from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa
from numpy.typing import NDArray

from scoring.contract import FLEET_TABLES, Column, Kind, Table
from scoring.intake import RawTable
from scoring.records import Fleet, timed


def fleet_as_text(fleet: Fleet) -> dict[str, RawTable]:
    """Write every table of a fleet under the headings of the contract.

    Parameters
    ----------
    fleet : Fleet
        Checked tables.

    Returns
    -------
    dict of str to RawTable
        By table, in the units of the contract.
    """
    return {table.name: _as_text(fleet.table(table.name), table) for table in FLEET_TABLES}


def _as_text(frame: pd.DataFrame, table: Table) -> RawTable:
    return RawTable(
        table.name,
        (table.name,),
        tuple(column.name for column in table.columns),
        tuple(text_cells(_values(frame, column), column) for column in table.columns),
        np.arange(2, len(frame) + 2, dtype=np.int64),
    )


def _values(frame: pd.DataFrame, column: Column) -> list[Any]:
    values = frame[column.name]
    if column.kind is Kind.DATE:
        found = dates_as_written(values, frame[timed(column.name)].to_numpy(bool))
    elif column.is_numeric:
        found = (values + 0.0).astype(object)  # no minus nought
    else:
        found = values.astype(object)
    listed: list[Any] = found.where(values.notna(), None).tolist()
    return listed


def dates_as_written(
    days: "pd.Series[pd.Timestamp]", has_time: NDArray[np.bool_]
) -> "pd.Series[str]":
    """Write days as the contract does, with the time where one was given."""
    with_day = days.dt.strftime("%Y-%m-%d")
    return with_day.mask(has_time, days.dt.strftime("%Y-%m-%dT%H:%M:%S")).astype(object)


def text_cells(values: list[object], column: Column) -> pa.Array:
    """Return values as the text cells that intake reads.

    Examples
    --------
    >>> from scoring.contract import UNITS
    >>> text_cells([80.0, None, 23.8125], UNITS["shaft_diameter_mm"]).to_pylist()
    ['80', '', '23.8125']
    """
    if not column.is_numeric:
        return pa.array(["" if value is None else value for value in values], pa.string())
    numbers = np.array([np.nan if v is None else v for v in values], dtype=np.float64)
    codes, distinct = pd.factorize(numbers)
    texts = [np.format_float_positional(number, trim="-") for number in distinct]
    return pa.array([*texts, ""], pa.string()).take(pa.array(codes % (len(texts) + 1)))
