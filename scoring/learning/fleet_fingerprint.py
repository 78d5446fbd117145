"""One short word for the records of a fleet, whatever file they came in and in whatever order."""

import json
from hashlib import sha256

import numpy as np
import pandas as pd

from scoring.contract import FLEET_TABLES, Column, Kind
from scoring.records import Fleet, timed


def fleet_fingerprint(fleet: Fleet) -> str:
    """Return a fingerprint of the checked tables' content.

    Parameters
    ----------
    fleet : Fleet
        Checked tables.

    Returns
    -------
    str
        SHA-256, as 64 hexadecimal digits.

    Notes
    -----
    Every table of the contract, in its order, sorted by the table's key, which names one row;
    of it every column of the contract, in its order: name of table and column, number of rows and
    words of a choice as JSON, then the values. Numbers are eight bytes each (IEEE 754, little
    end first), all missing ones alike and no minus nought; dates are seconds since 1970, with a
    byte that tells whether a time was written; choices are places in the list; texts are a JSON
    list. The row in the source is left out. So neither the order of rows or columns nor the
    kind of file matters, nor in which unit of measure a number was given, as long as the same
    number comes of it; an absent table is like one without rows.

    Examples
    --------
    >>> from scoring.records import empty_table
    >>> fleet = Fleet(*(empty_table(table) for table in FLEET_TABLES))
    >>> len(fleet_fingerprint(fleet))
    64
    """
    digest = sha256()
    for table in FLEET_TABLES:
        frame = fleet.table(table.name).sort_values(table.key)
        for column in table.columns:
            head = [table.name, column.name, len(frame), column.allowed]
            digest.update(json.dumps(head).encode() + b"\n")
            digest.update(_values(frame, column))
    return digest.hexdigest()


def _values(frame: pd.DataFrame, column: Column) -> bytes:
    values = frame[column.name]
    if column.is_numeric:
        numbers = values.to_numpy(dtype=np.float64)
        return np.where(np.isnan(numbers), np.nan, numbers + 0.0).astype("<f8").tobytes()
    if column.kind is Kind.DATE:
        seconds = values.to_numpy().astype("datetime64[s]").astype("<i8")
        return seconds.tobytes() + frame[timed(column.name)].to_numpy(dtype=bool).tobytes()
    if column.kind is Kind.CHOICE:
        return values.cat.codes.to_numpy().astype("<i4").tobytes()
    texts = values.astype(object).where(values.notna(), None)
    return json.dumps(texts.tolist()).encode()
