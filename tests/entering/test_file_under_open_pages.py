"""Whatever happens to a store's file, nothing is said to be saved that is not, and pages go on.

The table of faults: ``pytest tests/entering/test_file_under_open_pages.py -s``.
"""

import shutil
from contextlib import closing

import pytest
from at_the_machine import UNIT
from faults_of_a_file import FAULTS, Place, copy_of, held_by
from routes_in_process import Routes, forget_stores

from scoring.store import one_writer
from scoring.store.integrity import faults_of_store
from scoring.store.open_store import open_store

ANSWER = "SELECT value FROM draft_answers WHERE draft_id = ? AND field = ?"
DRAFTS = "SELECT count(*) FROM drafts WHERE unit_id = ?"
NEEDS_NOTHING = {"without_notes", "without_log", "without_index", "of_a_newer_schema"}
"""After these the file at the address still is the store, or is by itself again."""


@pytest.fixture
def place(tmp_path, quarry_file, monkeypatch):
    (tmp_path / "kept").mkdir()
    file = tmp_path / "kept" / "plant.db"
    shutil.copy(quarry_file, file)
    another = tmp_path / "another.db"
    open_store(f"sqlite:///{another}", make=True).close()
    monkeypatch.setenv("MOUNT_RISK_FLEET", f"sqlite:///{file}")
    monkeypatch.setattr(one_writer, "PATIENCE_S", 0.2)
    yield Place(file, tmp_path / "aside.db", tmp_path / "earlier.db", another)
    forget_stores()


def try_all(routes, place, draft_id, number):
    """Write and read in each way; return what was refused, after proving what was not."""
    refused = []
    for field in ("notes", "inspector"):
        value = f"{field} {number}"
        answer = routes.give(draft_id, field, value)
        if answer.code == 200:
            assert held_by(place.file, ANSWER, draft_id, field) == value
        refused.append(answer)
    before = held_by(place.file, DRAFTS, UNIT)
    begun = routes.begin(UNIT)
    if begun.code == 303:
        assert held_by(place.file, DRAFTS, UNIT) == str(int(before) + 1)
    refused.append(begun)
    refused += [routes.ask("GET", f"/walkdown/{draft_id}"), routes.ask("GET", "/walkdown")]
    return [answer for answer in refused if answer.code not in (200, 303)]


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.__name__)
def test_nothing_is_said_to_be_saved_that_is_not(place, fault, caplog):
    routes = Routes()
    draft_id = routes.begin(UNIT).headers["location"].removeprefix("/walkdown/")
    copy_of(place.file, place.earlier)
    assert try_all(routes, place, draft_id, 0) == []
    with fault(place):
        refused = try_all(routes, place, draft_id, 1)
        for answer in refused:
            assert answer.code == 503, answer.text
            assert "mount-risk" in answer.text or "again" in answer.text, answer.text
        lying = sorted(path.name for path in place.file.parent.glob("plant.db*"))
    assert all("Traceback" not in record.getMessage() for record in caplog.records)
    assert [record for record in caplog.records if record.exc_info] == []
    if fault.__name__ in ("deleted", "moved", "without_its_folder"):
        assert lying == []  # nothing empty is made in its place
    assert try_all(routes, place, draft_id, 2) == []
    said = sorted({words_of(answer.text) for answer in refused})
    print(f"\n{fault.__name__}: {len(refused)} of 5 refused: {said}")  # noqa: T201 - the table
    assert held_by(place.file, ANSWER, draft_id, "notes") == "notes 2"
    with closing(open_store(f"sqlite:///{place.file}")) as store, store.reading() as connection:
        assert faults_of_store(connection) == []


def words_of(text):
    """Return the words of a message, be it of a page or of the form."""
    if "words" in text[:10]:
        return text
    return " ".join(text.partition("<main")[2].split())[:400]
