"""Loads: beside what is held, all or nothing, and the same again changes nothing."""

import json
from contextlib import closing

import pandas as pd
import pytest
from small_fleet import count, counts, faults, good, lines_of_history, refused
from sqlalchemy import select

from scoring.store.open_store import open_store
from scoring.store.read_records import read_records
from scoring.store.schema import HISTORY, LOADS, PEOPLE, RECORDS

UNITS = """unit_id,asset_id,site,installed_on,out_of_service_on,mounting,shaft_diameter_mm
U1,A,North pit,2024-01-10,2025-01-10,keyed_bore,80
U2,A,South yard,2025-01-10,,keyed_bore,60
U3,,South yard,2024-02-10,,shrink_disc,60
"""
WALKDOWNS = """walkdown_id,unit_id,inspected_on,kind,breather
W1,U1,2024-01-11T14:30,post_install,open
W2,U3,2024-03-01,periodic,plugged
"""
EVENTS = "event_id,unit_id,occurred_on,mode\nE1,U1,2024-05-01,seal_leak\n"
REWORK = "rework_id,unit_id,done_on,actions,event_id\nR1,U1,2024-05-02,renew_seal,E1\n"


def write(folder, **tables):
    folder.mkdir(exist_ok=True)
    for name, text in tables.items():
        (folder / f"{name}.csv").write_text(text, encoding="utf-8")
    return folder


def row_of(table, row):
    """Return the headings of one of the tables above with another row."""
    return f"{table.splitlines()[0]}\n{row}\n"


@pytest.fixture
def loaded(tmp_path, store_url):
    """Load a small fleet; return the address of its store."""
    folder = write(
        tmp_path / "plant", units=UNITS, walkdowns=WALKDOWNS, events=EVENTS, rework=REWORK
    )
    good("load", folder, "--store", store_url, "--by", "Ann Bell")
    return store_url


def load(store, folder, *options):
    return good("load", folder, "--store", store, "--by", "Bo Carr", *options)


def load_refused(store, folder, *options):
    before = everything(store)
    reported = refused("load", folder, "--store", store, "--by", "Bo Carr", *options)
    assert everything(store) == before
    return reported


def everything(url):
    with closing(open_store(url)) as store, store.reading() as connection:
        tables = (*RECORDS.values(), HISTORY, LOADS, PEOPLE)
        return [connection.execute(select(table)).all() for table in tables]


def history_of(url, key):
    with closing(open_store(url)) as store, store.reading() as connection:
        query = select(HISTORY).where(HISTORY.c.key == key).order_by(HISTORY.c.history_id)
        return connection.execute(query).all()


def test_the_same_again_changes_nothing_and_is_noted(loaded, tmp_path):
    before = everything(loaded)
    reported = good("load", tmp_path / "plant", "--store", loaded, "--by", "Ann Bell")
    assert "units: 0 added, 0 changed, 3 there already" in reported
    after = everything(loaded)
    assert after[:5] == before[:5]
    assert [row.about for row in after[5][len(before[5]) :]] == ["loads"]
    assert [row.source for row in after[6]] == ["plant", "plant"]
    assert (after[6][1].added, after[6][1].changed, after[6][1].same) == (0, 0, 7)


def test_a_row_that_differs_becomes_a_new_version(loaded, tmp_path):
    changed = UNITS.replace("North pit", "North pit, line 2".replace(",", ""))
    reported = load(loaded, write(tmp_path / "second", units=changed))
    assert "units: 0 added, 1 changed, 2 there already" in reported
    first, second = history_of(loaded, "U1")
    assert (first.change, first.version, first.actor) == ("added", 1, "Ann Bell")
    assert (second.change, second.version, second.actor) == ("changed", 2, "Bo Carr")
    assert second.reason == "load of second"
    assert json.loads(second.before)["site"] == "North pit"
    assert json.loads(second.after)["site"] == "North pit line 2"
    with closing(open_store(loaded)) as store:
        assert faults(store) == []


def test_walkdowns_alone_are_checked_against_the_units_that_are_held(loaded, tmp_path):
    good_row = row_of(WALKDOWNS, "W9,U2,2025-03-01,periodic,open")
    assert "walkdowns: 1 added" in load(loaded, write(tmp_path / "a", walkdowns=good_row))
    unknown = row_of(WALKDOWNS, "W8,U8,2025-03-01,periodic,open")
    reported = load_refused(loaded, write(tmp_path / "b", walkdowns=unknown))
    assert "column unit_id: 'U8' is not a unit of this fleet" in reported
    late = row_of(WALKDOWNS, "W8,U1,2025-03-01,periodic,open")
    reported = load_refused(loaded, write(tmp_path / "c", walkdowns=late))
    assert "is after the unit's service ended on 2025-01-10" in reported


FAULTS_OF_INCOMING = {
    "a unit that ends before a walkdown": (
        {"units": row_of(UNITS, "U1,A,North pit,2024-01-10,2024-01-10,keyed_bore,80")},
        "'U1' does not fit walkdowns W1 in ",
        "its inspected_on 2024-01-11T14:30 is after the unit's service ended on 2024-01-10",
    ),
    "a unit hung while its asset is elsewhere": (
        {"units": row_of(UNITS, "U4,A,North pit,2025-06-01,,keyed_bore,80")},
        "was hung while its asset was still on the shaft of unit U2",
        "row 2, column installed_on",
    ),
    "a unit that keeps an asset that was hung elsewhere": (
        {"units": row_of(UNITS, "U1,A,North pit,2024-01-10,,keyed_bore,80")},
        "'U1' has an asset that was hung meanwhile at unit U2 of ",
        "column out_of_service_on",
    ),
    "a failure that moves away from its re-work": (
        {"events": row_of(EVENTS, "E1,U3,2024-05-01,seal_leak")},
        "'E1' does not fit rework R1 in ",
        "is an event of another unit",
    ),
    "a re-work of an unknown failure": (
        {"rework": row_of(REWORK, "R2,U1,2024-06-01,renew_seal,E9")},
        "'E9' is not an event of this fleet",
        "row 2, column event_id",
    ),
}


