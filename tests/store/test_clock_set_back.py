"""A clock that was set back, or that ran ahead, is remarked; what is entered meanwhile is kept."""

from contextlib import closing

from small_fleet import good, put_unit

from scoring.store import clock_followed, writing
from scoring.store.clock_followed import latest_if_ahead
from scoring.store.integrity import check_store
from scoring.store.open_store import open_store

MORNING, NOON = "2026-03-01T08:00:00.000+00:00", "2026-03-01T12:00:00.000+00:00"
A_MOMENT_BEFORE_NOON = "2026-03-01T11:59:30.000+00:00"


def put_at(store, moment, site, monkeypatch):
    monkeypatch.setattr(writing, "now", lambda: moment)
    monkeypatch.setattr(clock_followed, "now", lambda: moment)
    put_unit(store, site=site)
    with store.reading() as connection:
        return check_store(connection), latest_if_ahead(connection)


def test_a_clock_set_back_is_remarked_and_what_was_entered_is_kept(store, monkeypatch):
    found, latest = put_at(store, NOON, "first", monkeypatch)
    assert (found.faults, found.remarks, latest) == ([], [], "")
    found, latest = put_at(store, MORNING, "second", monkeypatch)
    assert found.faults == []
    assert "(units U-1) is of 2026-03-01T08:00:00.000+00:00" in found.remarks[0]
    assert "the clock was set back between them" in found.remarks[0]
    assert latest == NOON
    found, latest = put_at(store, NOON, "third", monkeypatch)
    assert (found.faults, len(found.remarks), latest) == ([], 1, "")


def test_clocks_of_two_machines_may_differ_a_little(store, monkeypatch):
    put_at(store, NOON, "first", monkeypatch)
    found, latest = put_at(store, A_MOMENT_BEFORE_NOON, "second", monkeypatch)
    assert (found.faults, found.remarks, latest) == ([], [], "")


def test_a_history_that_ends_in_the_future_is_remarked(store, monkeypatch):
    put_at(store, NOON, "first", monkeypatch)
    monkeypatch.setattr(clock_followed, "now", lambda: MORNING)
    with store.reading() as connection:
        found = check_store(connection)
    assert found.faults == []
    assert "the clock of this machine is behind, or that of another ran ahead" in found.remarks[-1]


def test_the_commands_remark_it_and_find_no_fault(tmp_path, monkeypatch):
    url = f"sqlite:///{tmp_path / 'plant.db'}"
    with closing(open_store(url, make=True)) as store:
        for moment, site in ((NOON, "first"), (MORNING, "second")):
            monkeypatch.setattr(writing, "now", lambda moment=moment: moment)
            put_unit(store, site=site)
    for words in (("verify", url), ("check", url)):
        assert "the clock was set back between them" in " ".join(good(*words).split())


def test_what_is_no_moment_is_left_to_the_chain():
    assert not clock_followed.is_behind("2026-03-01T08:00:00.000+00:00 ", NOON)
    assert not clock_followed.is_behind("", NOON)
