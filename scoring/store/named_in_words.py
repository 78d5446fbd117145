"""Where a name still stands in what people wrote themselves."""

from collections.abc import Iterator
from dataclasses import dataclass

from sqlalchemy import Column, Connection, Table, Text, select

from scoring.store.schema import METADATA, PEOPLE

ROWS_AT_ONCE = 500
"""Rows held in memory at once."""


@dataclass(frozen=True)
class NamedInWords:
    """A place where a name stands.

    Attributes
    ----------
    table, key, column : str
        Where.
    """

    table: str
    key: str
    column: str


def named_in_words(connection: Connection, name: str) -> Iterator[NamedInWords]:
    """Look for a name in every text that a store holds, whatever its letters' case.

    Parameters
    ----------
    connection : Connection
        In a transaction.
    name : str
        As people write it.

    Yields
    ------
    NamedInWords
    """
    for table in METADATA.sorted_tables:
        if table is PEOPLE:
            continue
        for column in _texts(table):
            keys = list(table.primary_key.columns)
            there = select(*keys).where(column.icontains(name, autoescape=True)).order_by(*keys)
            for row in connection.execution_options(yield_per=ROWS_AT_ONCE).execute(there):
                yield NamedInWords(table.name, "/".join(map(str, row)), column.name)


def _texts(table: Table) -> list[Column[str]]:
    return [column for column in table.columns if isinstance(column.type, Text)]
