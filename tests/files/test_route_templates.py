"""Templates for one walk: begun, filled in, read back."""

import csv
from pathlib import Path

import openpyxl
import pandas as pd
import pytest
from click.testing import CliRunner
from written_fleets import check_place, good_place, write_fleet

from scoring.cli.main import cli
from scoring.contract import CHECKS, WALKDOWNS
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.files.route_list import read_route_list
from scoring.files.route_template import (
    NOT_OF_THIS_MOUNTING,
    ROUTE_CSV,
    ROUTE_WORKBOOK,
    columns_to_fill,
    write_route_template,
)

HOSTILE = "=1+1"
FILLED = {"inspected_on": "2026-06-01", "kind": "periodic", "breather": "plugged"}


def call(*arguments: object, expect: int = 0) -> str:
    result = CliRunner().invoke(cli, [str(argument) for argument in arguments])
    if expect == 0:
        assert result.exit_code == 0, result.output + repr(result.exception)
        return result.output
    assert getattr(result.exception, "exit_code", result.exit_code) == expect
    return str(result.exception)


@pytest.fixture
def fleet(tmp_path: Path) -> Path:
    units = (
        "unit_id,site,line,installed_on,out_of_service_on,mounting,shaft_diameter_mm\n"
        "0012,North pit,L2,2024-01-10,,shrink_disc,80\n"
        "12,South yard,L1,2024-02-10,,keyed_bore,60\n"
        "13,North pit,L1,2024-02-10,,tapered_bushing,60\n"
        "14,North pit,L1,2024-02-10,2025-01-01,tapered_bushing,60\n"
        "15,North pit,L3,2024-02-10,2025-01-01,tapered_bushing,60\n"
        f"{HOSTILE},North pit,,2024-02-10,,shrink_disc_support_bushings,60\n"
    )
    walkdowns = "walkdown_id,unit_id,inspected_on,kind\nW-1,0012,2024-01-11,post_install\n"
    return write_fleet(tmp_path / "fleet", units=units, walkdowns=walkdowns)


def rows_of_csv(folder: Path) -> list[dict[str, str]]:
    with (folder / ROUTE_CSV).open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def test_each_unit_in_service_has_one_begun_walkdown(fleet: Path, tmp_path: Path) -> None:
    call("template", tmp_path / "new", "--for", fleet)
    rows = rows_of_csv(tmp_path / "new")
    disarmed = "'" + HOSTILE  # which reading takes away again, as a test below shows
    assert [row["unit_id"] for row in rows] == ["13", "0012", disarmed, "12"]
    assert len({row["walkdown_id"] for row in rows}) == 4
    for row in rows:
        assert {name for name, cell in row.items() if cell} == {"walkdown_id", "unit_id"}


@pytest.mark.parametrize(
    ("options", "expected"),
    [
        (("--site", "South yard"), ["12"]),
        (("--site", "North pit", "--line", "L1"), ["13"]),
        (("--line", "L1", "--line", "L2"), ["13", "0012", "12"]),
        (("--unit", "12", "--unit", "0012"), ["12", "0012"]),
        (("--unit", "14"), ["14"]),
    ],
)
def test_a_walk_is_narrowed(fleet: Path, tmp_path: Path, options, expected) -> None:
    call("template", tmp_path / "new", "--for", fleet, *options)
    assert [row["unit_id"] for row in rows_of_csv(tmp_path / "new")] == expected


def test_a_list_gives_the_order_of_the_walk(fleet: Path, tmp_path: Path) -> None:
    walk = tmp_path / "walk.csv"
    walk.write_text("remark,unit_id\nfirst,12\n,\nthen, 13 \n", encoding="utf-8")
    assert read_route_list(walk) == ["12", "13"]
    call("template", tmp_path / "new", "--for", fleet, "--route", walk)
    assert [row["unit_id"] for row in rows_of_csv(tmp_path / "new")] == ["12", "13"]


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--site", "Nowhere"), "there is no site 'Nowhere' here; there are North pit, South yard"),
        (("--line", "L9"), "there is no line 'L9'"),
        (("--unit", "99"), "there is no unit '99'"),
        (("--unit", "12", "--unit", "12"), "stands twice"),
        (("--site", "South yard", "--line", "L2"), "there is no line 'L2' here; there are L1"),
        (("--line", "L3"), "no unit of these is in service"),
        (("--route", "nowhere.csv"), "there is no file nowhere.csv"),
    ],
)
def test_a_walk_that_cannot_be_is_told(fleet: Path, tmp_path: Path, options, words) -> None:
    said = CliRunner().invoke(
        cli, ["template", str(tmp_path / "new"), "--for", str(fleet), *options]
    )
    assert words in str(said.exception)
    assert not (tmp_path / "new").exists()


