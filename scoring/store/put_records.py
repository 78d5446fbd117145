"""Put records into the store: new ones, and new versions of those that are there."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import Any

from sqlalchemy import Table as SqlTable
from sqlalchemy import Update, bindparam, insert, select, update

from scoring.contract import TABLE_BY_NAME
from scoring.store.new_rows import add_rows
from scoring.store.schema import RECORDS
from scoring.store.store_errors import ChangedMeanwhileError, UnknownRecordError
from scoring.store.stored_values import digest, filled
from scoring.store.writing import Change, Writing

AT_ONCE = 5000
"""Rows sent to the database at once."""

KEYS_AT_ONCE = 500
"""Keys named in one question."""

Row = dict[str, object]


@dataclass(frozen=True)
class Put:
    """What became of records that were put into the store.

    Attributes
    ----------
    added, changed, same : int
        New records; new versions of known ones; records that were there with the same content.
    """

    added: int = 0
    changed: int = 0
    same: int = 0

    def __add__(self, other: "Put") -> "Put":
        """Count both together."""
        return Put(self.added + other.added, self.changed + other.changed, self.same + other.same)


def put_records(writing: Writing, table: str, rows: Iterable[Row], reason: str) -> Put:
    """Put records of one table into the store.

    Parameters
    ----------
    writing : Writing
        The transaction.
    table : str
        Name of a table of the contract.
    rows : iterable of dict
        As from ``stored_rows``; every key once. Some at a time are held.
    reason : str
        Why, in the history of what is changed by it.

    Returns
    -------
    Put
    """
    sql, key = RECORDS[table], TABLE_BY_NAME[table].key
    there = {
        row.key: row
        for row in writing.connection.execute(
            select(sql.c[key].label("key"), sql.c.digest, sql.c.version, sql.c.withdrawn)
        )
    }
    done = Put()
    for some in _parts(rows, AT_ONCE):
        done += _put_some(writing, sql, key, some, there, reason)
    return done


def _put_some(  # noqa: PLR0913, PLR0917 - which rows, where, beside what, and why
    writing: Writing,
    sql: SqlTable,
    key: str,
    rows: list[Row],
    there: Mapping[Any, Any],
    reason: str,
) -> Put:
    new: list[Row] = []
    changed: list[Row] = []
    for row in rows:
        content = digest(row)
        known = there.get(row[key])
        if known is None:
            new.append({**row, "version": 1, "digest": content, "withdrawn": False})
        elif known.digest != content or known.withdrawn:
            changed.append(
                {**row, "version": known.version + 1, "digest": content, "withdrawn": False}
            )
    if new:
        add_rows(writing.connection, sql, new)
        writing.note([_change(sql.name, row, "added", None, reason) for row in new])
    if changed:
        before = _contents(writing, sql, key, [row[key] for row in changed])
        writing.connection.execute(_overwrite(sql, key), [_bound(row, key) for row in changed])
        writing.note(
            [_change(sql.name, row, "changed", before[str(row[key])], reason) for row in changed]
        )
    return Put(len(new), len(changed), len(rows) - len(new) - len(changed))


def put_record(
    writing: Writing, table: str, row: Row, reason: str, *, read_version: int | None = None
) -> int:
    """Put one record into the store.

    Parameters
    ----------
    writing : Writing
        The transaction.
    table : str
        Name of a table of the contract.
    row : dict
        As from ``stored_rows``.
    reason : str
        Why.
    read_version : int, optional
        The version that the person saw who changes it; none for a new record.

    Returns
    -------
    int
        The version after it.

    Raises
    ------
    ChangedMeanwhileError
        If the store holds another version than the one seen, with another content.
    """
    sql, key = RECORDS[table], TABLE_BY_NAME[table].key
    content = digest(row)
    known = writing.connection.execute(
        select(sql.c.version, sql.c.digest, sql.c.withdrawn).where(sql.c[key] == row[key])
    ).one_or_none()
    if known is not None and known.digest == content and not known.withdrawn:
        return int(known.version)
    found = None if known is None else int(known.version)
    if found != read_version:
        raise ChangedMeanwhileError(
            f"{row[key]} in {table} was changed by somebody else (version {found or 'none'} in "
            f"the store, version {read_version or 'none'} was read); look at it again"
        )
    stamped = {**row, "version": (found or 0) + 1, "digest": content, "withdrawn": False}
    if known is None:
        writing.connection.execute(insert(sql), stamped)
        writing.note([_change(table, stamped, "added", None, reason)])
    else:
        before = _contents(writing, sql, key, [row[key]])[str(row[key])]
        writing.connection.execute(_overwrite(sql, key), _bound(stamped, key))
        writing.note([_change(table, stamped, "changed", before, reason)])
    return (found or 0) + 1


def withdraw_record(writing: Writing, table: str, key: str, reason: str) -> None:
    """Take a record out of every reading; it stays in the store, and so does its history.

    Raises
    ------
    UnknownRecordError
        If there is none of that key.
    """
    sql, name = RECORDS[table], TABLE_BY_NAME[table].key
    before = _contents(writing, sql, name, [key])
    if key not in before:
        raise UnknownRecordError(f"there is no {key} in {table}")
    known = writing.connection.execute(
        select(sql.c.version, sql.c.withdrawn).where(sql.c[name] == key)
    ).one()
    if known.withdrawn:
        return
    version = int(known.version) + 1
    writing.connection.execute(
        update(sql).where(sql.c[name] == key).values(withdrawn=True, version=version)
    )
    row = before[key]
    unit_id = row.get("unit_id")
    writing.note(
        [
            Change(
                table,
                key,
                "withdrawn",
                before=row,
                unit_id=None if unit_id is None else str(unit_id),
                version=version,
                reason=reason,
            )
        ]
    )


def _overwrite(sql: SqlTable, key: str) -> Update:
    values: dict[str, Any] = {
        c.name: bindparam(f"new_{c.name}") for c in sql.columns if c.name != key
    }
    return update(sql).where(sql.c[key] == bindparam("this_key")).values(values)


def _bound(row: Row, key: str) -> Row:
    return {"this_key": row[key]} | {f"new_{n}": v for n, v in row.items() if n != key}


def _change(table: str, row: Row, change: str, before: Row | None, reason: str) -> Change:
    own = ("version", "digest", "withdrawn")
    content = filled({name: value for name, value in row.items() if name not in own})
    return Change(
        table,
        str(row[TABLE_BY_NAME[table].key]),
        change,
        before=before,
        after=content,
        unit_id=str(row["unit_id"]),
        version=int(str(row["version"])),
        reason=reason,
    )


def _contents(writing: Writing, sql: SqlTable, key: str, keys: Sequence[object]) -> dict[str, Row]:
    """Return what the store holds of some records, by key."""
    names = [column.name for column in TABLE_BY_NAME[sql.name].columns]
    columns = [sql.c[name] for name in names]
    return {
        str(row._mapping[key]): filled(dict(zip(names, row, strict=True)))  # noqa: SLF001 - public in all but name
        for some in _parts(keys, KEYS_AT_ONCE)
        for row in writing.connection.execute(select(*columns).where(sql.c[key].in_(some)))
    }


def _parts(rows: Iterable[Any], at_once: int) -> Iterator[list[Any]]:
    """Split rows so that no statement holds more than a database takes."""
    left = iter(rows)
    while some := list(islice(left, at_once)):
        yield some
