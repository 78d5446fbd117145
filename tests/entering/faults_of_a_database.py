"""What can happen to a database of PostgreSQL while pages are open over it, and how it ends."""

import shlex
import socket
import subprocess
import threading
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import psycopg
from postgresql_server import programs


class Wire:
    """What lies between the pages and the database, and can be cut without a word to either."""

    def __init__(self, port):
        self._port = port
        self._is_whole = threading.Event()
        self._is_whole.set()
        self._listening = socket.create_server(("127.0.0.1", 0))
        self.port = self._listening.getsockname()[1]
        threading.Thread(target=self._accept, daemon=True).start()

    def cut(self):
        self._is_whole.clear()

    def mend(self):
        self._is_whole.set()

    def _accept(self):
        while True:
            here, _ = self._listening.accept()
            threading.Thread(target=self._serve, args=(here,), daemon=True).start()

    def _serve(self, here):
        self._is_whole.wait()
        try:
            there = socket.create_connection(("127.0.0.1", self._port))
        except OSError:
            here.close()
            return
        for one, other in ((here, there), (there, here)):
            threading.Thread(target=self._carry, args=(one, other), daemon=True).start()

    def _carry(self, one, other):
        try:
            while data := one.recv(65536):
                self._is_whole.wait()  # what was sent meanwhile comes late, or never
                other.sendall(data)
        except OSError:
            pass
        finally:
            for end in (one, other):
                end.close()


@dataclass
class Database:
    """A database, the server it lies on, and what it can be replaced with."""

    server: str
    name: str
    kept: str
    another: str
    wire: Wire

    def say(self, *statements):
        with psycopg.connect(f"{self.server}/postgres", autocommit=True) as connection:
            for statement in statements:
                connection.execute(statement)

    def copy(self, source, to):
        self.end_connections(source)
        self.say(f"CREATE DATABASE {to} TEMPLATE {source}", "CHECKPOINT")

    def remove(self):
        self.say(f"DROP DATABASE IF EXISTS {self.name} WITH (FORCE)")

    def put(self, source):
        self.remove()
        self.copy(source, self.name)

    def end_connections(self, name=None):
        self.say(
            "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE pid <> pg_backend_pid() "  # noqa: S608 - our own names
            f"AND datname = '{name or self.name}'"
        )

    def held(self, query, *values):
        """Ask the database itself, past the wire; None where it cannot be asked."""
        try:
            with psycopg.connect(f"{self.server}/{self.name}", autocommit=True) as connection:
                row = connection.execute(query.replace("?", "%s"), values).fetchone()
        except psycopg.Error:
            return None
        return None if row is None else str(row[0])


@contextmanager
def stopped(database):
    """Stop the server at once, as where its machine fails, and start it again.

    Of a database that was copied and not brought to the disk since, PostgreSQL forgets how far its
    sequences had counted.
    """
    database.say("CHECKPOINT")
    with psycopg.connect(f"{database.server}/postgres") as connection:
        place = connection.execute("SHOW data_directory").fetchone()[0]
    begun = shlex.split((Path(place) / "postmaster.opts").read_text())
    as_owner = ["runuser", "-u", "postgres", "--"] if Path(place).stat().st_uid else []
    control = [*as_owner, str(programs() / "pg_ctl"), "-D", place, "-w"]
    quiet = {"stdout": subprocess.DEVNULL, "cwd": "/"}
    subprocess.run([*control, "-m", "immediate", "stop"], check=True, **quiet)
    yield
    given = shlex.join(begun[3:])  # after the program, -D and its folder
    log = str(Path(place).parent / "log")
    subprocess.run([*control, "-l", log, "-o", given, "start"], check=True, **quiet)


@contextmanager
def with_connections_ended(database):
    database.end_connections()
    yield


@contextmanager
def with_the_wire_cut(database):
    database.wire.cut()
    yield
    database.wire.mend()


@contextmanager
def dropped(database):
    database.copy(database.name, database.kept)
    database.remove()
    yield
    database.copy(database.kept, database.name)


@contextmanager
def dropped_and_made_anew_empty(database):
    database.copy(database.name, database.kept)
    database.put("template1")
    yield
    database.put(database.kept)


@contextmanager
def replaced_by_another_database(database):
    database.copy(database.name, database.kept)
    database.put(database.another)
    yield
    database.put(database.kept)


@contextmanager
def replaced_by_an_older_database(database):
    database.copy(database.name, database.kept)
    database.put(f"{database.kept}_earlier")
    yield
    database.put(database.kept)


@contextmanager
def only_to_be_read(database):
    database.say(f"ALTER DATABASE {database.name} SET default_transaction_read_only = on")
    database.end_connections()
    yield
    database.say(f"ALTER DATABASE {database.name} RESET default_transaction_read_only")
    database.end_connections()


@contextmanager
def renamed(database):
    database.end_connections()
    database.say(f"ALTER DATABASE {database.name} RENAME TO {database.kept}")
    yield
    database.end_connections(database.kept)
    database.say(f"ALTER DATABASE {database.kept} RENAME TO {database.name}")


@contextmanager
def without_a_table(database):
    with psycopg.connect(f"{database.server}/{database.name}", autocommit=True) as connection:
        connection.execute("ALTER TABLE draft_answers RENAME TO elsewhere")
        yield
        connection.execute("ALTER TABLE elsewhere RENAME TO draft_answers")


@contextmanager
def locked_by_another_program(database):
    with psycopg.connect(f"{database.server}/{database.name}") as connection:
        connection.execute("LOCK TABLE history IN EXCLUSIVE MODE")
        yield


@contextmanager
def brought_to_a_newer_schema(database):
    address = f"{database.server}/{database.name}"
    with psycopg.connect(address, autocommit=True) as connection:
        was = connection.execute("SELECT version_num FROM alembic_version").fetchone()[0]
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
        yield
        connection.execute("UPDATE alembic_version SET version_num = %s", (was,))


FAULTS = (
    stopped, with_connections_ended, with_the_wire_cut, dropped, dropped_and_made_anew_empty,
    replaced_by_another_database, replaced_by_an_older_database, only_to_be_read, renamed,
    without_a_table, locked_by_another_program, brought_to_a_newer_schema,
)  # fmt: skip
