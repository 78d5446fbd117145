"""Whatever happens to a store's file, nothing is said to be saved that is not, and pages go on.

The table of faults: ``pytest tests/entering/test_file_under_open_pages.py -s``.
"""

import shutil
from contextlib import closing
from functools import partial

import pytest
from at_the_machine import UNIT
from attempts_at_a_store import SEVERAL, require_words, told_in, try_all
from faults_of_a_file import FAULTS, Place, copy_of, held_by
from left_in_english import left_in_english
from routes_in_process import Routes, forget_stores

from scoring.store import one_writer
from scoring.store.integrity import check_store
from scoring.store.open_store import open_store


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


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.__name__)
def test_nothing_is_said_to_be_saved_that_is_not(place, fault, caplog):
    routes, held = Routes(), partial(held_by, place.file)
    draft_id = routes.begin(UNIT).headers["location"].removeprefix("/walkdown/")
    copy_of(place.file, place.earlier)
    assert try_all(routes, held, draft_id, 0) == []
    with fault(place):
        refused = try_all(routes, held, draft_id, 1)
        lying = sorted(path.name for path in place.file.parent.glob("plant.db*"))
    require_words(refused, caplog)
    assert [words for words in told_in(refused, str(place.file)) if left_in_english(words)] == []
    if fault.__name__ in ("deleted", "moved", "without_its_folder"):
        assert lying == []  # nothing empty is made in its place
    assert try_all(routes, held, draft_id, 2) == []
    said = told_in(refused, str(place.file))
    print(f"\n{fault.__name__}: {len(refused)} of {SEVERAL} refused: {said}")  # noqa: T201 - table
    with closing(open_store(f"sqlite:///{place.file}")) as store, store.reading() as connection:
        assert check_store(connection).faults == []
