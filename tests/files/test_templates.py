from pathlib import Path

import openpyxl
import pytest
from written_fleets import check_place, good_place, same_frames

from scoring.contract import FLEET_TABLES, Check, Kind
from scoring.contract.quantities import alternative_names
from scoring.files.template import WORKBOOK, explain_columns, write_template

UNIT = {"unit_id": "0012", "site": "North pit", "installed_on": "2024-01-10",
        "mounting": "shrink_disc", "shaft_diameter_mm": "80"}  # fmt: skip
WALKDOWN = {"walkdown_id": "W-1", "unit_id": "0012", "inspected_on": "2024-01-11",
            "kind": "post_install", "breather": "plugged"}  # fmt: skip


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("template") / "new"
    written = write_template(place)
    assert sorted(written) == sorted(place.iterdir())
    return place


@pytest.mark.parametrize("place", ["", WORKBOOK])
def test_a_template_read_back_empty_is_refused_politely(folder: Path, place: str) -> None:
    checked = check_place(folder / place if place else folder)
    assert checked.faults["wrong"].tolist() == ["holds headings but no rows"]
    assert checked.faults["right"].tolist() == ["one row for each reducer"]
    assert checked.unusable == ("units",)


def test_templates_with_rows_filled_are_read(folder: Path, tmp_path: Path) -> None:
    book = openpyxl.load_workbook(folder / WORKBOOK)
    for name, row in (("units", UNIT), ("walkdowns", WALKDOWN)):
        headings = (folder / f"{name}.csv").read_text().strip().split(",")
        cells = [row.get(heading, "") for heading in headings]
        (tmp_path / f"{name}.csv").write_text(f"{','.join(headings)}\n{','.join(cells)}\n")
        for place, cell in enumerate(cells, 1):
            book[name].cell(2, place, cell or None)
    book.save(tmp_path / WORKBOOK)
    from_csv = good_place(tmp_path)
    same_frames(good_place(tmp_path / WORKBOOK), from_csv)
    assert from_csv.fleet.units["unit_id"].tolist() == ["0012"]
    assert from_csv.fleet.walkdowns["breather"].tolist() == ["plugged"]


def test_headings_of_templates_are_the_columns_of_the_contract(folder: Path) -> None:
    book = openpyxl.load_workbook(folder / WORKBOOK)
    assert book.sheetnames == [*(table.name for table in FLEET_TABLES), "explanations"]
    for table in FLEET_TABLES:
        expected = [column.name for column in table.columns]
        assert (folder / f"{table.name}.csv").read_text() == ",".join(expected) + "\n"
        assert [cell.value for cell in book[table.name][1]] == expected


def test_explanations_cover_every_column(folder: Path) -> None:
    explained = explain_columns().set_index(["table", "column"])
    columns = [(table, column) for table in FLEET_TABLES for column in table.columns]
    assert list(explained.index) == [(table.name, column.name) for table, column in columns]
    assert (explained[["meaning", "allowed"]] != "").all(axis=None)
    for table, column in columns:
        row = explained.loc[(table.name, column.name)]
        assert row["required"] == ("required" if column.required else "")
        assert all(name in row["also_as"] for name in alternative_names(column.name))
        if isinstance(column, Check):
            assert row["how_to_look"] == column.how_to_look
            assert row["mountings"]
    sheet = openpyxl.load_workbook(folder / WORKBOOK)["explanations"]
    assert sheet.max_row == len(columns) + 1


def test_lists_of_words_are_offered_in_the_workbook(folder: Path) -> None:
    book = openpyxl.load_workbook(folder / WORKBOOK)
    for table in FLEET_TABLES:
        offered = {v.formula1 for v in book[table.name].data_validations.dataValidation}
        for column in table.columns:
            words = f'"{",".join(column.allowed)}"'
            if column.kind is Kind.CHOICE and len(words) <= 252:
                assert words in offered
