"""The store that was opened, and no other one, nor an older copy: looked at in each transaction."""

import threading
from dataclasses import dataclass

from sqlalchemy import Connection, select, text

from scoring.store.schema import CHAIN_BEGINS, HISTORY
from scoring.store.store_errors import NoStoreError, OtherSchemaError

_SCHEMA = text("SELECT version_num FROM alembic_version")


@dataclass(frozen=True)
class SeenLine:
    """A line of the history that is known to be kept.

    Attributes
    ----------
    history_id : int
        Its number; 0 before the first one.
    seal : str or None
        Its seal; none where it is older than the chain.
    """

    history_id: int = 0
    seal: str | None = None


def newest_line(connection: Connection) -> SeenLine:
    """Return the last line of the history."""
    row = connection.execute(
        select(HISTORY.c.history_id, HISTORY.c.seal).order_by(HISTORY.c.history_id.desc()).limit(1)
    ).one_or_none()
    return SeenLine() if row is None else SeenLine(row.history_id, row.seal)


class SameStore:
    """What is known of the store that was opened.

    Parameters
    ----------
    connection : Connection
        In a transaction; the store has the schema of this program.
    name : str
        What messages call the store.
    """

    def __init__(self, connection: Connection, name: str) -> None:
        self._name = name
        self._schema = connection.scalar(_SCHEMA)
        self._store_id = connection.scalar(select(CHAIN_BEGINS.c.store_id))
        self._seen = newest_line(connection)
        self._one_at_a_time = threading.Lock()

    @property
    def seen(self) -> SeenLine:
        """The newest line that is known to be kept."""
        return self._seen

    def saw(self, line: SeenLine) -> None:
        """Remember a line that is kept."""
        with self._one_at_a_time:
            if line.history_id > self._seen.history_id:
                self._seen = line

    def require(self, connection: Connection, seen: SeenLine) -> SeenLine:
        """Refuse another store, an older copy of this one, and a schema of another version.

        Parameters
        ----------
        connection : Connection
            In a transaction.
        seen : SeenLine
            The newest line that was known before the transaction began.

        Returns
        -------
        SeenLine
            The newest line there is now.

        Raises
        ------
        NoStoreError
            If it is not the store that was opened.
        OtherSchemaError
            If another version of this program has changed its layout meanwhile.
        """
        schema = connection.scalar(_SCHEMA)
        if schema != self._schema:
            raise OtherSchemaError(
                f"the store {self._name} has schema {schema or 'none'} by now, and was opened with "
                f"{self._schema}: another version of this program has changed it. Nothing was "
                "changed here; start this again with that version"
            )
        if connection.scalar(select(CHAIN_BEGINS.c.store_id)) != self._store_id:
            raise NoStoreError(
                f"another store lies at {self._name} than the one that was opened; nothing was "
                "changed. Put the first one back, or start this again over the other one"
            )
        newest = newest_line(connection)
        if not self._holds(connection, newest, seen):
            raise NoStoreError(
                f"an older copy of the store lies at {self._name}: the history had "
                f"{seen.history_id} lines and has {newest.history_id}; nothing was changed. Put "
                "the newer one back, or start this again over the older one"
            )
        return newest

    def holds(self, connection: Connection, line: SeenLine) -> bool:
        """Tell whether a line is kept in what lies at the address now."""
        return connection.scalar(select(CHAIN_BEGINS.c.store_id)) == self._store_id and self._holds(
            connection, newest_line(connection), line
        )

    @staticmethod
    def _holds(connection: Connection, newest: SeenLine, line: SeenLine) -> bool:
        if newest.history_id <= line.history_id:
            return newest == line
        if line == SeenLine():
            return True
        there = select(HISTORY.c.history_id, HISTORY.c.seal).where(
            HISTORY.c.history_id == line.history_id
        )
        row = connection.execute(there).one_or_none()
        return row is not None and SeenLine(row.history_id, row.seal) == line
