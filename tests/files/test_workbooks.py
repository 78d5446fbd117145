import datetime as dt
import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest
from openpyxl.worksheet.formula import ArrayFormula
from written_fleets import (
    UNITS,
    WALKDOWNS,
    change_sheet,
    check_place,
    good_place,
    rows_of,
    same_frames,
    write_fleet,
    write_workbook,
)

from scoring.errors import UnreadableFleetError
from scoring.files import sheet_bounds
from scoring.files.read_fleet import read_fleet

DATA = Path(__file__).parent / "data"


def test_a_workbook_saved_by_libreoffice_is_read_right() -> None:
    found = read_fleet(str(DATA / "saved_by_libreoffice.xlsx"))
    assert found.notes == ("saved_by_libreoffice.xlsx: sheets left alone: remarks",)
    fleet = good_place(DATA / "saved_by_libreoffice.xlsx").fleet
    units, walkdowns = fleet.units, fleet.walkdowns
    assert units["unit_id"].tolist() == ["0012", "12"]
    assert units["site"].tolist() == ["North pit", "Hafen süd"]
    assert units["installed_on"].astype(str).tolist() == ["2024-03-31", "2024-05-01"]
    assert units["started_on"].iloc[0].isoformat() == "2024-04-02T06:30:00"
    assert units["started_on_timed"].tolist() == [True, False]
    assert units["shaft_diameter_mm"].tolist() == [75, 60]
    assert units["unit_mass_kg"].fillna(-1).tolist() == [412.5, -1]
    assert units["screw_thread"].tolist() == ["M10", "3/8-16"]
    assert walkdowns["walkdown_id"].tolist() == ["001", "002"]
    assert walkdowns["inspected_on"].iloc[1].isoformat() == "2024-05-03T14:05:00"
    assert walkdowns["isolators_free"].tolist() == [1, 0]
    assert walkdowns["arm_misset_mm"].fillna(-1).tolist() == [2.25, -1]
    assert walkdowns["notes"].tolist() == [
        "=looks like a formula, is text",
        "two lines & a comma, here",
    ]


def _changed(path: Path, change: Callable[[openpyxl.Workbook], None]) -> Path:
    return write_workbook(path / "fleet.xlsx", change=change)


def test_typed_cells_read_the_same_as_text(tmp_path: Path) -> None:
    plain = good_place(write_fleet(tmp_path / "plain"))
    units = rows_of(UNITS)
    typed: list[list[object]] = [list(units[0])]
    for row in units[1:]:
        day = dt.datetime.fromisoformat(row[2])
        typed.append([row[0], row[1], day, row[3], int(row[4]), float(row[5]) if row[5] else None])
    walkdowns: list[list[object]] = [list(row) for row in rows_of(WALKDOWNS)]
    walkdowns[1][2] = dt.datetime.fromisoformat("2024-01-11T14:30")
    walkdowns[2][2] = dt.date(2024, 3, 1)
    walkdowns[1][4], walkdowns[2][4] = 1, 0.0
    path = write_workbook(tmp_path / "typed.xlsx", units=typed, walkdowns=walkdowns)
    same_frames(good_place(path), plain)


def test_a_formula_is_told_and_never_trusted(tmp_path: Path) -> None:
    def change(book: openpyxl.Workbook) -> None:
        book["units"]["E2"] = "=40*2"
        book["units"]["E3"] = ArrayFormula("E3", "=30*2")

    faults = check_place(_changed(tmp_path, change)).faults
    reported = faults[faults["table"] == "units"]
    assert reported["row"].tolist() == [2, 3]
    assert reported["column"].tolist() == ["shaft_diameter_mm"] * 2
    assert reported["value"].tolist() == ["=40*2", "=30*2"]
    assert set(reported["wrong"]) == {"is a formula"}
    assert set(reported["right"]) == {"its value: copy the cell, then paste as values"}


