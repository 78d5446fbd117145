from pathlib import Path

import pandas as pd
import pytest
from written_fleets import TODAY, UNITS, WALKDOWNS, good_place, write_fleet

from scoring.errors import FixableError
from scoring.files.headings_file import propose_headings, read_headings_file
from scoring.files.read_fleet import read_fleet
from scoring.files.write_table import write_table
from scoring.intake import check_fleet

OWN = {
    "unit_id": "Unit ID",
    "site": "=Site",
    "installed_on": "Installed on",
    "shaft_diameter_mm": "Shaft diameter (mm)",
    "unit_mass_kg": "Unit mass kg",
    "walkdown_id": "Walkdown no",
    "inspected_on": "Inspected on",
    "isolators_free": "Isolators free?",
}


def _own_headings(text: str) -> str:
    head, rest = text.split("\n", 1)
    return ",".join(OWN.get(name, name) for name in head.split(",")) + "\n" + rest


@pytest.fixture
def own_fleet(tmp_path: Path) -> Path:
    return write_fleet(
        tmp_path / "own", units=_own_headings(UNITS), walkdowns=_own_headings(WALKDOWNS)
    )


def test_a_proposal_written_and_read_back_gives_the_same_fleet(
    tmp_path: Path, own_fleet: Path
) -> None:
    found = read_fleet(str(own_fleet))
    write_table(propose_headings(found.tables), tmp_path / "headings.csv", sheet="headings")
    mapping = read_headings_file(tmp_path / "headings.csv")
    assert mapping["units"]["=Site"] == "site"
    checked = check_fleet(found.tables, TODAY, mapping)
    assert checked.faults.empty, checked.faults.to_string()
    plain = good_place(write_fleet(tmp_path / "plain"))
    for name in ("units", "walkdowns"):
        pd.testing.assert_frame_equal(checked.fleet.table(name), plain.fleet.table(name))


def test_no_two_headings_are_proposed_for_one_column(tmp_path: Path) -> None:
    text = UNITS.replace("unit_id,site", "unit_id,Unit id.,Site,site").replace("0012,", "0012,,,")
    found = read_fleet(str(write_fleet(tmp_path, units=text)))
    proposal = propose_headings(found.tables)
    chosen = proposal[(proposal["table"] == "units") & (proposal["column"] != "")]
    assert chosen["column"].is_unique
    by_heading = chosen.set_index("heading")["column"]
    assert by_heading["unit_id"] == "unit_id"
    assert by_heading["site"] == "site"


def test_a_heading_that_leaves_its_unit_open_is_not_proposed(tmp_path: Path) -> None:
    text = WALKDOWNS.replace("notes", "vibration in/s")
    proposal = propose_headings(read_fleet(str(write_fleet(tmp_path, walkdowns=text))).tables)
    row = proposal[proposal["heading"] == "vibration in/s"].iloc[0]
    assert row["column"] == ""
    assert row["meaning"].startswith("leaves its unit open")


def _file(tmp_path: Path, *rows: str) -> Path:
    path = tmp_path / "headings.csv"
    path.write_text("\n".join(["table,heading,column,meaning", *rows]) + "\n", encoding="utf-8")
    return path


def test_a_file_of_headings_is_read(tmp_path: Path) -> None:
    path = _file(tmp_path, " units ,Tag, unit_id,", "units,Colour,,", ",,,", "events,Tag,event_id,")
    assert read_headings_file(path) == {
        "units": {"Tag": "unit_id", "Colour": ""},
        "events": {"Tag": "event_id"},
    }


@pytest.mark.parametrize(
    ("row", "reported"),
    [
        ("unit,Tag,unit_id,", "row 3: no table 'unit'; one of units, walkdowns"),
        ("units,Tag,unit_no,", "row 3: units has no column 'unit_no'; mount-risk columns"),
        ("units,Colour,unit_id,", "row 3: 'Colour' of units stands for 'site' and for 'unit_id'"),
        ("units,Length, mm,unit_id,", "row 3: has 5 cells where the headings are 4"),
    ],
)
def test_a_faulty_file_of_headings_is_refused(tmp_path: Path, row: str, reported: str) -> None:
    with pytest.raises(FixableError) as refused:
        read_headings_file(_file(tmp_path, "units,Colour,site,", row))
    assert reported in str(refused.value)


def test_a_file_of_headings_without_its_columns_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "headings.csv"
    path.write_text("table,column\nunits,site\n")
    with pytest.raises(FixableError, match=r"headings\.csv lacks the column heading"):
        read_headings_file(path)
