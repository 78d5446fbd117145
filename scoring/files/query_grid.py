"""The answer to a query of a database that a plant has, as a grid; nothing there is changed."""

import os
from importlib import import_module
from typing import Any

from scoring.errors import FixableError, UnreadableFleetError
from scoring.files.query_answer import Bounds, grid_of_answer, require_reading
from scoring.reading_plan import Grid
from scoring.reading_plan.what_a_plan_says import Query

REACHED_WITHIN_S = 10
"""So long a server may take to let a page in. [s]"""


def read_query_grid(
    query: Query, *, password: str | None = None, bounds: Bounds | None = None
) -> Grid:
    """Ask a database, read only.

    Parameters
    ----------
    query : Query
        Address without a password, and SQL that begins with SELECT or WITH.
    password : str, optional
        In the place of the variable that the query names, which is then not looked at.
    bounds : Bounds, optional
        How long it may take, and how much be answered; by default a command's.

    Raises
    ------
    FixableError
        If the query does not read, a password is in the address, or its variable is not set.
    UnreadableFleetError
        If the database cannot be reached or does not answer the query.
    """
    require_reading(query)
    sql = import_module("sqlalchemy")  # who reads files does not wait for it
    try:
        address = _address(query, sql, password)
        if bounds and address.get_backend_name() == "postgresql":
            address = address.update_query_dict({"connect_timeout": str(REACHED_WITHIN_S)})
        engine = sql.create_engine(address, poolclass=import_module("sqlalchemy.pool").NullPool)
        with engine.connect() as connection:
            _read_only(connection, sql, bounds)
            answer = connection.execute(sql.text(query.query))
            grid = grid_of_answer(query.name, list(answer.keys()), answer.fetchmany, bounds)
            connection.rollback()
    except (sql.exc.SQLAlchemyError, ImportError, ValueError) as error:
        said = _first_line(error)
        raise UnreadableFleetError(
            f"{query.name}: the database does not answer: "
            f"{said.replace(password, '...') if password else said}; check the address, "
            "the query and the right to read"
        ) from None
    return grid


def _address(query: Query, sql: Any, password: str | None) -> Any:  # noqa: ANN401
    address = sql.make_url(query.database)
    if address.password or any("pass" in name.lower() for name in address.query):
        raise FixableError(
            f"{query.name}: the address holds a password; take it out, and name the variable of "
            "the environment that holds it: password_from"
        )
    if password is not None:
        return address.set(password=password) if password else _file_read_only(address)
    if not query.password_from:
        return _file_read_only(address)
    kept = os.environ.get(query.password_from)
    if kept is None:
        raise FixableError(f"{query.name}: set the variable {query.password_from} to the password")
    return address.set(password=kept)


def _file_read_only(address: Any) -> Any:  # noqa: ANN401
    """Open a file of SQLite for reading alone; what is not there is not made."""
    if (
        address.get_backend_name() != "sqlite"
        or not address.database
        or address.database == ":memory:"
    ):
        return address
    return address.set(database=f"file:{address.database}", query={"mode": "ro", "uri": "true"})


def _read_only(connection: Any, sql: Any, bounds: Bounds | None) -> None:  # noqa: ANN401
    if connection.dialect.name == "postgresql":
        connection.execute(sql.text("SET TRANSACTION READ ONLY"))
        if bounds:
            most_ms = int(1000 * bounds.seconds)
            connection.execute(sql.text(f"SET LOCAL statement_timeout = {most_ms}"))
    elif connection.dialect.name == "sqlite":
        connection.execute(sql.text("PRAGMA query_only = ON"))
        if bounds:
            bounds.end_after_steps(connection.connection.driver_connection)


def _first_line(error: Exception) -> str:
    return str(getattr(error, "orig", None) or error).splitlines()[0][:200]
