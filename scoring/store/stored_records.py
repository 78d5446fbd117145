"""What a store holds, as the records beside which others come in."""

from collections.abc import Collection

import pandas as pd
from sqlalchemy import Connection

from scoring.contract import TABLE_BY_NAME
from scoring.intake import RawTable
from scoring.intake.faults import Faults
from scoring.intake.read_table import read_table
from scoring.store.read_records import read_table_of, read_where


class StoredRecords:
    """The records of a store, checked when they came there.

    Parameters
    ----------
    connection : Connection
        In a transaction.
    source : str
        What messages call the store.
    """

    def __init__(self, connection: Connection, source: str) -> None:
        self._connection = connection
        self._source = source

    @property
    def source(self) -> str:
        """What messages call the store."""
        return self._source

    def every(self, table: str) -> pd.DataFrame:
        """Return all of a table."""
        return _typed(read_table_of(self._connection, TABLE_BY_NAME[table], self._source))

    def of_units(self, table: str, unit_ids: Collection[str]) -> pd.DataFrame:
        """Return the records of some units."""
        return self._where(table, "unit_id", unit_ids)

    def repairs_of(self, event_ids: Collection[str]) -> pd.DataFrame:
        """Return the re-work that names some failures."""
        return self._where("rework", "event_id", event_ids)

    def _where(self, table: str, column: str, values: Collection[str]) -> pd.DataFrame:
        contract = TABLE_BY_NAME[table]
        return _typed(read_where(self._connection, contract, self._source, column, sorted(values)))


def _typed(raw: RawTable) -> pd.DataFrame:
    table = TABLE_BY_NAME[raw.name]
    return read_table(raw, table, {}, Faults(table.name, raw.sources)).frame
