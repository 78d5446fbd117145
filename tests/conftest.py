"""What tests of several folders run on: a PostgreSQL server."""

import os

import pytest
from postgresql_server import programs, running_server


@pytest.fixture(scope="session")
def postgresql():
    """Start a server, one for each process of the tests; return its address without a database."""
    if programs() is None:
        missing = "PostgreSQL is not installed: apt-get install postgresql"
        if os.environ.get("CI"):
            pytest.fail(missing)
        pytest.skip(missing)
    with running_server() as address:
        yield address
