"""Bring a store to the schema of this version of the program, after a copy was made of it."""

import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import inspect

from scoring.store.address import store_url
from scoring.store.open_store import Store
from scoring.store.schema_version import (
    is_empty,
    newest_schema,
    require_known,
    schema_of,
    upgrade,
)
from scoring.store.store_errors import StoreError


@dataclass(frozen=True)
class Migrated:
    """What became of a store.

    Attributes
    ----------
    name : str
        Its address.
    before : str or None
        The schema it had; none where it was empty.
    after : str
        The schema it has.
    copy : Path or None
        The copy of it that was made before; none where there was nothing to lose, or on
        PostgreSQL.
    """

    name: str
    before: str | None
    after: str
    copy: Path | None


def migrate_store(where: str) -> Migrated:
    """Lay out an empty database, or bring a store to the newest schema, in one step.

    Parameters
    ----------
    where : str
        Its address.

    Returns
    -------
    Migrated

    Raises
    ------
    OtherSchemaError
        If it was prepared by a newer version of this program.
    StoreError
        If it cannot be reached, or holds tables that are not of a store.
    """
    with closing(Store(store_url(where), make=True)) as store:
        store.make_folder()
        copy = None
        with store.changing_layout() as connection:
            before = schema_of(connection)
            if before is None and not is_empty(inspect(connection)):
                raise StoreError(
                    f"{store.name} holds tables of something else; nothing was changed. Give an "
                    "empty database"
                )
            if before is not None:
                require_known(before, store.name)
            if before not in (None, newest_schema()) and store.file is not None:
                copy = copy_beside(store.file, str(before))
            upgrade(connection)
        return Migrated(store.name, before, newest_schema(), copy)


def copy_beside(file: Path, schema: str) -> Path:
    """Copy a store's file, as it was last written, to one beside it.

    Returns
    -------
    Path
        ``NAME-schema-0001-20260331T143000Z.db`` beside it.
    """
    day = datetime.now(UTC).strftime("%Y%m%dT%H%M%SZ")
    copy = file.with_name(f"{file.stem}-schema-{schema}-{day}{file.suffix}")
    with (
        closing(sqlite3.connect(f"{file.absolute().as_uri()}?mode=ro", uri=True)) as source,
        closing(sqlite3.connect(copy)) as target,
    ):
        source.backup(target)
    return copy
