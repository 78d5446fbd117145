"""A PostgreSQL server of one's own, on a free port, with nothing in it and gone afterwards."""

import os
import secrets
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import psycopg


def programs() -> Path | None:
    """Return where the newest server's programs lie, if any is installed."""
    places = Path("/usr/lib/postgresql").glob("*/bin")
    return max(places, key=lambda place: float(place.parent.name), default=None)


@contextmanager
def running_server() -> Iterator[str]:
    """Start a server; give its address, to which a database's name is added after a slash."""
    found = programs()
    if found is None:
        raise FileNotFoundError("PostgreSQL is not installed: apt-get install postgresql")
    with closing(socket.socket()) as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    place = Path(tempfile.mkdtemp(prefix="mount-risk-postgresql-"))
    as_owner: list[str] = []
    if os.geteuid() == 0:  # PostgreSQL refuses to run as root
        shutil.chown(place, "postgres")
        as_owner = ["runuser", "-u", "postgres", "--"]

    def run(program: str, *options: str) -> None:
        command = [*as_owner, str(found / program), "-D", str(place / "data"), *options]
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL, cwd="/", timeout=600)

    settings = (
        f"-c listen_addresses=127.0.0.1 -p {port} -c unix_socket_directories={place} "
        "-c fsync=off -c max_connections=60"
    )
    try:
        run("initdb", "-U", "app", "--auth=trust", "--encoding=UTF8", "--locale=C.UTF-8", "-N")
        run("pg_ctl", "-w", "-l", str(place / "log"), "-o", settings, "start")
        yield f"postgresql://app@127.0.0.1:{port}"
    finally:
        if (place / "data" / "postmaster.pid").exists():
            run("pg_ctl", "-m", "immediate", "stop")
        shutil.rmtree(place, ignore_errors=True)


def new_database(server: str, template: str = "template1") -> str:
    """Make a database that holds what another one holds, by default nothing; return its address."""
    name = f"t{secrets.token_hex(6)}"
    with psycopg.connect(f"{server}/postgres", autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name} TEMPLATE {template}")
    return f"{server}/{name}"
