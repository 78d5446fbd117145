"""An open store: transactions that read, and transactions that write in somebody's name."""

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from sqlalchemy import Connection, inspect
from sqlalchemy.engine import URL
from sqlalchemy.exc import DBAPIError
from sqlalchemy.exc import TimeoutError as NoConnectionFreeError

from scoring.store.address import shown, sqlite_file, store_url
from scoring.store.connections import Connections, gone
from scoring.store.one_writer import PATIENCE_S, turn_in_this_process, wait_for_turn
from scoring.store.said_by_the_database import in_words
from scoring.store.same_store import SameStore, SeenLine, newest_line
from scoring.store.schema_version import is_empty, require_current, schema_of, upgrade
from scoring.store.store_errors import BusyStoreError, NoStoreError, StoreError
from scoring.store.writing import Writing


class Store:
    """A store of records.

    Parameters
    ----------
    url : URL
        As returned by ``store_url``.
    make : bool
        Whether a file of SQLite is made where there is none.
    """

    def __init__(self, url: URL, *, make: bool = False) -> None:
        self.url = url
        self._connections = Connections(url, make=make)
        self._same: SameStore | None = None

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

    def stay_with(self) -> None:
        """From now on refuse another store at this address, and an older copy of this one."""
        with self.reading() as connection:
            require_current(connection, self.name)
            self._same = SameStore(connection, self.name)

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Read; all that is read is of one moment.

        Yields
        ------
        Connection

        Raises
        ------
        StoreError
            If the store cannot be reached, or is not the one that was opened.
        """
        same = self._same
        seen = None if same is None else same.seen
        with (
            self._told(),
            self._connections.taken(to_write=False) as connection,
            connection.begin(),
        ):
            if same is not None and seen is not None:
                same.saw(same.require(connection, seen))
            yield connection

    @contextmanager
    def writing(self, actor: str) -> Iterator[Writing]:
        """Write in somebody's name: all of it, or on any error nothing.

        Once this has ended without an error, all of it is kept in what lies at the address.

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
            If the store cannot be reached or is not the one that was opened, others hold it for
            too long, or what was written did not get there.
        """
        same = self._same
        if same is None:
            with self.changing_layout() as connection:
                yield Writing.begin(connection, actor)
            return
        with (
            self._told(),
            turn_in_this_process(self.name),
            self._committing(same) as (connection, seen),
        ):
            same.saw(same.require(connection, seen))
            yield Writing.begin(connection, actor)

    @contextmanager
    def changing_layout(self) -> Iterator[Connection]:
        """Write without an actor; only for what prepares or fills a store."""
        with (
            self._told(),
            turn_in_this_process(self.name),
            self._connections.taken(to_write=True) as connection,
            connection.begin(),
        ):
            wait_for_turn(connection)
            yield connection

    def close(self) -> None:
        """Let go of all connections."""
        self._connections.close()

    @contextmanager
    def _committing(self, same: SameStore) -> Iterator[tuple[Connection, SeenLine]]:
        """Write, and look afterwards whether it got to what lies at the address."""
        failed: DBAPIError | None = None
        with self._connections.taken(to_write=True) as connection:
            seen = same.seen
            transaction = connection.begin()
            try:
                wait_for_turn(connection)
                yield connection, seen
                written = newest_line(connection)
            except BaseException:
                with suppress(DBAPIError):
                    transaction.rollback()
                raise
            try:
                transaction.commit()
                is_there = self._connections.lead_there(connection)
            except DBAPIError as error:
                failed, is_there = error, False
            except NoStoreError:
                self._connections.doubt()
                raise
        if not is_there:
            self._require_kept(same, written, failed)
        same.saw(written)

    def _require_kept(self, same: SameStore, written: SeenLine, failed: DBAPIError | None) -> None:
        """Ask the store at the address for the last line that was written."""
        self._connections.doubt()
        try:
            with self._connections.taken(to_write=False) as connection, connection.begin():
                is_kept = same.holds(connection, written)
        except (DBAPIError, StoreError) as error:
            raise NoStoreError(
                f"{self.name} was lost while it was written to; look what was kept before you do "
                "it again"
            ) from (failed or error)
        if is_kept:
            return
        if failed is not None:
            raise failed
        raise NoStoreError(
            f"the files of {self.name} were changed while it was written to; nothing was kept, do "
            "it again"
        )

    @contextmanager
    def _told(self) -> Iterator[None]:
        try:
            yield
        except DBAPIError as error:
            told = in_words(error, self.name, PATIENCE_S)
            if told is None:
                raise
            if isinstance(told, NoStoreError):
                self._connections.doubt()
                self._require_there(error)
            raise told from error
        except NoConnectionFreeError as error:
            raise BusyStoreError(
                f"too many use {self.name} at once; nothing was changed, try again"
            ) from error

    def _require_there(self, error: DBAPIError) -> None:
        """Say that the file is gone, rather than what follows from that."""
        if self._same is not None and self.file is not None and not self.file.exists():
            raise NoStoreError(gone(self.url)) from error


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
    store = Store(store_url(where), make=make)
    try:
        _prepare(store, make=make)
        store.stay_with()
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
