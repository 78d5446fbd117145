"""A database that was handed over as one file of SQLite: what it holds, and what it answers."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass

from scoring.errors import UnreadableFleetError
from scoring.files.query_answer import Bounds, grid_of_answer, require_reading
from scoring.reading_plan import Grid
from scoring.reading_plan.what_a_plan_says import Query

DATABASE_ENDINGS = (".db", ".sqlite", ".sqlite3")
"""Files that are databases end so."""

ADDRESS_OF_A_FILE = "sqlite:///"

_BEGINS = b"SQLite format 3\0"
_JOURNAL = slice(18, 20)
"""Bytes that say how changes were written down: a log that did not come with the file is not asked
for."""

_ALLOWED = frozenset(
    {
        sqlite3.SQLITE_SELECT,
        sqlite3.SQLITE_READ,
        sqlite3.SQLITE_FUNCTION,
        sqlite3.SQLITE_RECURSIVE,
    }
)
"""What a query may do; it opens no other file, and changes nothing."""


@dataclass(frozen=True)
class TableThere:
    """A table of a database.

    Attributes
    ----------
    name : str
        As the database calls it.
    columns : tuple of str
        In their order.
    """

    name: str
    columns: tuple[str, ...]


def tables_of_database(name: str, data: bytes) -> list[TableThere]:
    """Return the tables and views of a database.

    Parameters
    ----------
    name : str
        Of the file.
    data : bytes
        All of the file.

    Raises
    ------
    UnreadableFleetError
        If it is no database of SQLite, or a damaged one.

    Examples
    --------
    >>> base = sqlite3.connect(":memory:")
    >>> _ = base.execute("CREATE TABLE equipment (no TEXT, place TEXT)")
    >>> tables_of_database("plant.db", base.serialize())
    [TableThere(name='equipment', columns=('no', 'place'))]
    """
    with _opened(name, data) as base:
        named = base.execute(
            "SELECT name FROM sqlite_master WHERE type IN ('table', 'view') "
            "AND name NOT LIKE 'sqlite~_%' ESCAPE '~' ORDER BY name"
        ).fetchall()
        return [
            TableThere(
                str(table),
                tuple(
                    str(column)
                    for (column,) in base.execute("SELECT name FROM pragma_table_info(?)", (table,))
                ),
            )
            for (table,) in named
        ]


def ask_database_file(query: Query, data: bytes, bounds: Bounds | None = None) -> Grid:
    """Ask a database that is one file, read only, without a trace on the disk.

    Raises
    ------
    FixableError
        If the query does not read, or answers too much.
    UnreadableFleetError
        If the database does not answer it.

    Examples
    --------
    >>> base = sqlite3.connect(":memory:")
    >>> _ = base.execute("CREATE TABLE equipment AS SELECT 'C-1' AS no, 80.0 AS shaft")
    >>> query = Query("units", "sqlite:///plant.db", whole_table("equipment"))
    >>> ask_database_file(query, base.serialize()).row_texts(1)
    ['C-1', '80']
    """
    require_reading(query)
    bounds = bounds or Bounds()
    with _opened(query.name, data) as base:
        base.set_authorizer(_refuse_all_but_reading)
        base.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, bounds.letters)
        bounds.end_after_steps(base)
        answer = base.execute(query.query)
        headings = [one[0] for one in answer.description]
        return grid_of_answer(query.name, headings, answer.fetchmany, bounds)


def whole_table(name: str) -> str:
    """Return the query for all of a table.

    Examples
    --------
    >>> whole_table("equipment")
    'SELECT * FROM "equipment"'
    """
    quoted = name.replace('"', '""')
    return f'SELECT * FROM "{quoted}"'  # noqa: S608 - quoted, and asked of the person's own file


@contextmanager
def _opened(name: str, data: bytes) -> Iterator[sqlite3.Connection]:
    if not data.startswith(_BEGINS):
        raise UnreadableFleetError(f"{name} is no database of SQLite; drop the file of one")
    whole = bytearray(data)
    whole[_JOURNAL] = b"\1\1"
    with closing(sqlite3.connect(":memory:")) as base:
        base.text_factory = lambda text: text.decode("utf-8", "replace")
        try:
            base.deserialize(bytes(whole))
            for setting in ("trusted_schema = OFF", "query_only = ON", "temp_store = MEMORY"):
                base.execute(f"PRAGMA {setting}")
            yield base
        except (sqlite3.Error, sqlite3.Warning) as error:
            raise UnreadableFleetError(
                f"{name}: the database does not answer: {str(error)[:200]}; check the query, or "
                "drop the file anew"
            ) from None


def _refuse_all_but_reading(what: int, *_: str | None) -> int:
    return sqlite3.SQLITE_OK if what in _ALLOWED else sqlite3.SQLITE_DENY
