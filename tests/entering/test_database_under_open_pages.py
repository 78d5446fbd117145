"""Whatever happens to a store on PostgreSQL, nothing is said to be saved that is not.

The table of faults: ``pytest tests/entering/test_database_under_open_pages.py -s``.
"""

import secrets
from contextlib import closing

import pytest
from at_the_machine import UNIT
from attempts_at_a_store import SEVERAL, require_words, told_in, try_all
from faults_of_a_database import FAULTS, Database, Wire
from filled_store import fill
from postgresql_server import new_database, programs, running_server
from routes_in_process import Routes, forget_stores

from scoring.store import one_writer, patient_connection
from scoring.store.integrity import check_store
from scoring.store.open_store import open_store


@pytest.fixture(scope="module")
def own_server():
    """Start a server that may be stopped."""
    if programs() is None:
        pytest.skip("PostgreSQL is not installed: apt-get install postgresql")
    with running_server() as address:
        yield address


@pytest.fixture(scope="module")
def filled(own_server, quarry):
    address = new_database(own_server)
    fill(address, quarry)
    another = new_database(own_server)
    open_store(another, make=True).close()
    return address.rpartition("/")[2], another.rpartition("/")[2]


@pytest.fixture
def database(own_server, filled, monkeypatch):
    template, another = filled
    name = new_database(own_server, template).rpartition("/")[2]
    wire = Wire(int(own_server.rpartition(":")[2]))
    monkeypatch.setenv("MOUNT_RISK_FLEET", f"postgresql://app@127.0.0.1:{wire.port}/{name}")
    monkeypatch.setattr(one_writer, "PATIENCE_S", 0.3)
    monkeypatch.setattr(one_writer, "STILL_THERE_S", 0.5)
    monkeypatch.setattr(one_writer, "ANSWER_S", 2.0)
    monkeypatch.setitem(patient_connection.KEPT_ALIVE, "connect_timeout", 2)
    yield Database(own_server, name, f"k{secrets.token_hex(6)}", another, wire)
    wire.mend()
    forget_stores()


@pytest.mark.slow
@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.__name__)
def test_nothing_on_postgresql_is_said_to_be_saved_that_is_not(database, fault, caplog):
    routes = Routes()
    draft_id = routes.begin(UNIT).headers["location"].removeprefix("/walkdown/")
    database.copy(database.name, f"{database.kept}_earlier")
    assert try_all(routes, database.held, draft_id, 0) == []
    with fault(database):
        refused = try_all(routes, database.held, draft_id, 1)
    require_words(refused, caplog)
    assert try_all(routes, database.held, draft_id, 2) == []
    said = told_in(refused, f"127.0.0.1:{database.wire.port}", database.name)
    print(f"\n{fault.__name__}: {len(refused)} of {SEVERAL} refused: {said}")  # noqa: T201 - table
    with (
        closing(open_store(f"{database.server}/{database.name}")) as store,
        store.reading() as connection,
    ):
        assert check_store(connection).faults == []
