import pytest
from given_tables import REWORK, UNIT, WALKDOWN, check, fault_of, faults_of_cells, good, only_fault

from scoring.contract import FLEET_TABLES, TABLE_BY_NAME, Kind
from scoring.intake import RawTable


def test_only_an_empty_cell_is_blank_and_blank_is_missing() -> None:
    walkdown = {**WALKDOWN, "metal_contact": "", "arm_misset_mm": "  ", "notes": "\t"}
    row = good(walkdowns=walkdown).fleet.walkdowns.loc[0]
    assert row[["metal_contact", "arm_misset_mm", "notes"]].isna().all()


@pytest.mark.parametrize("text", ["NA", "None", "null", "nan", "N/A"])
def test_na_none_and_null_are_text(text: str) -> None:
    fleet = good(
        units={**UNIT, "unit_id": text, "site": text},
        walkdowns=[{**WALKDOWN, "unit_id": text, "notes": text}],
    ).fleet
    assert fleet.units.loc[0, ["unit_id", "site"]].tolist() == [text, text]
    assert fleet.walkdowns.loc[0, "notes"] == text


NOT_KNOWN = ["NA", "None", "null", "nan", "-", "?", "n/a"]
RIGHT = {
    "metal_contact": "one of no, yes",
    "arm_misset_mm": "a number from 0 to 5000 mm",
    "recorded_at": "a date as 2026-03-31, or with a time as 2026-03-31T14:30",
}


def test_na_none_and_null_are_no_way_to_leave_a_check_blank() -> None:
    cells = [(column, text) for column in RIGHT for text in NOT_KNOWN]
    faults = faults_of_cells("walkdowns", cells)
    assert faults["row"].tolist() == list(range(2, len(cells) + 2))
    assert list(zip(faults["column"], faults["value"], strict=True)) == cells
    wrong = "is text; leave the cell empty for not known or not seen"
    assert faults["wrong"].tolist() == [wrong] * len(cells)
    assert faults["right"].tolist() == [RIGHT[column] for column, _ in cells]


def test_an_error_value_of_a_spreadsheet_is_an_error_in_every_column() -> None:
    errors = ["#N/A", "#REF!", "#VALUE!", "#DIV/0!", "#NAME?", "#NV", "#NULL!", "#SPILL!"]
    columns = ["arm_misset_mm", "breather", "recorded_at", "notes", "inspector"]
    cells = [(column, error) for column in columns for error in errors]
    faults = faults_of_cells("walkdowns", cells)
    assert list(zip(faults["column"], faults["value"], strict=True)) == cells
    assert set(faults["wrong"]) == {"is an error value of a spreadsheet"}


@pytest.mark.parametrize("text", ["#1 motor", "# 3", "#12", "see #N/A there"])
def test_a_text_with_a_number_sign_is_a_text(text: str) -> None:
    assert good(walkdowns={**WALKDOWN, "notes": text}).fleet.walkdowns.loc[0, "notes"] == text


@pytest.mark.parametrize("table", [table.name for table in FLEET_TABLES])
def test_a_required_cell_that_is_blank_is_a_fault(table: str) -> None:
    required = TABLE_BY_NAME[table].required
    faults = faults_of_cells(table, [(column, " ") for column in required])
    assert faults["column"].tolist() == list(required)
    assert faults["wrong"].tolist() == ["is empty"] * len(required)
    assert faults["right"].tolist() == [TABLE_BY_NAME[table][c].allowed_words for c in required]


def test_surrounding_spaces_are_no_part_of_a_value() -> None:
    row = good(walkdowns={**WALKDOWN, "breather": " open ", "notes": " two  words\u00a0"})
    assert row.fleet.walkdowns.loc[0, ["breather", "notes"]].tolist() == ["open", "two  words"]


@pytest.mark.parametrize("word", ["Open", "OPEN", "opened", "offen", "TRUE"])
def test_a_word_that_is_not_on_the_list_is_never_guessed(word: str) -> None:
    fault = fault_of("walkdowns", breather=word)
    assert fault["wrong"] == "is not on the list"
    assert fault["right"] == "one of open, plugged"


@pytest.mark.parametrize("table", [table.name for table in FLEET_TABLES])
def test_every_list_of_words_refuses_another_word_and_names_its_own(table: str) -> None:
    columns = [c for c in TABLE_BY_NAME[table].columns if c.kind in (Kind.CHOICE, Kind.SEVERAL)]
    faults = faults_of_cells(table, [(column.name, "sideways") for column in columns])
    assert faults["column"].tolist() == [column.name for column in columns]
    assert faults["wrong"].tolist() == ["is not on the list"] * len(columns)
    for right, column in zip(faults["right"], columns, strict=True):
        assert all(word in right for word in column.allowed)


def test_several_actions_stand_with_a_semicolon_between_them() -> None:
    given = {**REWORK, "actions": " renew_seal ;open_breather; "}
    assert good(rework=given).fleet.rework.loc[0, "actions"] == "renew_seal;open_breather"
    fault = fault_of("rework", actions="renew_seal, open_breather")
    assert fault["wrong"] == "is not on the list"
    assert str(fault["right"]).endswith("with ; between them")


def test_missing_events_and_rework_mean_that_none_were_written_down() -> None:
    checked = good()
    assert checked.fleet.events.empty
    assert checked.fleet.rework.empty
    assert checked.notes == (
        "no table events: taken as none written down",
        "no table rework: taken as none written down",
    )
    assert "occurred_on" in checked.fleet.events


def test_a_table_of_units_without_a_row_is_refused() -> None:
    empty = RawTable.from_rows("units", "units.csv", list(UNIT), [])
    checked = check(units=empty)
    fault = only_fault(checked)
    assert fault["wrong"] == "holds headings but no rows"
    assert checked.unusable == ("units",)


def test_walkdowns_without_a_row_are_no_fault() -> None:
    good(walkdowns=RawTable.from_rows("walkdowns", "walkdowns.csv", list(WALKDOWN), []))
