"""Versions of records, as the history tells them; and drafts that correct one."""

import json
from dataclasses import dataclass

from sqlalchemy import Connection, func, insert, select

from scoring.contract import CHECK_BY_NAME, TABLE_BY_NAME, WALKDOWNS, Seen
from scoring.store.answers import ABOUT_THE_VISIT
from scoring.store.drafts import add_draft
from scoring.store.errors import UnknownRecordError
from scoring.store.schema import DRAFT_ANSWERS, HISTORY, RECORDS
from scoring.store.sign_offs import not_seen_of
from scoring.store.stored_values import text_cells
from scoring.store.writing import Writing


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


def start_correction(writing: Writing, walkdown_id: str) -> str:
    """Begin a new version of a submitted walkdown, with what the last one says.

    Parameters
    ----------
    writing : Writing
        The transaction; its actor begins it.
    walkdown_id : str
        The walkdown.

    Returns
    -------
    str
        The name of the draft.

    Raises
    ------
    UnknownRecordError
        If there is no such walkdown.
    """
    sql = RECORDS["walkdowns"]
    row = writing.connection.execute(
        select(sql).where(sql.c.walkdown_id == walkdown_id, ~sql.c.withdrawn)
    ).one_or_none()
    if row is None:
        raise UnknownRecordError(f"there is no walkdown {walkdown_id!r} in the store")
    draft_id = add_draft(writing, row.unit_id, walkdown_id, row.version)
    said = {
        column.name: text_cells([getattr(row, column.name)], column)[0].as_py()
        for column in WALKDOWNS.columns
        if column.name in CHECK_BY_NAME or column.name in ABOUT_THE_VISIT
    }
    reasons = not_seen_of(writing.connection, walkdown_id)
    said |= {"machine_state": _state_of({*reasons, *(n for n, value in said.items() if value)})}
    answers = [
        {
            "draft_id": draft_id,
            "field": field,
            "heading": field,
            "value": value,
            "reason": "" if value else reasons.get(field, ""),
            "revision": 1,
            "by": writing.actor,
            "at": writing.at,
            "client": "",
        }
        for field, value in said.items()
        if value or field in reasons
    ]
    writing.connection.execute(insert(DRAFT_ANSWERS), answers)
    return draft_id


def _state_of(fields: set[str]) -> str:
    """Return the state in which what was seen can be seen; the records do not keep it."""
    seen = {CHECK_BY_NAME[field].seen for field in fields if field in CHECK_BY_NAME}
    if Seen.HANGING in seen:
        return "hanging"
    return "running" if seen == {Seen.RUNNING} else "stopped"
