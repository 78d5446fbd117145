"""Which units' records changed since somebody looked, with all that is known of them now."""

import pandas as pd
import pytest
from small_fleet import record

from scoring.store import changed_units as module
from scoring.store.changed_units import changed_units
from scoring.store.put_records import put_record, put_records, withdraw_record
from scoring.store.read_records import last_change

TODAY = pd.Timestamp("2026-06-30")


@pytest.fixture
def filled(store):
    units = [
        record("units", unit_id="U-1", asset_id="A"),
        record("units", unit_id="U-2"),
        record("units", unit_id="U-3"),
    ]
    walkdowns = [
        record("walkdowns", walkdown_id=f"W-{number}", unit_id=f"U-{number}")
        for number in (1, 2, 3)
    ]
    with store.writing("Ann Bell") as writing:
        put_records(writing, "units", units, "first entry")
        put_records(writing, "walkdowns", walkdowns, "first entry")
    return store


def mark_of(store):
    with store.reading() as connection:
        return last_change(connection)


def changed(store, since):
    with store.reading() as connection:
        return changed_units(connection, store.name, since, TODAY)


def put(store, table, version, **values):
    with store.writing("Ann Bell") as writing:
        put_record(writing, table, record(table, **values), "put right", read_version=version)


def test_nothing_changed(filled):
    found = changed(filled, mark_of(filled))
    assert found.unit_ids == frozenset()
    assert found.mark == mark_of(filled)


def test_a_walkdown_that_moved_changes_both_units(filled):
    since = mark_of(filled)
    put(filled, "walkdowns", 1, walkdown_id="W-2", unit_id="U-3")
    found = changed(filled, since)
    assert found.unit_ids == {"U-2", "U-3"}
    assert found.records.walkdowns["walkdown_id"].tolist() == ["W-2", "W-3"]
    assert found.mark == mark_of(filled) > since


def test_units_of_one_reducer_change_together(filled):
    put(filled, "units", 1, unit_id="U-1", asset_id="A", out_of_service_on="2024-01-11")
    since = mark_of(filled)
    put(filled, "units", 1, unit_id="U-2", asset_id="A", installed_on="2024-01-11")
    assert changed(filled, since).unit_ids == {"U-1", "U-2"}
    since = mark_of(filled)
    put(filled, "units", 2, unit_id="U-2", installed_on="2024-01-11")
    assert changed(filled, since).unit_ids == {"U-1", "U-2"}


def test_a_unit_that_is_withdrawn_is_told(filled):
    since = mark_of(filled)
    with filled.writing("Ann Bell") as writing:
        withdraw_record(writing, "walkdowns", "W-1", "entered twice")
        withdraw_record(writing, "units", "U-1", "entered twice")
    found = changed(filled, since)
    assert found.unit_ids == {"U-1"}
    assert found.records.units.empty


def test_after_very_many_changes_all_is_read(filled, monkeypatch):
    monkeypatch.setattr(module, "MOST_CHANGES", 1)
    since = mark_of(filled)
    put(filled, "walkdowns", 1, walkdown_id="W-2", unit_id="U-3")
    assert changed(filled, since) is not None
    put(filled, "walkdowns", 1, walkdown_id="W-3", unit_id="U-3", kind="periodic")
    assert changed(filled, since) is None
