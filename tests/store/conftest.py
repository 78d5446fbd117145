"""Stores for tests: a file of SQLite, and databases of a PostgreSQL server started for them."""

from contextlib import closing

import pytest
from postgresql_server import new_database

from scoring.store.open_store import open_store


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
