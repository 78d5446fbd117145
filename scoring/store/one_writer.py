"""One writer at a time, on both databases.

A plant's store has few writes; a lost one is worse than a short wait. SQLite: every writing
transaction begins with ``BEGIN IMMEDIATE``, for one that first reads and then writes would fail
at once where another has written in between. PostgreSQL: every writing transaction holds one
advisory lock until it ends.
"""

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from sqlalchemy import Connection, Engine, NullPool, Pool, QueuePool, create_engine, event, text
from sqlalchemy.engine import URL

from scoring.store.address import sqlite_file
from scoring.store.files_of_sqlite import files_at
from scoring.store.only_read import may_only_be_read, only_reading
from scoring.store.patient_connection import ANSWER_S, STILL_THERE_S, connect
from scoring.store.store_errors import BusyStoreError

PATIENCE_S = 60
"""How long a writer waits for the others; planning value of ours. [s]"""

WRITERS_TURN = 7_205_331_118
"""Number of the advisory lock; any would do, so long as nobody else uses it."""

FILES = "files"
"""Under which a connection of SQLite keeps which files it has open."""

_ON_THE_DISK = (
    "SELECT set_config('synchronous_commit', 'on', true) "
    "WHERE current_setting('synchronous_commit') = 'off'"
)

_IN_THIS_PROCESS = threading.Lock()
"""SQLite's own waiting is unfair: within a process writers queue here first."""


def make_engines(url: URL, *, make: bool) -> tuple[Engine, Engine]:
    """Return an engine for reading and one for writing.

    Parameters
    ----------
    url : URL
        As returned by ``store_url``.
    make : bool
        Whether a file of SQLite is made where there is none.

    Returns
    -------
    tuple of Engine
    """
    file = sqlite_file(url)
    if file is None:
        return _postgresql(url, "REPEATABLE READ"), _postgresql(url, "READ COMMITTED")
    reading = only_reading(file) if may_only_be_read(file) else _sqlite(url, "BEGIN", make=make)
    # Who writes opens the file anew: on its way to what it changes it reads what lies on the disk,
    # not what it remembers of it, so that damage there is met before anything is said to be kept.
    return reading, _sqlite(url, "BEGIN IMMEDIATE", make=make, poolclass=NullPool)


def _sqlite(url: URL, begin: str, *, make: bool, poolclass: type[Pool] = QueuePool) -> Engine:
    file = sqlite_file(url)
    assert file is not None  # noqa: S101 - asked by the one caller
    place = file.absolute()

    def open_it() -> sqlite3.Connection:
        # A file that is gone is not made anew in silence, empty, by whoever looks for it.
        mode = "rwc" if make else "rw"
        return sqlite3.connect(
            f"{place.as_uri()}?mode={mode}", uri=True, timeout=PATIENCE_S, check_same_thread=False
        )

    engine = create_engine(url, creator=open_it, poolclass=poolclass)

    @event.listens_for(engine, "connect")
    def set_up(connection: Any, record: Any) -> None:  # noqa: ANN401 - as the pool hands them over
        connection.isolation_level = None  # we begin ourselves
        cursor = connection.cursor()
        for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON"):
            cursor.execute(f"PRAGMA {pragma}")
        cursor.execute("SELECT count(*) FROM sqlite_master").fetchall()  # opens all of its files
        cursor.close()
        record.info[FILES] = files_at(place)

    @event.listens_for(engine, "begin")
    def begin_it(connection: Connection) -> None:
        connection.exec_driver_sql(begin)

    return engine


def _postgresql(url: URL, isolation: Any) -> Engine:  # noqa: ANN401 - a name that SQLAlchemy knows
    engine = create_engine(url, pool_pre_ping=True, isolation_level=isolation)

    @event.listens_for(engine, "do_connect")
    def connect_it(dialect: object, record: object, given: Any, options: Any) -> Any:  # noqa: ANN401
        del dialect, record
        return connect(*given, **options)

    @event.listens_for(engine, "checkout")
    def is_at_work(connection: Any, record: object, proxy: object) -> None:  # noqa: ANN401
        del record, proxy
        connection.patience_s = ANSWER_S

    @event.listens_for(engine, "checkin")
    def lies_idle(connection: Any, record: object) -> None:  # noqa: ANN401
        del record
        if connection is not None:
            connection.patience_s = STILL_THERE_S

    return engine


def wait_for_turn(connection: Connection) -> None:
    """Wait until no other transaction writes; SQLite did so when this one began."""
    if connection.dialect.name == "postgresql":
        connection.execute(text(f"SET LOCAL lock_timeout = '{PATIENCE_S}s'"))
        # What is said to be kept is on the disk, however the server is set up.
        connection.execute(text(_ON_THE_DISK))
        connection.execute(text("SELECT pg_advisory_xact_lock(:turn)"), {"turn": WRITERS_TURN})


@contextmanager
def turn_in_this_process(name: str) -> Iterator[None]:
    """Write alone within this process.

    Raises
    ------
    BusyStoreError
        If others do so for too long.
    """
    if not _IN_THIS_PROCESS.acquire(timeout=PATIENCE_S):
        raise BusyStoreError(
            f"others wrote to {name} for more than {PATIENCE_S:g} s; nothing was changed, try again"
        )
    try:
        yield
    finally:
        _IN_THIS_PROCESS.release()