def test_merged_cells_are_told_row_by_row(tmp_path: Path) -> None:
    checked = check_place(_changed(tmp_path, lambda book: book["units"].merge_cells("B2:B3")))
    reported = checked.faults[checked.faults["wrong"].str.contains("merged")]
    assert reported["source"].unique().tolist() == ["fleet.xlsx, sheet units"]
    assert reported["row"].tolist() == [2, 3]
    assert reported["column"].tolist() == ["site", "site"]
    assert reported["value"].tolist() == ["B2:B3", "B2:B3"]
    assert reported["right"].unique().tolist() == ["cells that are not merged, each filled"]


def test_merged_headings_make_a_table_unusable(tmp_path: Path) -> None:
    checked = check_place(_changed(tmp_path, lambda book: book["units"].merge_cells("A1:B1")))
    assert checked.unusable == ("units",)


def test_an_id_typed_as_the_number_12_is_12(tmp_path: Path) -> None:
    units = [list[object](row) for row in rows_of(UNITS)]
    units[2][0] = 12
    path = write_workbook(tmp_path / "fleet.xlsx", units=units)
    assert good_place(path).fleet.units["unit_id"].tolist() == ["0012", "12"]


def _number(book: openpyxl.Workbook, value: float, number_format: str, place: str = "A2") -> None:
    book["units"][place] = value
    book["units"][place].number_format = number_format


@pytest.mark.parametrize(
    ("value", "number_format", "wrong"),
    [
        (12, "0000", "is a number shown with leading zeros; format the column as text"),
        (12, "[$-409]00000", "is a number shown with leading zeros; format the column as text"),
        (12, '"U-"0', 'is a number shown as its format "U-"0 says'),
        (12, "0.00", "is a number shown as its format 0.00 says"),
        (1e17, "General", "is a number of more than 15 digits, rounded by the spreadsheet"),
    ],
)
def test_an_identifier_that_shows_something_else_than_it_holds_is_told(
    tmp_path: Path, value: float, number_format: str, wrong: str
) -> None:
    path = _changed(tmp_path, lambda book: _number(book, value, number_format))
    fault = check_place(path).faults.iloc[0]
    assert (fault["row"], fault["column"], fault["wrong"]) == (2, "unit_id", wrong)
    assert "format the column as text" in fault["right"]


def test_leading_zeros_matter_in_text_but_not_in_numbers(tmp_path: Path) -> None:
    path = _changed(tmp_path, lambda book: _number(book, 80, "0000", "E2"))
    assert good_place(path).fleet.units["shaft_diameter_mm"].tolist() == [80, 60]
    path = _changed(tmp_path, lambda book: _number(book, 7, "000", "B2"))
    assert check_place(path).faults["column"].tolist()[0] == "site"
    path = _changed(tmp_path, lambda book: _number(book, 1234, "0000", "B2"))
    good_place(path)


def test_an_identifier_that_became_a_date_is_told(tmp_path: Path) -> None:
    def change(book: openpyxl.Workbook) -> None:
        book["units"]["A2"] = dt.datetime.fromisoformat("2024-12-03")

    fault = check_place(_changed(tmp_path, change)).faults.iloc[0]
    assert (fault["value"], fault["column"]) == ("2024-12-03", "unit_id")
    assert fault["wrong"] == "is a date, perhaps made of what was typed"


def test_a_date_in_a_text_is_kept_and_in_a_number_is_told(tmp_path: Path) -> None:
    def change(book: openpyxl.Workbook) -> None:
        book["walkdowns"]["G2"] = dt.datetime.fromisoformat("2024-12-03")
        book["walkdowns"]["E2"] = dt.datetime.fromisoformat("2024-12-03")

    checked = check_place(_changed(tmp_path, change))
    assert checked.faults["column"].tolist() == ["isolators_free"]
    assert checked.faults["wrong"].tolist() == ["is not a number"]


