"""Versions of records, as the history tells them."""

import json
from dataclasses import dataclass

from sqlalchemy import Connection, func, select

from scoring.contract import TABLE_BY_NAME
from scoring.store.schema import HISTORY, RECORDS
from scoring.store.store_errors import UnknownRecordError


@dataclass(frozen=True)
class Version:
    """One line of a record's history.

    Attributes
    ----------
    version : int or None
        Counts from 1; none for the oldest withdrawals.
    at, actor, change, reason : str
        When, who, what and why.
    content : dict
        What is not blank in it.
    """

    version: int | None
    at: str
    actor: str
    change: str
    reason: str
    content: dict[str, object]


@dataclass(frozen=True)
class StoredRecord:
    """A record as the store holds it.

    Attributes
    ----------
    content : dict
        Every column of the contract.
    version : int
        Its version.
    withdrawn : bool
        Whether it is left out of every reading.
    """

    content: dict[str, object]
    version: int
    withdrawn: bool


def find_record(connection: Connection, table: str, key: str) -> StoredRecord | None:
    """Return a record, withdrawn or not; none where there is none of that key."""
    sql, contract = RECORDS[table], TABLE_BY_NAME[table]
    row = connection.execute(select(sql).where(sql.c[contract.key] == key)).one_or_none()
    if row is None:
        return None
    content = {column.name: getattr(row, column.name) for column in contract.columns}
    return StoredRecord(content, row.version, row.withdrawn)


def version_of(connection: Connection, table: str, key: str) -> int:
    """Return the version of a record.

    Raises
    ------
    UnknownRecordError
        If there is none of that key.
    """
    sql, name = RECORDS[table], TABLE_BY_NAME[table].key
    version = connection.scalar(select(sql.c.version).where(sql.c[name] == key))
    if version is None:
        raise UnknownRecordError(f"there is no {key} in {table}")
    return int(version)


def last_change_of_unit(connection: Connection, unit_id: str) -> int:
    """Return the number of the last change to a record of a unit; a draft is none yet."""
    number = connection.scalar(
        select(func.max(HISTORY.c.history_id)).where(
            HISTORY.c.unit_id == unit_id, HISTORY.c.about.in_(RECORDS)
        )
    )
    return int(number or 0)


def versions_of(connection: Connection, table: str, key: str) -> list[Version]:
    """Return the versions of a record, the first one first."""
    rows = connection.execute(
        select(HISTORY)
        .where(HISTORY.c.about == table, HISTORY.c.key == key)
        .order_by(HISTORY.c.history_id)
    )
    return [
        Version(
            row.version,
            row.at,
            row.actor,
            row.change,
            row.reason or "",
            json.loads(row.after or row.before or "{}"),
        )
        for row in rows
    ]
