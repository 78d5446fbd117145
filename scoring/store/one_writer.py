"""One writer at a time, on both databases.

A plant's store has few writes; a lost one is worse than a short wait. SQLite: every writing
transaction begins with ``BEGIN IMMEDIATE``, for one that first reads and then writes would fail
at once where another has written in between. PostgreSQL: every writing transaction holds one
advisory lock until it ends.
"""

import threading

from sqlalchemy import Connection, Engine, create_engine, event, text
from sqlalchemy.engine import URL

from scoring.store.address import sqlite_file
from scoring.store.only_read import may_only_be_read, only_reading

PATIENCE_S = 60
"""How long a writer waits for the others; planning value of ours. [s]"""

WRITERS_TURN = 7_205_331_118
"""Number of the advisory lock; any would do, so long as nobody else uses it."""

_IN_THIS_PROCESS = threading.Lock()
"""SQLite's own waiting is unfair: within a process writers queue here first."""


def make_engines(url: URL) -> tuple[Engine, Engine]:
    """Return an engine for reading and one for writing.

    Parameters
    ----------
    url : URL
        As returned by ``store_url``.

    Returns
    -------
    tuple of Engine
    """
    file = sqlite_file(url)
    if file is None:
        return (
            create_engine(url, pool_pre_ping=True, isolation_level="REPEATABLE READ"),
            create_engine(url, pool_pre_ping=True, isolation_level="READ COMMITTED"),
        )
    reading = only_reading(file) if may_only_be_read(file) else _sqlite_engine(url, "BEGIN")
    return reading, _sqlite_engine(url, "BEGIN IMMEDIATE")


def _sqlite_engine(url: URL, begin: str) -> Engine:
    engine = create_engine(url, connect_args={"timeout": PATIENCE_S})

    @event.listens_for(engine, "connect")
    def set_up(connection: object, record: object) -> None:
        del record
        connection.isolation_level = None  # type: ignore[attr-defined]  # we begin ourselves
        cursor = connection.cursor()  # type: ignore[attr-defined]
        for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON"):
            cursor.execute(f"PRAGMA {pragma}")
        cursor.close()

    @event.listens_for(engine, "begin")
    def begin_it(connection: Connection) -> None:
        connection.exec_driver_sql(begin)

    return engine


def wait_for_turn(connection: Connection) -> None:
    """Wait until no other transaction writes; SQLite did so when this one began."""
    if connection.dialect.name == "postgresql":
        connection.execute(text(f"SET LOCAL lock_timeout = '{PATIENCE_S}s'"))
        connection.execute(text("SELECT pg_advisory_xact_lock(:turn)"), {"turn": WRITERS_TURN})


def turn_in_this_process() -> threading.Lock:
    """Return the lock under which this process writes."""
    return _IN_THIS_PROCESS
