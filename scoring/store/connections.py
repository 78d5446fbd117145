"""Connections to a store that lead to what lies at its address now, and nowhere else."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from sqlalchemy import Connection, Engine, QueuePool
from sqlalchemy.engine import URL
from sqlalchemy.exc import DBAPIError

from scoring.store.address import shown, sqlite_file
from scoring.store.files_of_sqlite import FilesOfStore, files_at, never_close
from scoring.store.one_writer import FILES, make_engines
from scoring.store.store_errors import BusyStoreError, NoStoreError

OTHERS_END_S = 10.0
"""How long it is waited for others to end before all connections are made anew. Ours. [s]"""


class Connections:
    """Connections for reading and for writing.

    Parameters
    ----------
    url : URL
        As returned by ``store_url``.
    make : bool
        Whether a file of SQLite is made where there is none; once it is there it is not made again.
    """

    def __init__(self, url: URL, *, make: bool) -> None:
        self._url, self._make = url, make
        file = sqlite_file(url)
        self._file = None if file is None else file.absolute()
        self._reading, self._writing = make_engines(url, make=make)
        self._changes = threading.Condition()
        self._in_use = 0
        self._is_renewing = False
        self._is_doubted = False
        self._opened: FilesOfStore | None = None

    @contextmanager
    def taken(self, *, to_write: bool) -> Iterator[Connection]:
        """Take a connection that leads to what lies at the address.

        Yields
        ------
        Connection

        Raises
        ------
        NoStoreError
            If nothing lies there.
        BusyStoreError
            If connections have to be made anew, and others use them for too long.
        """
        if self._is_doubted or self._others_lie_there():
            self._renew()
        for is_last in (False, True):
            with self._counted(), self._engine(to_write=to_write).connect() as connection:
                if self.lead_there(connection):
                    self._make = False
                    if not to_write:
                        self._opened = connection.info.get(FILES)
                    yield connection
                    return
            if is_last:
                break
            self._renew()
        raise NoStoreError(f"what lies at {shown(self._url)} changes all the time; try again")

    def doubt(self) -> None:
        """Make all connections anew before one is used again."""
        self._is_doubted = True

    def lead_there(self, connection: Connection) -> bool:
        """Tell whether a connection has those files open that lie at the address.

        Raises
        ------
        NoStoreError
            If no store lies there any more.
        """
        opened: FilesOfStore | None = connection.info.get(FILES)
        if opened is None or self._file is None:
            return True
        there = files_at(self._file)
        if there.store != opened.store:
            _bring_home(connection)
        if there.store is None:
            raise NoStoreError(gone(self._url))
        return there == opened

    def close(self) -> None:
        """Let go of all connections."""
        self._let_go()

    def _others_lie_there(self) -> bool:
        """Tell whether connections that lie idle lead elsewhere; a new one would mix both."""
        pool = self._reading.pool
        if self._file is None or self._opened is None or not isinstance(pool, QueuePool):
            return False
        return bool(pool.checkedin() + pool.checkedout()) and self._opened != files_at(self._file)

    def _engine(self, *, to_write: bool) -> Engine:
        return self._writing if to_write else self._reading

    @contextmanager
    def _counted(self) -> Iterator[None]:
        with self._changes:
            if not self._changes.wait_for(lambda: not self._is_renewing, OTHERS_END_S):
                raise self._busy()
            self._in_use += 1
        try:
            yield
        finally:
            with self._changes:
                self._in_use -= 1
                self._changes.notify_all()

    def _renew(self) -> None:
        """Make all connections anew; those of one process share what they know of the files."""
        with self._changes:
            if not self._changes.wait_for(lambda: not self._is_renewing, OTHERS_END_S):
                raise self._busy()
            self._is_renewing = True
            try:
                if not self._changes.wait_for(lambda: self._in_use == 0, OTHERS_END_S):
                    raise self._busy()
                self._let_go()
                self._reading, self._writing = make_engines(self._url, make=self._make)
                self._is_doubted, self._opened = False, None
            finally:
                self._is_renewing = False
                self._changes.notify_all()

    def _let_go(self) -> None:
        if self._file is not None:
            self._keep_one_of_another_file(self._file)
        self._reading.dispose()
        self._writing.dispose()

    def _keep_one_of_another_file(self, file: Path) -> None:
        """Never close one of the connections that lie idle, if they lead to another file."""
        pool = self._reading.pool
        if not isinstance(pool, QueuePool) or not pool.checkedin():
            return
        with suppress(DBAPIError), self._reading.connect() as connection:
            opened: FilesOfStore | None = connection.info.get(FILES)
            if opened is not None and opened.store != files_at(file).store:
                _bring_home(connection)
                connection.detach()
                never_close(connection.connection.dbapi_connection)

    def _busy(self) -> BusyStoreError:
        return BusyStoreError(
            f"the files of {shown(self._url)} were changed, and others still read what was there; "
            "nothing was changed, try again"
        )


def _bring_home(connection: Connection) -> None:
    """Write what lies in the notes beside a file into the file itself, wherever it was moved."""
    with suppress(DBAPIError):
        dbapi = connection.connection.dbapi_connection
        if dbapi is not None:
            dbapi.cursor().execute("PRAGMA wal_checkpoint(PASSIVE)").fetchall()


def gone(url: URL) -> str:
    """Say that the file of a store on SQLite is gone, and what to do."""
    folder = Path(str(url.database)).parent
    what = "the folder is gone" if not folder.exists() else "the file is gone"
    return (
        f"there is no store {shown(url)} any more ({what}); nothing was changed. Put it back, or "
        f"restore a backup: mount-risk restore FILE --store {shown(url)}"
    )
