"""The messy fleets are what they claim: clean tables without a fault, files with their mess."""

import re
import sqlite3
import zipfile
from datetime import datetime

import pytest
from asked_ranking import ranking, write_tables
from cells_found import all_cells
from click.testing import CliRunner
from messy_fleet import KINDS
from openpyxl import load_workbook
from twelve_fleets import MAKERS

from scoring.cli.main import cli
from scoring.contract import TABLE_BY_NAME
from scoring.contract.declaration import Kind

MOST_ANSWERS = 10
OF_OURS = {column.name for table in TABLE_BY_NAME.values() for column in table.columns}
WORDS = {
    column.name
    for table in TABLE_BY_NAME.values()
    for column in table.columns
    if column.kind in {Kind.CHOICE, Kind.SEVERAL}
}


@pytest.fixture(scope="module")
def fleets(tmp_path_factory):
    made = {}

    def fleet(name):
        if name not in made:
            made[name] = MAKERS[name](tmp_path_factory.mktemp(name))
        return made[name]

    return fleet


def texts(month):
    """Return all that stands in the sources as one set of texts."""
    found = all_cells(month.sources).values()
    return {str(cell).strip() for rows in found for row in rows for cell in row if cell is not None}


def rows_of(month, name):
    return next(rows for (_, found), rows in all_cells(month.sources).items() if found == name)


def test_there_are_twelve():
    assert len(MAKERS) == 12


@pytest.mark.parametrize("name", MAKERS)
def test_clean_tables_pass_the_check_and_rank(name, fleets, tmp_path):
    for month in (fleets(name).first, fleets(name).second):
        write_tables(month.clean, tmp_path / f"checked {month.as_of}")
        given = ["check", str(tmp_path / f"checked {month.as_of}")]
        result = CliRunner().invoke(cli, given, catch_exceptions=False)
        assert result.exit_code == 0, result.output
        ranked = ranking(month.clean, month.as_of, tmp_path / month.as_of)
        assert len(ranked) == len(month.clean["units"]) >= 30
        assert ranked["verdict"].nunique() > 1
        assert ranked["expected_loss"].nunique() > len(ranked) // 2


@pytest.mark.parametrize("name", MAKERS)
def test_second_month_holds_more_units_and_walkdowns(name, fleets):
    first, second = fleets(name).first.clean, fleets(name).second.clean
    assert set(first["units"]["unit_id"]) < set(second["units"]["unit_id"])
    assert len(second["walkdowns"]) > len(first["walkdowns"])


@pytest.mark.parametrize("name", MAKERS)
def test_second_month_says_nothing_in_new_words(name, fleets):
    """What was answered for the first month is enough for the second."""
    first, second = fleets(name).first.clean, fleets(name).second.clean
    assert {table: list(rows) for table, rows in first.items()} == {
        table: list(rows) for table, rows in second.items()
    }
    for table, rows in second.items():
        for column in set(rows) & WORDS:
            assert words_in(rows[column]) <= words_in(first[table][column]), column


def words_in(cells):
    return {word for cell in cells for word in cell.split(";")}


@pytest.mark.parametrize("name", MAKERS)
def test_the_same_is_made_again(name, fleets, tmp_path):
    again = MAKERS[name](tmp_path)
    for one, other in ((again.first, fleets(name).first), (again.second, fleets(name).second)):
        assert list(all_cells(one.sources).values()) == list(all_cells(other.sources).values())
        assert all(one.clean[table].equals(other.clean[table]) for table in one.clean)


@pytest.mark.parametrize("name", MAKERS)
def test_few_answers_each_about_what_stands_there(name, fleets):
    fleet = fleets(name)
    assert 0 < len(fleet.answers) <= MOST_ANSWERS
    assert len({(a.about, a.where, a.subject, a.says) for a in fleet.answers}) == len(fleet.answers)
    there = texts(fleet.first)
    named = {found for _, found in all_cells(fleet.first.sources)}
    for answer in fleet.answers:
        assert answer.about in KINDS
        assert any(one.startswith(answer.where) for one in named), answer
        if answer.about == "table":
            assert any(one.startswith(answer.subject) for one in named), answer
        elif answer.about == "word":
            parts = {part for text in there for part in re.split(r" [/+] |[,;] ", text)}
            said = {text.casefold() for text in there | parts}
            assert answer.subject.casefold() in said, answer
        elif answer.about in {"column", "yes"}:
            assert answer.subject in there, answer


@pytest.mark.parametrize("name", MAKERS)
def test_headings_are_the_plants_own(name, fleets):
    there = texts(fleets(name).first)
    assert there & OF_OURS <= {"inspector", "breather", "oil_level"}


@pytest.mark.parametrize("name", MAKERS)
def test_files_are_of_the_kind_that_their_names_say(name, fleets):
    for path in {source.path for source in fleets(name).first.sources}:
        begins = path.read_bytes()[:15]
        if path.suffix == ".csv":
            assert b"\x00" not in path.read_bytes()
        elif path.suffix == ".db":
            assert begins == b"SQLite format 3"
        else:
            with zipfile.ZipFile(path) as packed:
                part = {".xlsx": "xl/workbook.xml", ".ods": "content.xml"}[path.suffix]
                assert part in packed.namelist()
                if path.suffix == ".ods":
                    assert packed.read("mimetype") == (
                        b"application/vnd.oasis.opendocument.spreadsheet"
                    )