@pytest.mark.parametrize(
    "text", ["a,b\n1,2\n", "unit_id,unit_id\n1,2\n", "unit_id\n\n", "unit_id,b\n1\n"]
)
def test_a_list_without_units_is_refused(tmp_path: Path, text: str) -> None:
    walk = tmp_path / "walk.csv"
    walk.write_text(text, encoding="utf-8")
    with pytest.raises(Exception, match=r"walk\.csv"):
        read_route_list(walk)


def test_options_of_a_walk_need_a_fleet(tmp_path: Path) -> None:
    assert "--for FLEET" in call("template", tmp_path / "new", "--site", "North pit", expect=2)


def test_no_cell_of_the_csv_runs_in_a_spreadsheet(fleet: Path, tmp_path: Path) -> None:
    call("template", tmp_path / "new", "--for", fleet)
    text = (tmp_path / "new" / ROUTE_CSV).read_text(encoding="utf-8")
    assert not [c for row in csv.reader(text.splitlines()) for c in row if c[:1] in "=+-@" and c]


def test_nothing_is_written_over(fleet: Path, tmp_path: Path) -> None:
    (tmp_path / "new").mkdir()
    (tmp_path / "new" / "walkdowns.csv").write_text("mine")
    assert "not empty" in call("template", tmp_path / "new", "--for", fleet, expect=2)


def fill(folder: Path) -> None:
    """Fill the first row of both files, and delete the others."""
    rows = rows_of_csv(folder)[:1]
    with (folder / ROUTE_CSV).open("w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, list(rows[0]))
        writer.writeheader()
        writer.writerow(rows[0] | FILLED)
    book = openpyxl.load_workbook(folder / ROUTE_WORKBOOK)
    sheet = book[WALKDOWNS.name]
    headings = [cell.value for cell in sheet[1]]
    for name, value in FILLED.items():
        sheet.cell(2, headings.index(name) + 1, value)
    sheet.delete_rows(3, sheet.max_row)
    book.save(folder / ROUTE_WORKBOOK)


@pytest.mark.parametrize("unit_id", ["0012", HOSTILE])
def test_filled_in_it_is_read_alike_from_both_files(
    fleet: Path, tmp_path: Path, unit_id: str
) -> None:
    call("template", tmp_path / "new", "--for", fleet, "--unit", unit_id)
    fill(tmp_path / "new")
    from_csv = good_place(fleet, tmp_path / "new").fleet.walkdowns
    from_book = good_place(fleet, tmp_path / "new" / ROUTE_WORKBOOK)
    assert from_csv["unit_id"].tolist() == ["0012", unit_id]
    assert from_csv["breather"].tolist()[-1] == "plugged"
    assert from_book.fleet.walkdowns.equals(from_csv)
    assert not any("left alone" in note for note in from_book.notes)


def test_a_row_left_unfilled_is_told_and_never_taken_for_good(fleet: Path, tmp_path: Path) -> None:
    call("template", tmp_path / "new", "--for", fleet, "--unit", "12")
    checked = check_place(fleet, tmp_path / "new")
    assert set(checked.faults["column"]) == {"inspected_on", "kind"}
    assert checked.fleet.walkdowns["unit_id"].tolist() == ["0012"]


def test_what_a_mounting_has_not_is_grey_and_the_rest_is_offered(tmp_path: Path) -> None:
    units = pd.DataFrame(
        {
            "unit_id": list("abcd"),
            "site": "North pit",
            "line": None,
            "driven_equipment": "belt \x01 one",
            "mounting": EVERY_MOUNTING,
        }
    )
    write_route_template(tmp_path, units)
    book = openpyxl.load_workbook(tmp_path / ROUTE_WORKBOOK)
    sheet = book[WALKDOWNS.name]
    place = {cell.value: cell.column for cell in sheet[1]}
    for row, mounting in enumerate(EVERY_MOUNTING, 2):
        for check in CHECKS:
            cell = sheet.cell(row, place[check.name])
            grey = cell.fill.start_color.rgb == NOT_OF_THIS_MOUNTING.start_color.rgb
            assert grey is (mounting not in check.mountings), (check.name, mounting)
            assert cell.value is None
    offered = {v.formula1 for v in sheet.data_validations.dataValidation}
    assert '"open,plugged"' in offered
    assert book.sheetnames == ["walkdowns", "route", "explanations"]
    assert [cell.value for cell in book["route"][3]][::4] == ["b", "tapered bushing"]


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_only_columns_to_fill_are_asked(mounting: str) -> None:
    asked = {column.name for column in columns_to_fill({mounting})}
    for check in CHECKS:
        assert (check.name in asked) is (mounting in check.mountings)
