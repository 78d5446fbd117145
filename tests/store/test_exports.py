"""What is exported is what is held: loading it again changes nothing."""

from contextlib import closing

import pandas as pd
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from small_fleet import faults, good, record, refused

from scoring.contract import FLEET_TABLES
from scoring.files.read_fleet import read_place
from scoring.store.export_records import export_records
from scoring.store.open_store import open_store
from scoring.store.put_records import put_records, withdraw_record
from scoring.store.read_records import read_records

PLANT = "demo:small_quarry"
HOSTILE = (
    "=1+1", "'=1+1", "''@SUM(A1)", "-temp", "+1", "@x", "'s-Graven", "a,b", 'say "no"', "😀 Ø",
    "two\nlines", "two\r\nlines", "a\rb", "'; DROP TABLE units; --", "NA", "None", "0012", "1e5",
    "TRUE", "2024-01-10", "</script><b>", "%00", "a\tb", "\u202eevil", "x\u00a0y",
)  # fmt: skip
IN_A_WORKBOOK = tuple(text for text in HOSTILE if "\r" not in text)


def tables_of(store):
    """Return the text cells of every table that a store holds."""
    with store.reading() as connection:
        found = read_records(connection, "the store")
    return {n: [cells.to_pylist() for cells in table.cells] for n, table in found.items()}


def exported(place):
    return {n: [c.to_pylist() for c in t.cells] for n, t in read_place(str(place)).tables.items()}


def seen(text):
    """Return what of a text may stand in an id that is loaded: nothing that nobody sees."""
    return "".join(letter for letter in text if letter not in "\t\r\n\u202e")


def put_texts(store, texts, key=str):
    """Put a unit for each text, which stands in its key, its site and its notes."""
    with store.writing("Ann Bell") as writing:
        units = [
            record("units", unit_id=f"{key(text)}|{n}", site=text) for n, text in enumerate(texts)
        ]
        put_records(writing, "units", units, "first entry")
        walkdowns = [
            record("walkdowns", walkdown_id=f"W{n}", unit_id=f"{key(text)}|{n}", notes=text)
            for n, text in enumerate(texts)
        ]
        put_records(writing, "walkdowns", walkdowns, "first entry")


@pytest.mark.parametrize("out", ["csv", "parquet", "fleet.xlsx"])
def test_an_export_loaded_again_changes_nothing(store_url, tmp_path, out):
    place = tmp_path / "out" / out
    kind = ["--format", out] if "." not in out else []
    good("load", PLANT, "--store", store_url, "--by", "Ann Bell")
    good("export", "--store", store_url, "--out", place, *kind)
    reported = good("load", place, "--store", store_url, "--by", "Ann Bell")
    assert "units: 0 added, 0 changed, 60 there already" in reported
    assert reported.count(" 0 added, 0 changed,") == len(FLEET_TABLES)
    fresh = f"sqlite:///{tmp_path / 'fresh.db'}"
    good("load", place, "--store", fresh, "--by", "Ann Bell")
    with closing(open_store(store_url)) as one, closing(open_store(fresh)) as other:
        assert tables_of(one) == tables_of(other)
        assert faults(one) == faults(other) == []


@pytest.mark.parametrize("out", ["csv", "parquet", "fleet.xlsx"])
def test_hostile_texts_come_back_letter_by_letter(store, store_url, tmp_path, out):
    texts = IN_A_WORKBOOK if out == "fleet.xlsx" else HOSTILE
    put_texts(store, texts, seen)
    place = tmp_path / out
    export_records(store, place, "parquet" if out == "parquet" else "csv")
    assert exported(place) == tables_of(store)
    reported = good("load", place, "--store", store_url, "--by", "Ann Bell")
    assert f"units: 0 added, 0 changed, {len(texts)} there already" in reported


def test_what_a_workbook_cannot_hold_is_told(store, store_url, tmp_path):
    put_texts(store, ["x" * 40_000], lambda _: "long")  # a cell holds 32,767 letters
    reported = refused("export", "--store", store_url, "--out", tmp_path / "fleet.xlsx")
    assert "does not hold site of long|0 in units as the records do" in reported
    assert "as CSV or Parquet" in reported


def test_no_cell_of_an_exported_csv_runs_as_a_formula(store, tmp_path):
    put_texts(store, HOSTILE)
    export_records(store, tmp_path / "out")
    for name in ("units", "walkdowns"):
        table = pd.read_csv(tmp_path / "out" / f"{name}.csv", dtype=str, keep_default_na=False)
        cells = table.melt()["value"]
        assert not cells.str.match(r"[=+@\t\r]").any()
        assert not cells.str.match(r"-[^0-9]").any()


def test_without_the_file_beside_the_tables_nothing_is_taken_away(store, tmp_path):
    put_texts(store, ["=1+1"])
    export_records(store, tmp_path / "out")
    (tmp_path / "out" / "exported.json").unlink()
    assert "'=1+1" in read_place(str(tmp_path / "out")).tables["units"].column("site")


def test_withdrawn_records_are_left_out(store, tmp_path):
    put_texts(store, ["a", "b"])
    with store.writing("Ann Bell") as writing:
        withdraw_record(writing, "walkdowns", "W0", "another unit")
    export_records(store, tmp_path / "out")
    assert read_place(str(tmp_path / "out")).tables["walkdowns"].column("walkdown_id") == ["W1"]
    assert faults(store) == []


def test_nothing_is_written_over(store, store_url, tmp_path):
    put_texts(store, ["a"])
    (tmp_path / "there.xlsx").write_text("mine", encoding="utf-8")
    assert "is there already" in refused(
        "export", "--store", store_url, "--out", tmp_path / "there.xlsx"
    )
    assert "is not empty" in refused("export", "--store", store_url, "--out", tmp_path)


TEXTS = st.text(
    st.characters(exclude_characters="\x00", exclude_categories=["Cs"]), min_size=1, max_size=20
).map(str.strip)
NUMBERS = st.floats(min_value=1e-300, max_value=1e300, allow_nan=False)


@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(text=TEXTS.filter(bool), number=NUMBERS)
def test_any_text_and_any_number_to_its_last_bit(store, tmp_path_factory, text, number):
    place = tmp_path_factory.mktemp("out")
    with store.writing("Ann Bell") as writing:
        row = record("units", site=text, unit_mass_kg=number)
        put_records(writing, "units", [row], "another")
    for kind in ("csv", "parquet"):
        export_records(store, place / kind, kind)
        units = read_place(str(place / kind)).tables["units"]
        assert units.column("site") == [text]
        assert float(units.column("unit_mass_kg")[0]) == number
    assert faults(store) == []
