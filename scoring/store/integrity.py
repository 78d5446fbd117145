"""Is a store sound? What it holds is what was put there, and its history says how it came."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sqlalchemy import Connection, select, text

from scoring.contract import FLEET_TABLES, Table
from scoring.store.schema import HISTORY, RECORDS
from scoring.store.stored_values import digest
from scoring.store.verify_store import Head, faults_of_chain

ROWS_AT_ONCE = 2000
"""Rows held in memory at once."""

TOLD = 20
"""Records of a table that are shown one by one; the others are counted."""


@dataclass(frozen=True)
class _LastLine:
    """What the history says of a record in the end."""

    version: int
    digest: str
    withdrawn: bool
    gap: bool


def faults_of_store(connection: Connection, kept: Head | None = None) -> list[str]:
    """Check a store.

    Parameters
    ----------
    connection : Connection
        In a transaction that reads, so that all is of one moment.
    kept : Head, optional
        A head of the chain of its history that was kept elsewhere.

    Returns
    -------
    list of str
        What is wrong, in words; empty where the store is sound.
    """
    faults = [*_faults_of_database(connection), *_some(faults_of_chain(connection, kept))]
    for table in FLEET_TABLES:
        faults += _some(list(_faults_of_records(connection, table)))
    return faults


def _some(found: list[str]) -> list[str]:
    """Return the first of some faults, and how many more there are."""
    if len(found) <= TOLD:
        return found
    return [*found[:TOLD], f"and {len(found) - TOLD} more of these"]


def _faults_of_database(connection: Connection) -> list[str]:
    """Ask the database itself; PostgreSQL watches over its references by itself."""
    if connection.dialect.name != "sqlite":
        return []
    reported = connection.execute(text("PRAGMA integrity_check")).scalars().all()
    faults = [f"the database file: {words}" for words in reported if words != "ok"]
    broken = connection.execute(text("PRAGMA foreign_key_check")).all()
    return faults + [
        f"{row[0]}: row {row[1]} names something that is not in {row[2]}" for row in broken
    ]


def _faults_of_records(connection: Connection, table: Table) -> Iterator[str]:
    last = _last_lines(connection, table)
    sql = RECORDS[table.name]
    names = [column.name for column in table.columns]
    query = select(*(sql.c[name] for name in names), sql.c.version, sql.c.digest, sql.c.withdrawn)
    streamed = connection.execution_options(yield_per=ROWS_AT_ONCE).execute(query)
    for *values, version, kept_digest, withdrawn in streamed:
        content = dict(zip(names, values, strict=True))
        key = str(content[table.key])
        for wrong in _wrong_with(content, version, kept_digest, withdrawn, last.pop(key, None)):
            yield f"{table.name} {key}: {wrong}"
    for key in last:
        yield f"{table.name} {key}: is told of by the history and is not there"


def _wrong_with(
    content: Mapping[str, object],
    version: int,
    kept_digest: str,
    withdrawn: bool,  # noqa: FBT001 - a column of the row
    last: _LastLine | None,
) -> Iterator[str]:
    if digest(content) != kept_digest:
        yield "its content is not what its digest names; it was changed past this program"
    if last is None:
        yield "has no history"
        return
    if last.gap:
        yield "its history lacks a version"
    if version != last.version:
        yield f"is version {version}, and the last of its history is version {last.version}"
    elif last.digest != kept_digest:
        yield "its content is not what the last line of its history says"
    if bool(withdrawn) != last.withdrawn:
        yield "its history does not say that it was " + ("withdrawn" if withdrawn else "put back")


def _last_lines(connection: Connection, table: Table) -> dict[str, _LastLine]:
    query = (
        select(
            HISTORY.c.key, HISTORY.c.version, HISTORY.c.change, HISTORY.c.before, HISTORY.c.after
        )
        .where(HISTORY.c.about == table.name)
        .order_by(HISTORY.c.history_id)
    )
    last: dict[str, _LastLine] = {}
    streamed = connection.execution_options(yield_per=ROWS_AT_ONCE).execute(query)
    for key, version, change, before, after in streamed:
        earlier = last.get(key)
        expected = 1 if earlier is None else earlier.version + 1
        withdrawn = change == "withdrawn"
        content = before if withdrawn else after
        last[key] = _LastLine(
            version or 0,
            digest(json.loads(content or "{}")),
            withdrawn,
            version != expected or (earlier is not None and earlier.gap),
        )
    return last
