"""On a disk that is full or may only be read nothing is said to be saved that is not.

These hold for root, too, as tests often run. The table of faults:
``pytest tests/entering/test_disk_under_open_pages.py -s``.
"""

import os
import shutil
from contextlib import closing, contextmanager, nullcontext
from functools import partial

import pytest
from at_the_machine import UNIT
from attempts_at_a_store import ANSWER, DRAFTS, SEVERAL, require_words, told_in, try_all
from faults_of_a_disk import FAULTS, ON_ITS_OWN, a_disk_of_its_own, require_done
from faults_of_a_file import Place, held_by
from over_http import Server
from pages_server import COMMAND
from routes_in_process import Routes, forget_stores

from scoring.store import one_writer
from scoring.store.integrity import check_store
from scoring.store.open_store import open_store


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.setattr(one_writer, "PATIENCE_S", 0.2)
    (tmp_path / "kept").mkdir()
    return tmp_path / "kept"


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.__name__)
def test_nothing_is_said_to_be_saved_on_a_faulty_disk(
    folder, quarry_file, monkeypatch, fault, caplog
):
    file = folder / "plant.db"
    monkeypatch.setenv("MOUNT_RISK_FLEET", f"sqlite:///{file}")
    with a_disk_of_its_own(folder) if fault in ON_ITS_OWN else nullcontext():
        shutil.copy(quarry_file, file)
        try:
            refused = _try_while(fault, Place(file, file, file, file), caplog)
            with closing(open_store(f"sqlite:///{file}")) as store, store.reading() as connection:
                assert check_store(connection).faults == []
        finally:
            forget_stores()
    said = told_in(refused, str(file))
    print(f"\n{fault.__name__}: {len(refused)} of {SEVERAL} refused: {said}")  # noqa: T201 - table


def _try_while(fault, place, caplog):
    routes, held = Routes(), partial(held_by, place.file)
    draft_id = routes.begin(UNIT).headers["location"].removeprefix("/walkdown/")
    assert try_all(routes, held, draft_id, 0) == []
    with fault(place):
        refused = try_all(routes, held, draft_id, 1)
        tried_again = try_all(routes, held, draft_id, 2)
    require_words([*refused, *tried_again], caplog)
    assert refused
    assert try_all(routes, held, draft_id, 3) == []
    return refused


@pytest.fixture
def bound():
    """Return how to serve as somebody whom permissions bind, which root is not by himself."""
    bind = ("setpriv", "--bounding-set=-all", "--inh-caps=-all") if os.geteuid() == 0 else ()
    if bind:
        require_done(*bind, "true")
    return (*bind, COMMAND, "dashboard")


@contextmanager
def may_only_be_read(file):
    file.chmod(0o444)
    file.parent.chmod(0o555)
    try:
        yield
    finally:
        file.parent.chmod(0o755)
        for path in file.parent.iterdir():  # who only read may have made notes that are like it
            path.chmod(0o644)


@pytest.fixture
def served(folder, quarry_file, tmp_path, bound):
    """Return what serves a store in a folder; it may have become one that may only be read."""
    file, servers = folder / "plant.db", []
    shutil.copy(quarry_file, file)

    def serve():
        servers.append(Server(f"sqlite:///{file}", tmp_path / "log.txt", bound))
        return servers[-1], file, partial(held_by, file)

    yield serve
    for server in servers:
        server.stop()
        assert "Traceback" not in server.log.read_text()


def require_refused(answer):
    assert answer.code == 503, answer.text
    assert "may you write there? Once you may, do it again" in answer.text


@pytest.mark.slow
def test_what_may_only_be_read_is_shown_and_written_once_it_may_be(served, folder):
    with may_only_be_read(folder / "plant.db"):
        server, _, held = served()
        for _ in range(2):
            require_refused(_begin(server))
            assert held(DRAFTS, UNIT) == "0"
            assert server.ask("GET", f"/walkdown/new?unit={UNIT}").code == 200
    begun = _begin(server)
    assert begun.code == 303
    assert held(DRAFTS, UNIT) == "1"
    draft_id = begun.headers["location"].removeprefix("/walkdown/")
    assert server.give(draft_id, "notes", "kept").code == 200
    assert held(ANSWER, draft_id, "notes") == "kept"
    assert "kept" in server.ask("GET", f"/walkdown/{draft_id}").text


@pytest.mark.slow
def test_what_is_closed_under_open_pages_is_kept_or_refused(served):
    """Who has a file open may write on; only what is held there is said to be saved."""
    server, file, held = served()
    draft_id = server.begin(UNIT)
    drafts = held(DRAFTS, UNIT)
    with may_only_be_read(file):
        for number in range(3):
            answer = server.give(draft_id, "notes", str(number))
            if answer.code == 200:
                assert held(ANSWER, draft_id, "notes") == str(number)
            else:
                require_refused(answer)
        begun = _begin(server)
        assert (begun.code, held(DRAFTS, UNIT)) in {(503, drafts), (303, str(int(drafts) + 1))}
    assert server.give(draft_id, "notes", "kept").code == 200
    assert held(ANSWER, draft_id, "notes") == "kept"


def _begin(server):
    return server.post_form("/walkdown/new", {"unit": UNIT, "by": "Ben Meier"})
