"""A small plant in a store, on SQLite and on PostgreSQL."""

import os
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from uuid import uuid4

import pandas as pd
import pytest
from sqlalchemy import create_engine, text

from scoring.assessment import FleetAssessor
from scoring.assessment.judge_units import judge_units
from scoring.contract import FLEET_TABLES
from scoring.contract.ranking import HOLD
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.records import Fleet
from scoring.store.put_records import put_records
from scoring.store.store import Store, open_store
from scoring.store.stored_values import stored_rows


def fill(where: str, fleet: Fleet) -> None:
    store = open_store(where, make=True)
    with store.writing("Ann Load") as writing:
        for table in FLEET_TABLES:
            rows = stored_rows(fleet.table(table.name), table)
            put_records(writing, table.name, rows, "first load")
    store.close()


@pytest.fixture(scope="session")
def quarry() -> Fleet:
    found = read_fleet("demo:small_quarry")
    return check_fleet(found.tables, pd.Timestamp.today()).fleet


@pytest.fixture(scope="session")
def quarry_file(quarry, tmp_path_factory) -> Path:
    file = tmp_path_factory.mktemp("quarry") / "quarry.db"
    fill(f"sqlite:///{file}", quarry)
    return file


def _programs() -> Path | None:
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"), key=lambda p: p.parts[4])
    return found[-1].parent if found else None


@pytest.fixture(scope="session")
def postgresql() -> Iterator[str]:
    """Start a server of our own; return its address up to the database's name."""
    programs = _programs()
    if programs is None:
        if os.environ.get("CI"):
            pytest.fail("no PostgreSQL: .ci/run installs it")
        pytest.skip("needs PostgreSQL, as Debian's package postgresql")
    folder = Path(tempfile.mkdtemp(prefix="entering_"))
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    as_owner: list[str] = []
    if os.geteuid() == 0:  # PostgreSQL refuses to run as root
        shutil.chown(folder, "postgres")
        as_owner = ["runuser", "-u", "postgres", "--"]

    def run(program: str, *arguments: str) -> None:
        command = [*as_owner, str(programs / program), "-D", str(folder / "data"), *arguments]
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL, cwd="/", timeout=60)

    run("initdb", "-U", "app", "--auth=trust", "--encoding=UTF8", "--locale=C.UTF-8", "--no-sync")
    settings = f"-c listen_addresses=127.0.0.1 -p {port} -c unix_socket_directories={folder}"
    run("pg_ctl", "-w", "-l", str(folder / "log"), "-o", f"{settings} -c fsync=off", "start")
    yield f"postgresql://app@127.0.0.1:{port}/"
    run("pg_ctl", "-m", "immediate", "stop")
    shutil.rmtree(folder)


def in_postgresql(server: str, statement: str) -> None:
    address = f"{server}postgres".replace("postgresql:", "postgresql+psycopg:")
    engine = create_engine(address, isolation_level="AUTOCOMMIT")
    with engine.connect() as connection:
        connection.execute(text(statement))
    engine.dispose()


@pytest.fixture(scope="session")
def quarry_database(postgresql, quarry) -> str:
    """Fill one database, of which every test takes a copy; return its name."""
    in_postgresql(postgresql, "CREATE DATABASE quarry")
    fill(f"{postgresql}quarry", quarry)
    return "quarry"


@pytest.fixture(scope="session")
def new_database(postgresql, quarry_database) -> Callable[[], str]:
    """Return what makes a filled database; the whole server goes in the end."""

    def make() -> str:
        name = f"t{uuid4().hex}"
        in_postgresql(postgresql, f"CREATE DATABASE {name} TEMPLATE {quarry_database}")
        return f"{postgresql}{name}"

    return make


@pytest.fixture(scope="module", params=["sqlite", "postgresql"])
def store_url(request, tmp_path_factory, quarry_file) -> str:
    """Copy the filled store for one file of tests; the tests take a unit each."""
    if request.param == "sqlite":
        file = tmp_path_factory.mktemp("copy") / "quarry.db"
        shutil.copy(quarry_file, file)
        return f"sqlite:///{file}"
    return request.getfixturevalue("new_database")()


@pytest.fixture(scope="module")
def store(store_url) -> Iterator[Store]:
    opened = open_store(store_url)
    yield opened
    opened.close()


@pytest.fixture(scope="session")
def units_without_hold(quarry) -> list[str]:
    """Return the units in service that nothing holds yet."""
    judged = judge_units(FleetAssessor(quarry), pd.Timestamp.today().normalize())
    free = judged.verdicts.verdict != HOLD
    return judged.known.units.loc[free, "unit_id"].tolist()


@pytest.fixture(scope="module")
def _units(store_url, units_without_hold) -> Iterator[str]:
    assert store_url  # a new row of units for each store
    return iter(units_without_hold)


@pytest.fixture
def unit(_units) -> str:
    """Return a unit in service that no other test of this file touches."""
    return next(_units)


@pytest.fixture
def sqlite_store(tmp_path, quarry_file) -> Iterator[Store]:
    """Copy it on SQLite alone, where the database makes no difference."""
    shutil.copy(quarry_file, tmp_path / "alone.db")
    opened = open_store(f"sqlite:///{tmp_path / 'alone.db'}")
    yield opened
    opened.close()
