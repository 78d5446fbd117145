"""The answer to a query of a database that a plant has, as a grid; nothing there is changed."""

import datetime as dt
import os
import re
from decimal import Decimal
from importlib import import_module
from typing import Any

from scoring.errors import FixableError, UnreadableFleetError
from scoring.reading_plan import Grid
from scoring.reading_plan.what_a_plan_says import Query

MOST_ROWS = 10_000_000
MOST_EXACT = 1e15
_READS = re.compile(r"\s*(--[^\n]*\n\s*)*(select|with)\b", re.IGNORECASE)


def read_query_grid(query: Query) -> Grid:
    """Ask a database, read only.

    Parameters
    ----------
    query : Query
        Address without a password, and SQL that begins with SELECT or WITH.

    Raises
    ------
    FixableError
        If the query does not read, a password is in the address, or its variable is not set.
    UnreadableFleetError
        If the database cannot be reached or does not answer the query.
    """
    _refuse_writing(query)
    sql = import_module("sqlalchemy")  # who reads files does not wait for it
    try:
        engine = sql.create_engine(
            _address(query, sql), poolclass=import_module("sqlalchemy.pool").NullPool
        )
        with engine.connect() as connection:
            _read_only(connection, sql)
            answer = connection.execute(sql.text(query.query))
            headings = [str(key) for key in answer.keys()]  # noqa: SIM118 - no dict
            rows = [[_text(value) for value in row] for row in answer.fetchmany(MOST_ROWS)]
            connection.rollback()
    except (sql.exc.SQLAlchemyError, ImportError, ValueError) as error:
        raise UnreadableFleetError(
            f"{query.name}: the database does not answer: {_first_line(error)}; check the address, "
            "the query and the right to read"
        ) from None
    return Grid.from_rows(query.name, "", [headings, *rows], typed=True, folder=query.name)


def _refuse_writing(query: Query) -> None:
    if not _READS.match(query.query) or ";" in query.query.rstrip().rstrip(";"):
        raise FixableError(
            f"{query.name}: the query must be one statement that begins with SELECT or WITH; "
            "nothing of your database is changed"
        )


def _address(query: Query, sql: Any) -> Any:  # noqa: ANN401
    address = sql.make_url(query.database)
    if address.password:
        raise FixableError(
            f"{query.name}: the address holds a password; take it out, and name the variable of "
            "the environment that holds it: password_from"
        )
    if not query.password_from:
        return _file_read_only(address)
    password = os.environ.get(query.password_from)
    if password is None:
        raise FixableError(f"{query.name}: set the variable {query.password_from} to the password")
    return address.set(password=password)


def _file_read_only(address: Any) -> Any:  # noqa: ANN401
    """Open a file of SQLite for reading alone; what is not there is not made."""
    if (
        address.get_backend_name() != "sqlite"
        or not address.database
        or address.database == ":memory:"
    ):
        return address
    return address.set(database=f"file:{address.database}", query={"mode": "ro", "uri": "true"})


def _read_only(connection: Any, sql: Any) -> None:  # noqa: ANN401
    if connection.dialect.name == "postgresql":
        connection.execute(sql.text("SET TRANSACTION READ ONLY"))
    elif connection.dialect.name == "sqlite":
        connection.execute(sql.text("PRAGMA query_only = ON"))


def _text(value: Any) -> str:  # noqa: ANN401, PLR0911 - one for each kind of value
    if value is None:
        return ""
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, dt.datetime):
        midnight = value.time() == dt.time()
        return value.date().isoformat() if midnight else value.isoformat(timespec="seconds")
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, float) and value.is_integer() and abs(value) < MOST_EXACT:
        return str(int(value))
    if isinstance(value, Decimal):
        return f"{value.normalize():f}"
    return str(value)


def _first_line(error: Exception) -> str:
    return str(getattr(error, "orig", None) or error).splitlines()[0][:200]
