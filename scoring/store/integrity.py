"""Is a store sound? What it holds is what was put there, and its history says how it came."""

import json
from collections.abc import Iterable, Iterator, Mapping
from contextlib import closing
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, select, text

from scoring.contract import FLEET_TABLES, Table
from scoring.store.clock_followed import ClockFollowed
from scoring.store.kept_aside import KeptAside
from scoring.store.schema import RECORDS
from scoring.store.stored_values import digest
from scoring.store.told_by_history import Told, faults_of_what_is_told
from scoring.store.verify_store import ChainFollowed, Head, faults_beside_lines, lines_of

ROWS_AT_ONCE = 2000
"""Rows held in memory at once."""

TOLD = 20
"""Records of a table that are shown one by one; the others are counted."""


@dataclass(frozen=True)
class CheckedStore:
    """What was found of a store.

    Attributes
    ----------
    faults : list of str
        What is wrong, in words; empty where the store is sound.
    remarks : list of str
        What a person should know, and is no fault.
    """

    faults: list[str]
    remarks: list[str]


def check_store(connection: Connection, kept: Head | None = None) -> CheckedStore:
    """Check a store: its history is read once, and what it tells kept aside on the disk.

    Parameters
    ----------
    connection : Connection
        In a transaction that reads, so that all is of one moment.
    kept : Head, optional
        A head of the chain of its history that was kept elsewhere.

    Returns
    -------
    CheckedStore
    """
    chain, clock, of_lines = ChainFollowed(connection, kept), ClockFollowed(), _Found()
    with closing(KeptAside()) as aside:
        told = Told(aside)
        for line in lines_of(connection):  # once, for all that is asked of them
            of_lines.add(chain.faults_at(line))
            clock.look_at(line)
            of_lines.add(_taken(line, told))
        of_lines.add(chain.faults_at_the_end())
        found = [_Found(faults_of_what_is_told(connection, told))]
        found += [_Found(_faults_of_records(connection, table, aside)) for table in FLEET_TABLES]
    beside = [*_faults_of_database(connection), *faults_beside_lines(connection)]
    faults = beside + [words for some in (of_lines, *found) for words in some.told()]
    return CheckedStore(faults, clock.remarks())


class _Found:
    """The first of some faults, and how many more there are."""

    def __init__(self, faults: Iterable[str] = ()) -> None:
        self._first: list[str] = []
        self._more = 0
        self.add(faults)

    def add(self, faults: Iterable[str]) -> None:
        for words in faults:
            if len(self._first) < TOLD:
                self._first.append(words)
            else:
                self._more += 1

    def told(self) -> list[str]:
        return [*self._first, f"and {self._more} more of these"] if self._more else self._first


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


def _taken(line: Mapping[str, Any], told: Told) -> list[str]:
    """Take what a line tells; return what is wrong with a line that tells nothing."""
    try:
        if line["about"] in RECORDS:
            _take_record(told.rows, line)
        else:
            told.take(line)
    except (ValueError, KeyError, TypeError, AttributeError):
        return [f"line {line['history_id']} of the history cannot be read"]
    return []


def _take_record(aside: KeptAside, line: Mapping[str, Any]) -> None:
    """Keep what a line says of a record: its version, its content, and whether one is missing."""
    about, key, version = line["about"], (line["key"],), line["version"]
    earlier = aside.get(about, key)
    withdrawn = line["change"] == "withdrawn"
    content = line["before"] if withdrawn else line["after"]
    said = {
        "version": version or 0,
        "digest": digest(json.loads(content or "{}")),
        "withdrawn": withdrawn,
        "gap": version != (1 if earlier is None else earlier["version"] + 1)
        or (earlier is not None and earlier["gap"]),
    }
    aside.put(about, key, said)


def _faults_of_records(connection: Connection, table: Table, aside: KeptAside) -> Iterator[str]:
    sql = RECORDS[table.name]
    names = [column.name for column in table.columns]
    query = select(*(sql.c[name] for name in names), sql.c.version, sql.c.digest, sql.c.withdrawn)
    streamed = connection.execution_options(yield_per=ROWS_AT_ONCE).execute(query)
    for *values, version, kept_digest, withdrawn in streamed:
        content = dict(zip(names, values, strict=True))
        key = content[table.key]
        last = aside.take(table.name, (key,))
        for wrong in _wrong_with(content, version, kept_digest, withdrawn, last):
            yield f"{table.name} {key}: {wrong}"
    for (key,) in aside.rest(table.name):
        yield f"{table.name} {key}: is told of by the history and is not there"


def _wrong_with(
    content: Mapping[str, object],
    version: int,
    kept_digest: str,
    withdrawn: bool,  # noqa: FBT001 - a column of the row
    last: Mapping[str, Any] | None,
) -> Iterator[str]:
    if digest(content) != kept_digest:
        yield "its content is not what its digest names; it was changed past this program"
    if last is None:
        yield "has no history"
        return
    if last["gap"]:
        yield "its history lacks a version"
    if version != last["version"]:
        yield f"is version {version}, and the last of its history is version {last['version']}"
    elif last["digest"] != kept_digest:
        yield "its content is not what the last line of its history says"
    if bool(withdrawn) != last["withdrawn"]:
        yield "its history does not say that it was " + ("withdrawn" if withdrawn else "put back")