@pytest.mark.parametrize("value", [45000, True, dt.time(14, 30), "#N/A"])
def test_what_is_no_date_in_a_date_column_is_told(tmp_path: Path, value: object) -> None:
    def change(book: openpyxl.Workbook) -> None:
        book["walkdowns"]["C2"] = value  # type: ignore[assignment]

    fault = check_place(_changed(tmp_path, change)).faults.iloc[0]
    assert fault["column"] == "inspected_on"


@pytest.mark.parametrize("size", [b"A1", b"A1:B2"])
def test_a_wrong_size_in_the_sheet_loses_no_row_and_no_column(tmp_path: Path, size: bytes) -> None:
    plain = good_place(write_workbook(tmp_path / "plain.xlsx"))
    path = write_workbook(tmp_path / "other.xlsx")
    change_sheet(path, rb'<dimension ref="[^"]*"', b'<dimension ref="' + size + b'"')
    same_frames(good_place(path), plain)


def test_trailing_blank_rows_and_columns_are_no_fault(tmp_path: Path) -> None:
    def change(book: openpyxl.Workbook) -> None:
        book["units"]["K40"] = " "
        book["units"]["A60"].number_format = "@"

    same_frames(good_place(_changed(tmp_path, change)), good_place(write_fleet(tmp_path / "csv")))


def test_an_empty_heading_with_values_under_it_is_reported(tmp_path: Path) -> None:
    def change(book: openpyxl.Workbook) -> None:
        book["units"]["H2"] = "lost?"

    notes = good_place(_changed(tmp_path, change)).notes
    assert any("column 8 (it has no heading)" in note for note in notes)


def test_an_empty_sheet_is_refused_with_what_it_needs(tmp_path: Path) -> None:
    path = _changed(tmp_path, lambda book: book["units"].delete_rows(1, 9))
    with pytest.raises(UnreadableFleetError, match="sheet units is empty: its first row must"):
        read_fleet(str(path))


def test_a_workbook_without_the_sheets_names_those_it_has(tmp_path: Path) -> None:
    def change(book: openpyxl.Workbook) -> None:
        book["units"].title = "Units"

    with pytest.raises(UnreadableFleetError, match=r"no table units.*sheets left alone: Units"):
        read_fleet(str(_changed(tmp_path, change)))


def _cut_sheet(data: bytes, path: Path) -> None:
    path.write_bytes(data)
    change_sheet(path, rb"</row>.*", b"")


DAMAGE: dict[str, Callable[[bytes, Path], object]] = {
    "text": lambda _, path: path.write_bytes(b"unit_id,site\n"),
    "nothing": lambda _, path: path.write_bytes(b""),
    "cut short": lambda data, path: path.write_bytes(data[: len(data) // 2]),
    "bytes lost within": lambda data, path: path.write_bytes(data[:900] + bytes(300) + data[1200:]),
    "sheet cut short": _cut_sheet,
}


@pytest.mark.parametrize("way", DAMAGE)
def test_a_damaged_workbook_is_refused(tmp_path: Path, way: str) -> None:
    path = write_workbook(tmp_path / "fleet.xlsx")
    DAMAGE[way](path.read_bytes(), path)
    with pytest.raises(UnreadableFleetError, match=r"fleet.xlsx cannot be read as a workbook"):
        read_fleet(str(path))


def test_another_packed_file_is_refused(tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "fleet.xlsx", "w") as archive:
        archive.writestr("readme.txt", "no workbook")
    with pytest.raises(UnreadableFleetError, match="cannot be read as a workbook"):
        read_fleet(str(tmp_path / "fleet.xlsx"))


def test_a_workbook_that_unpacks_to_too_much_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sheet_bounds, "LARGEST_UNPACKED", 1000)
    with pytest.raises(UnreadableFleetError, match="give such a fleet as CSV or Parquet"):
        read_fleet(str(write_workbook(tmp_path / "fleet.xlsx")))