def test_german_flat_workbook_has_notes_above_and_yes_or_no_for_each_job(fleets):
    rows = rows_of(fleets("german_flat_workbook").first, "Begehungen")
    assert sum(cell is not None for cell in rows[0]) == 1
    assert rows[3][:2] == ["Begangen am", "Antrieb-Nr."]
    at = rows[3].index("Dichtring erneuert")
    assert {row[at] for row in rows[4:]} == {None, "ja", "nein"}
    failed = rows[3].index("Ausfall am")
    assert any(isinstance(row[failed], datetime) for row in rows[4:])


def test_inches_stand_in_a_row_below(fleets):
    rows = rows_of(fleets("inches_in_a_row_below").first, "Gearbox List")
    at = rows[0].index("Shaft Dia")
    assert rows[1][at] == "in"
    assert any(re.fullmatch(r"\d \d+/16", row[at]) for row in rows[2:])


def test_spanish_text_has_semicolons_decimal_commas_and_a_byte_order_mark(fleets):
    for source in fleets("spanish_semicolons").first.sources:
        text = source.path.read_bytes()
        assert text.startswith(b"\xef\xbb\xbf")
        assert text.splitlines()[0].count(b";") >= 4
    assert re.search(rb";\d+,\d+;", fleets("spanish_semicolons").first.sources[1].path.read_bytes())


def test_french_opendocument_has_booleans_dates_and_merged_headings(fleets):
    path = fleets("french_opendocument").first.sources[0].path
    with zipfile.ZipFile(path) as packed:
        content = packed.read("content.xml").decode()
    assert 'office:value-type="boolean"' in content
    assert 'office:date-value="20' in content
    assert re.search(r'number-columns-spanned="[2-9]"', content)
    assert re.search(r'number-rows-repeated="1048\d{3}"', content)


def test_one_of_two_plants_writes_inches_in_its_headings(fleets):
    sources = fleets("two_plants_one_numbering").first.sources
    heads = {name: rows[0] for (_, name), rows in all_cells(sources).items()}
    assert "Shaft diameter mm" in heads["Units.csv"]
    assert "Shaft diameter (in)" in heads["Units"]


def test_portuguese_flat_text_has_no_number_of_a_visit(fleets):
    month = fleets("portuguese_flat_text").first
    rows = rows_of(month, "redutores_2026.csv")
    assert not any(number in row for row in rows for number in month.clean["walkdowns"].iloc[:, 0])
    assert re.fullmatch(r"\d\d-\d\d-20\d\d", rows[1][rows[0].index("Data da inspeção")])


def test_totals_stand_between_and_below_merged_notes_above(fleets):
    book = load_workbook(fleets("totals_below_and_between").first.sources[0].path)
    page = book["Drives"]
    assert {str(area) for area in page.merged_cells.ranges} == {"A1:L1", "A2:L2"}
    first = [str(row[0]) for row in page.iter_rows(values_only=True)]
    assert sum(cell.startswith("Subtotal") for cell in first) == 3
    assert "Total" in first[-3:]


def test_second_month_of_several_files_brings_another_file(fleets):
    first, second = (
        {source.path.name for source in month.sources}
        for month in (
            fleets("files_by_area_and_year").first,
            fleets("files_by_area_and_year").second,
        )
    )
    assert second - first == {"Begehungen 2026-06.csv"}
    assert sum(file.startswith("Antriebe") for file in first) == 3


def test_ids_of_two_plants_collide(fleets):
    fleet = fleets("two_plants_one_numbering")
    written = [text.rpartition("/")[2] for text in fleet.first.clean["units"]["unit_id"]]
    assert len(set(written)) < len(written)
    assert {source.plant for source in fleet.first.sources} == {"Aldermoor", "Brackwater"}


def test_database_holds_more_than_what_is_asked_for(fleets):
    sources = fleets("maintenance_database").first.sources
    base = sqlite3.connect(sources[0].path)
    (count,) = base.execute("SELECT count(*) FROM equipment").fetchone()
    base.close()
    assert count == len(fleets("maintenance_database").first.clean["units"]) + 1


def test_units_spaces_and_case_stand_in_the_cells(fleets):
    rows = rows_of(fleets("units_inside_cells").first, "visits")
    run_out = {str(row[rows[0].index("Runout")]) for row in rows[1:]}
    assert any(re.fullmatch(r"[\d.]+ mm", text) for text in run_out)
    assert any(re.fullmatch(r"[\d.]+mm", text) for text in run_out)
    touch = {str(row[rows[0].index("Metal contact")]) for row in rows[1:]}
    assert {"No", "NO", "no", " No", "No ", "No\xa0"} <= touch


def test_days_are_numbers_and_yes_is_as_libreoffice_writes_it(fleets):
    page = load_workbook(fleets("days_as_numbers").first.sources[0].path)["Walks"]
    walked, home, touch = page["C2"], page["E2"], page["G2"]
    assert walked.value > 40000
    assert walked.number_format == "General"
    assert {cell.value for cell in page["E"][1:]} <= {0, 1, None}
    assert home.number_format == '"TRUE";"TRUE";"FALSE"'
    assert touch.value is None or touch.data_type == "b"


def test_no_day_tells_whether_months_come_first(fleets):
    for month in (
        fleets("one_row_a_unit_in_inches").first,
        fleets("one_row_a_unit_in_inches").second,
    ):
        days = [text.split("/") for text in texts(month) if re.fullmatch(r"\d+/\d+/\d{4}", text)]
        assert len(days) > 30
        assert all(int(first) <= 12 and int(second) <= 12 for first, second, _ in days)
