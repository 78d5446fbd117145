"""Over a large store, units whose records changed are ranked anew before all else is."""

import threading

import pytest
from stored_quarry import copy_of, load_quarry

from dashboard import fleet_results, launch_settings, results_in_use, session
from scoring.store.open_store import open_store
from scoring.store.put_records import withdraw_record


@pytest.fixture(scope="module")
def loaded_once(tmp_path_factory):
    file = tmp_path_factory.mktemp("quarry") / "ahead.db"
    load_quarry(file)
    return file


@pytest.fixture
def store(loaded_once, tmp_path, monkeypatch):
    monkeypatch.setattr(fleet_results, "LARGE_FLEET", 10)
    url = copy_of(loaded_once, tmp_path)
    monkeypatch.setenv(launch_settings.FLEET, url)
    monkeypatch.setenv(launch_settings.AS_OF, "2026-06-30")
    opened = open_store(url)
    yield opened
    opened.close()


@pytest.fixture
def kept_waiting(monkeypatch):
    """Let what is worked out anew wait until it is told to go on."""
    go_on, renewed = threading.Event(), results_in_use.InUse._renew  # noqa: SLF001 - to be held back

    def wait_first(use, mark):
        assert go_on.wait(60)
        renewed(use, mark)

    monkeypatch.setattr(results_in_use.InUse, "_renew", wait_first)
    yield go_on
    go_on.set()


def forget_all_walkdowns(store, unit_id):
    fleet = results_in_use.in_use.current().fleet.assessor.fleet
    walkdowns = fleet.walkdowns
    with store.writing("Ann Bell") as writing:
        for key in walkdowns["walkdown_id"][walkdowns["unit_id"] == unit_id]:
            withdraw_record(writing, "walkdowns", key, "entered at the wrong unit")


def ranked():
    so_far = session.ranked_so_far()
    return so_far.units.set_index("unit_id")["verdict"], so_far.state


def test_a_unit_that_changed_is_ranked_before_all_else(store, kept_waiting):
    before, state = ranked()
    held = before.index[before == "hold"][0]
    forget_all_walkdowns(store, held)
    assert "judged anew" in session.renew()
    after, later = ranked()
    assert after[held] == "watch"
    assert later > state
    others = before.index.drop(held)
    assert after[others].equals(before[others])
    kept_waiting.set()
    assert results_in_use.in_use.latest().assessment().ranking["unit_id"].is_unique
    assert session.renew() == ""
    assert ranked()[0][held] == "watch"


def test_what_changed_further_is_ranked_too(store, kept_waiting):
    before, _ = ranked()
    first, second = before.index[before == "hold"][:2]
    for unit_id in (first, second):
        forget_all_walkdowns(store, unit_id)
        session.renew()
    after, _ = ranked()
    assert after[[first, second]].tolist() == ["watch", "watch"]
    assert not kept_waiting.is_set()
