"""An open store: transactions that read, and transactions that write in somebody's name."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import Connection, inspect
from sqlalchemy.engine import URL
from sqlalchemy.exc import DatabaseError, DataError, DBAPIError, OperationalError
from sqlalchemy.exc import TimeoutError as NoConnectionFreeError

from scoring.store.address import shown, sqlite_file, store_url
from scoring.store.one_writer import (
    PATIENCE_S,
    make_engines,
    turn_in_this_process,
    wait_for_turn,
)
from scoring.store.schema_version import is_empty, require_current, schema_of, upgrade
from scoring.store.store_errors import BusyStoreError, NoStoreError, StoreError
from scoring.store.writing import Writing

_MAY_NOT = ("InsufficientPrivilege", "ReadOnlySqlTransaction")
_WAITED_TOO_LONG = ("database is locked", "lock timeout", "LockNotAvailable")


class Store:
    """A store of records.

    Parameters
    ----------
    url : URL
        As returned by ``store_url``.
    """

    def __init__(self, url: URL) -> None:
        self.url = url
        self._read, self._write = make_engines(url)

    @property
    def name(self) -> str:
        """The address, without a password."""
        return shown(self.url)

    @property
    def file(self) -> Path | None:
        """The file of a store on SQLite."""
        return sqlite_file(self.url)

    def make_folder(self) -> None:
        """Make the folder of a store on SQLite."""
        if self.file is not None:
            try:
                self.file.parent.mkdir(parents=True, exist_ok=True)
            except OSError as error:
                raise NoStoreError(
                    f"the folder of {self.name} cannot be made ({error.strerror or error})"
                ) from None

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Read; all that is read is of one moment.

        Yields
        ------
        Connection

        Raises
        ------
        StoreError
            If the store cannot be reached.
        """
        with self._told(), self._read.connect() as connection, connection.begin():
            yield connection

    @contextmanager
    def writing(self, actor: str) -> Iterator[Writing]:
        """Write in somebody's name: all of it, or on any error nothing.

        Parameters
        ----------
        actor : str
            Name of the person who does it; becomes known to the store.

        Yields
        ------
        Writing

        Raises
        ------
        StoreError
            If the store cannot be reached, or others hold it for too long.
        """
        with self.changing_layout() as connection:
            yield Writing.begin(connection, actor)

    @contextmanager
    def changing_layout(self) -> Iterator[Connection]:
        """Write without an actor; only for what prepares or fills a store."""
        with (
            self._told(),
            turn_in_this_process(),
            self._write.connect() as connection,
            connection.begin(),
        ):
            wait_for_turn(connection)
            yield connection

    def close(self) -> None:
        """Let go of all connections."""
        self._read.dispose()
        self._write.dispose()

    @contextmanager
    def _told(self) -> Iterator[None]:
        try:
            yield
        except DBAPIError as error:
            reason = str(error.orig).strip().splitlines()[0] if str(error.orig).strip() else ""
            if any(words in repr(error.orig) for words in _WAITED_TOO_LONG):
                raise BusyStoreError(
                    f"others wrote to {self.name} for more than {PATIENCE_S} s; nothing was "
                    "changed, try again"
                ) from error
            if isinstance(error, DataError):
                raise StoreError(
                    f"{self.name} cannot hold what was given: {reason}; nothing was changed"
                ) from error
            if (
                isinstance(error, OperationalError)
                or type(error) is DatabaseError
                or error.statement is None  # it could not even be reached
                or any(words in repr(error.orig) for words in _MAY_NOT)
            ):
                raise NoStoreError(
                    f"{self.name} cannot be used: {reason}; is the address right, and may you "
                    "write there?"
                ) from error
            raise
        except NoConnectionFreeError as error:
            raise BusyStoreError(
                f"too many use {self.name} at once; nothing was changed, try again"
            ) from error


def open_store(where: str, *, make: bool = False) -> Store:
    """Open a store.

    Parameters
    ----------
    where : str
        Its address.
    make : bool
        Whether to lay it out where there is none yet.

    Returns
    -------
    Store

    Raises
    ------
    NoStoreError
        If there is none and ``make`` is not set, or it cannot be reached.
    OtherSchemaError
        If it was prepared by another version of this program.
    """
    store = Store(store_url(where))
    try:
        _prepare(store, make=make)
    except BaseException:
        store.close()
        raise
    return store


def open_of_any_schema(where: str) -> Store:
    """Open a store, be its schema older or newer, only to copy what it holds.

    Raises
    ------
    NoStoreError
        If there is none, or it cannot be reached.
    """
    store = Store(store_url(where))
    try:
        _require_file(store)
        _require_prepared(store)
    except BaseException:
        store.close()
        raise
    return store


def _prepare(store: Store, *, make: bool) -> None:
    if not make:
        _require_file(store)
    else:
        store.make_folder()
    with store.reading() as connection:
        empty = is_empty(inspect(connection))
    if empty and make:
        with store.changing_layout() as connection:
            if is_empty(inspect(connection)):
                upgrade(connection)
    elif empty:
        raise _no_store_yet(store)
    with store.reading() as connection:
        require_current(connection, store.name)


def _require_file(store: Store) -> None:
    if store.file is not None and not store.file.exists():
        raise NoStoreError(
            f"there is no store {store.name}; make one with: mount-risk load FLEET --store "
            f"{store.name}"
        )


def _require_prepared(store: Store) -> None:
    with store.reading() as connection:
        if schema_of(connection) is None:
            raise _no_store_yet(store)


def _no_store_yet(store: Store) -> NoStoreError:
    return NoStoreError(
        f"{store.name} holds no store yet; prepare it with: mount-risk migrate --store {store.name}"
    )
