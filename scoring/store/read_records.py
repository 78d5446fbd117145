"""Read records out of a store, as the text tables that intake checks."""

from collections.abc import Collection, Sequence

import numpy as np
from sqlalchemy import Connection, Row, Select, func, select

from scoring.contract import FLEET_TABLES, Table
from scoring.files.records_as_text import text_cells
from scoring.intake import RawTable
from scoring.store.schema import HISTORY, RECORDS

VALUES_AT_ONCE = 500
"""Values named in one question."""


def read_records(
    connection: Connection, source: str, units: Collection[str] | None = None
) -> dict[str, RawTable]:
    """Read all tables of a fleet, or the records of some units.

    Parameters
    ----------
    connection : Connection
        In a transaction, so that all tables are of one moment.
    source : str
        What messages call the store.
    units : collection of str, optional
        Read only what belongs to these units, and to those that a reducer of theirs hung at.

    Returns
    -------
    dict of str to RawTable
    """
    wanted = None if units is None else _with_same_assets(connection, units)
    return {table.name: read_table_of(connection, table, source, wanted) for table in FLEET_TABLES}


def last_change(connection: Connection) -> int:
    """Return the number of the last change to a record; a draft is none yet."""
    numbers = (
        connection.scalar(
            select(func.max(HISTORY.c.history_id)).where(HISTORY.c.about == table.name)
        )
        for table in FLEET_TABLES
    )
    return max((number or 0 for number in numbers), default=0)


def _with_same_assets(connection: Connection, units: Collection[str]) -> set[str]:
    table = RECORDS["units"]
    assets = select(table.c.asset_id).where(
        table.c.unit_id.in_(units), table.c.asset_id.is_not(None)
    )
    others = connection.scalars(select(table.c.unit_id).where(table.c.asset_id.in_(assets)))
    return {*units, *others}


def read_where(
    connection: Connection, table: Table, source: str, column: str, values: Sequence[str]
) -> RawTable:
    """Read the records of a table that hold one of some values in a column."""
    named = RECORDS[table.name].c[column]
    rows = [
        row
        for start in range(0, len(values), VALUES_AT_ONCE)
        for row in connection.execute(
            _query(table).where(named.in_(values[start : start + VALUES_AT_ONCE]))
        )
    ]
    return _as_texts(rows, table, source)


def read_table_of(
    connection: Connection, table: Table, source: str, units: Collection[str] | None = None
) -> RawTable:
    """Read the records of one table, or of it those of some units."""
    query = _query(table)
    if units is not None:
        query = query.where(RECORDS[table.name].c.unit_id.in_(units))
    return _as_texts(connection.execute(query).all(), table, source)


def _query(table: Table) -> Select[tuple[object, ...]]:
    sql = RECORDS[table.name]
    columns = (sql.c[column.name] for column in table.columns)
    return select(*columns).where(~sql.c.withdrawn).order_by(sql.c[table.key])


def _as_texts(rows: Sequence[Row[tuple[object, ...]]], table: Table, source: str) -> RawTable:
    columns = zip(*rows, strict=True) if rows else ([] for _ in table.columns)
    return RawTable(
        table.name,
        (f"{table.name} in {source}",),
        tuple(column.name for column in table.columns),
        tuple(
            text_cells(list(values), column)
            for values, column in zip(columns, table.columns, strict=True)
        ),
        np.arange(2, len(rows) + 2, dtype=np.int64),
    )
