"""Put a backup into an empty store: all of it, or on any error nothing."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import (
    Connection,
    Integer,
    MetaData,
    Table,
    delete,
    func,
    insert,
    inspect,
    select,
    text,
)
from sqlalchemy.exc import DBAPIError, StatementError

from scoring.store.address import store_url
from scoring.store.open_store import Store
from scoring.store.read_backup import Backup, open_backup
from scoring.store.schema import CHAIN_BEGINS
from scoring.store.schema_version import is_empty, newest_schema, require_known, upgrade
from scoring.store.store_errors import StoreError
from scoring.store.write_backup import SCHEMA_TABLE

ROWS_AT_ONCE = 200
"""Rows sent to the database at once; a row may be a photo."""


@dataclass(frozen=True)
class Restored:
    """What was restored.

    Attributes
    ----------
    name : str
        The store's address.
    made_at : str
        When the backup was made. [UTC]
    before, after : str
        Schema of the backup, and of the store now.
    rows : dict of str to int
        By table.
    """

    name: str
    made_at: str
    before: str
    after: str
    rows: dict[str, int]


def restore_backup(path: Path, where: str) -> Restored:
    """Restore a backup, and bring it to the newest schema.

    Parameters
    ----------
    path : Path
        As written by ``back_up``, of whichever database.
    where : str
        Address of a database that is empty.

    Returns
    -------
    Restored

    Raises
    ------
    DamagedBackupError
        If the file is no whole backup.
    StoreError
        If the database is not empty or cannot be used.
    """
    store = Store(store_url(where), make=True)
    try:
        with open_backup(path) as backup, _nothing_left_over(store), _told_as_damage(backup):
            require_known(backup.manifest.schema, f"in {path}")
            with store.changing_layout() as connection:
                if not is_empty(inspect(connection)):
                    raise StoreError(
                        f"{store.name} is not empty; nothing was changed. Restore into a new "
                        "database, and then point at that one"
                    )
                upgrade(connection, backup.manifest.schema)
                rows = _fill(connection, backup)
                upgrade(connection)
            manifest = backup.manifest
            return Restored(store.name, manifest.made_at, manifest.schema, newest_schema(), rows)
    finally:
        store.close()


@contextmanager
def _nothing_left_over(store: Store) -> Iterator[None]:
    """Remove a file of SQLite that was made for a restoring that failed."""
    made = store.file is not None and not store.file.exists()
    store.make_folder()
    try:
        yield
    except BaseException:
        store.close()
        if made and store.file is not None:
            for end in ("", "-wal", "-shm"):
                Path(f"{store.file}{end}").unlink(missing_ok=True)
        raise


@contextmanager
def _told_as_damage(backup: Backup) -> Iterator[None]:
    """Tell of rows that a database refuses as what they are: damage to the file."""
    try:
        yield
    except (DBAPIError, StatementError) as error:
        raise backup.damaged("a row in it does not fit its table") from error


def _fill(connection: Connection, backup: Backup) -> dict[str, int]:
    metadata = MetaData()
    metadata.reflect(bind=connection)
    tables = [table for table in metadata.sorted_tables if table.name != SCHEMA_TABLE]
    kept = backup.manifest.tables
    if {table.name for table in tables} != set(kept):
        raise backup.damaged("its tables are not those of its schema")
    for table in tables:  # those first that others refer to
        if {column.name for column in table.columns} != set(kept[table.name].columns):
            raise backup.damaged(f"the columns of {table.name} are not those of its schema")
        if table.name == CHAIN_BEGINS.name:  # laying it out has put one there
            connection.execute(delete(table))
        for some in _parts(backup.rows(table.name)):
            connection.execute(insert(table), some)
        _count_on(connection, table)
    return {name: table.rows for name, table in kept.items()}


def _parts(rows: Iterator[dict[str, object]]) -> Iterator[list[dict[str, object]]]:
    some: list[dict[str, object]] = []
    for row in rows:
        some.append(row)
        if len(some) == ROWS_AT_ONCE:
            yield some
            some = []
    if some:
        yield some


def _count_on(connection: Connection, table: Table) -> None:
    """Let PostgreSQL number further rows after those that were restored; SQLite does by itself."""
    key = [column for column in table.primary_key.columns if isinstance(column.type, Integer)]
    if connection.dialect.name != "postgresql" or len(key) != len(table.primary_key.columns):
        return
    last = connection.scalar(select(func.max(key[0])))
    sequence = connection.scalar(
        text("SELECT pg_get_serial_sequence(:table, :column)"),
        {"table": table.name, "column": key[0].name},
    )
    if last is not None and sequence is not None:
        connection.execute(
            text("SELECT setval(:sequence, :last)"), {"sequence": sequence, "last": last}
        )
