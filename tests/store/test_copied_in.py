"""Many new rows come in by COPY on PostgreSQL, and are the same rows on each database."""

import pytest
from small_fleet import faults, record
from sqlalchemy import select

from scoring.store import new_rows
from scoring.store.integrity import check_store
from scoring.store.put_records import put_records
from scoring.store.schema import HISTORY, RECORDS

ODD = ("tab\there", "line\nbreak", "back\\slash", "\\N", "", "ü 漢", '"quoted"')


def odd_units():
    return [
        record(
            "units",
            unit_id=f"U-{number}",
            line=ODD[number % len(ODD)] or None,
            shaft_diameter_mm=0.1 * number + 50,
        )
        for number in range(40)
    ]


def rows_of(store, table):
    with store.reading() as connection:
        return [
            tuple(row) for row in connection.execute(select(table).order_by(*table.primary_key))
        ]


@pytest.mark.parametrize("from_rows", [1, 1000])
def test_rows_are_kept_as_they_came(store, monkeypatch, from_rows):
    monkeypatch.setattr(new_rows, "COPIED_FROM", from_rows)
    with store.writing("Ann Bell") as writing:
        put = put_records(writing, "units", odd_units(), "first entry")
    assert put.added == 40
    assert faults(store) == []
    with store.reading() as connection:
        assert check_store(connection).faults == []
    kept = rows_of(store, RECORDS["units"])
    names = [column.name for column in RECORDS["units"].columns]
    by_id = {row[0]: dict(zip(names, row, strict=True)) for row in kept}
    for unit in odd_units():
        assert {name: by_id[unit["unit_id"]][name] for name in unit} == unit
    numbers = [row[0] for row in rows_of(store, HISTORY)]
    assert numbers == list(range(1, len(numbers) + 1))
