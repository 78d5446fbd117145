"""Stores for tests: a file of SQLite, and databases of a PostgreSQL server started for them."""

import os
import shutil
import socket
import subprocess
import tempfile
from contextlib import closing
from pathlib import Path

import pytest
from empty_databases import new_database

from scoring.store.store import open_store


def _newest_binaries():
    places = Path("/usr/lib/postgresql").glob("*/bin")
    return max(places, key=lambda place: float(place.parent.name), default=None)


def _as_server(command, **options):
    """Run as the user of the server, as PostgreSQL refuses to run as root."""
    user = ["runuser", "-u", "postgres", "--"] if os.geteuid() == 0 else []
    subprocess.run([*user, *map(str, command)], check=True, cwd="/", **options)


@pytest.fixture(scope="session")
def postgresql():
    """Start a PostgreSQL server; one for each process of the tests."""
    binaries = _newest_binaries()
    if binaries is None:
        if os.environ.get("CI"):
            pytest.fail("PostgreSQL is not installed: apt-get install postgresql")
        pytest.skip("PostgreSQL is not installed")
    with closing(socket.socket()) as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    place = Path(tempfile.mkdtemp(prefix="mount-risk-postgresql-"))
    if os.geteuid() == 0:
        shutil.chown(place, "postgres")
    data = place / "data"
    try:
        quiet = {"stdout": subprocess.DEVNULL}
        options = ["--auth=trust", "--encoding=UTF8", "--locale=C.UTF-8", "--no-sync"]
        _as_server([binaries / "initdb", "-D", data, "-U", "app", *options], **quiet)
        settings = (
            f"-c listen_addresses=127.0.0.1 -p {port} -c unix_socket_directories={place} "
            "-c fsync=off -c max_connections=60"
        )
        start = ["-D", data, "-w", "-l", place / "log", "-o", settings, "start"]
        _as_server([binaries / "pg_ctl", *start], **quiet)
        yield f"postgresql://app@127.0.0.1:{port}"
    finally:
        if (data / "postmaster.pid").exists():
            _as_server([binaries / "pg_ctl", "-D", data, "-m", "immediate", "stop"], **quiet)
        shutil.rmtree(place, ignore_errors=True)


@pytest.fixture(params=["sqlite", "postgresql"])
def store_url(request, tmp_path):
    """Name an empty place for a store, on each of both databases."""
    if request.param == "sqlite":
        return f"sqlite:///{tmp_path / 'plant.db'}"
    return new_database(request.getfixturevalue("postgresql"))


@pytest.fixture
def store(store_url):
    """Lay out a store that holds nothing."""
    with closing(open_store(store_url, make=True)) as opened:
        yield opened
