"""A small plant in a store, on SQLite and on PostgreSQL."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pandas as pd
import pytest
from filled_store import fill
from kept_plants import SMALL_QUARRY
from over_http import Server
from postgresql_server import new_database

from scoring.assessment import FleetAssessor
from scoring.contract.ranking import HOLD
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.records import Fleet
from scoring.store.open_store import Store, open_store


@pytest.fixture(scope="session")
def quarry() -> Fleet:
    found = read_fleet(SMALL_QUARRY)
    return check_fleet(found.tables, pd.Timestamp.today()).fleet


@pytest.fixture(scope="session")
def quarry_file(quarry, tmp_path_factory) -> Path:
    file = tmp_path_factory.mktemp("quarry") / "quarry.db"
    fill(f"sqlite:///{file}", quarry)
    return file


@pytest.fixture(scope="session")
def quarry_database(postgresql, quarry) -> str:
    """Fill one database, of which every test takes a copy; return its address."""
    address = new_database(postgresql)
    fill(address, quarry)
    return address


@pytest.fixture(scope="session")
def new_store(postgresql, quarry_database) -> Callable[[], str]:
    """Return what makes a filled database; the whole server goes in the end."""
    return lambda: new_database(postgresql, quarry_database.rpartition("/")[2])


@pytest.fixture(scope="module", params=["sqlite", "postgresql"])
def store_url(request, tmp_path_factory, quarry_file) -> str:
    """Copy the filled store for one file of tests; the tests take a unit each."""
    if request.param == "sqlite":
        file = tmp_path_factory.mktemp("copy") / "quarry.db"
        shutil.copy(quarry_file, file)
        return f"sqlite:///{file}"
    return request.getfixturevalue("new_store")()


@pytest.fixture(scope="module")
def store(store_url) -> Iterator[Store]:
    opened = open_store(store_url)
    yield opened
    opened.close()


@pytest.fixture(scope="session")
def units_without_hold(quarry) -> list[str]:
    """Return the units in service that nothing holds yet."""
    judged = FleetAssessor(quarry).judge(pd.Timestamp.today().normalize())
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


@pytest.fixture(scope="module")
def server(quarry_file, tmp_path_factory) -> Iterator[Server]:
    """Serve a copy over HTTP; whatever is asked, no traceback stands in its log."""
    folder = tmp_path_factory.mktemp("served")
    shutil.copy(quarry_file, folder / "quarry.db")
    started = Server(f"sqlite:///{folder / 'quarry.db'}", folder / "log.txt")
    yield started
    started.stop()
    said = started.log.read_text()
    assert "Traceback" not in said, said