@pytest.mark.parametrize("case", FAULTS_OF_INCOMING)
def test_what_would_no_longer_fit_is_a_fault_of_what_comes_in(loaded, tmp_path, case):
    tables, *words = FAULTS_OF_INCOMING[case]
    reported = load_refused(loaded, write(tmp_path / "in", **tables))
    assert "1 fault; nothing was done" in reported
    for part in words:
        assert part in reported


def test_what_fits_together_may_change_together(loaded, tmp_path):
    folder = write(
        tmp_path / "in",
        events=row_of(EVENTS, "E1,U3,2024-05-01,seal_leak"),
        rework=row_of(REWORK, "R1,U3,2024-05-02,renew_seal,E1"),
        units=row_of(UNITS, "U1,A,North pit,2024-01-10,2024-01-10,keyed_bore,80"),
        walkdowns=row_of(WALKDOWNS, "W1,U1,2024-01-10T14:30,post_install,open"),
    )
    reported = load(loaded, folder)
    assert reported.count("0 added, 1 changed, 0 there already") == 4


def test_good_rows_are_kept_where_asked_for_and_what_is_held_still_fits(loaded, tmp_path):
    folder = write(
        tmp_path / "in",
        units=row_of(UNITS, "U1,A,North pit,2024-01-10,2024-01-05,keyed_bore,80\n"
        "U4,A,North pit,2024-06-01,2025-01-10,keyed_bore,80\nU5,,New,2024-06-01,,keyed_bore,80"),
        walkdowns=row_of(WALKDOWNS, "W7,U4,2024-07-01,periodic,open\n"
        "W6,U5,2024-07-01,periodic,open"),
    )  # fmt: skip
    reported = load(loaded, folder, "--keep-good", "--rejected", str(tmp_path / "out"))
    # U1 is faulty, so the one that is held stays, and U4 meets its asset there.
    assert "units: 1 added, 0 changed, 0 there already, 2 rejected" in reported
    assert "walkdowns: 1 added, 0 changed, 0 there already, 1 rejected" in reported
    rejected = pd.read_csv(tmp_path / "out" / "units.csv")
    assert rejected["unit_id"].tolist() == ["U1", "U4"]
    assert "no faults" in good("check", loaded)
    with closing(open_store(loaded)) as store, store.reading() as connection:
        assert connection.scalar(select(LOADS.c.rejected).order_by(LOADS.c.load_id.desc())) == 3


def test_a_plants_own_headings_are_understood_beside_the_stores(loaded, tmp_path):
    text = "Machine,Hung,Where,Kind of bore,Shaft inch\nU7,2024-01-10,Pit,keyed_bore,3 1/4\n"
    lines = ["table,heading,column", "units,Machine,unit_id", "units,Hung,installed_on"]
    lines += [
        "units,Where,site",
        "units,Kind of bore,mounting",
        "units,Shaft inch,shaft_diameter_in",
    ]
    (tmp_path / "headings.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    folder = write(tmp_path / "in", units=text)
    reported = load(loaded, folder, "--headings", str(tmp_path / "headings.csv"))
    assert "units: 1 added, 0 changed, 0 there already" in reported
    (line,) = history_of(loaded, "U7")
    assert json.loads(line.after)["shaft_diameter_mm"] == 82.55


def test_another_store_and_added_rows_can_be_loaded(loaded, tmp_path):
    more = write(tmp_path / "more", walkdowns=row_of(WALKDOWNS, "W9,U2,2025-03-01,periodic,open"))
    other = f"sqlite:///{tmp_path / 'other.db'}"
    load(other, loaded, "--add", str(more))
    assert counts(other) == {**counts(loaded), "walkdowns": 3}
    with closing(open_store(other)) as store, store.reading() as connection:
        assert connection.scalar(select(LOADS.c.source)).endswith(", more")


def test_who_loads_is_told_where_nobody_is_named(tmp_path, monkeypatch):
    folder = write(tmp_path / "plant", units=UNITS, walkdowns=WALKDOWNS)
    url = f"sqlite:///{tmp_path / 'a.db'}"
    monkeypatch.setenv("LOGNAME", "cydow")
    assert "in the name of cydow" in good("load", folder, "--store", url)
    monkeypatch.setenv("MOUNT_RISK_PERSON", "Dee Eve")
    monkeypatch.setenv("MOUNT_RISK_STORE", f"sqlite:///{tmp_path / 'b.db'}")
    assert "in the name of" not in good("load", folder)
    with closing(open_store(f"sqlite:///{tmp_path / 'b.db'}")) as store:
        with store.reading() as connection:
            assert connection.scalars(select(PEOPLE.c.name)).all() == ["Dee Eve"]
        assert lines_of_history(store, "units") == 3


def test_what_is_in_a_store_reads_as_its_files_do(loaded, tmp_path):
    for name in ("rank", "check"):
        options = ["--as-of", "2026-06-30"] if name == "rank" else []
        assert good(name, loaded, *options) == good(name, tmp_path / "plant", *options)
    with closing(open_store(loaded)) as store:
        assert count(store, "walkdowns") == 2
        with store.reading() as connection:
            dates = read_records(connection, "x")["walkdowns"].column("inspected_on")
    assert dates == ["2024-01-11T14:30:00", "2024-03-01"]
