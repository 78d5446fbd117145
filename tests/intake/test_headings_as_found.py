import pytest
from given_tables import UNIT, WALKDOWN, check, good, only_fault, raw_table

from scoring.intake import RawTable


def test_unknown_columns_are_kept_aside_and_reported() -> None:
    checked = good(walkdowns={**WALKDOWN, "weather": "rain", "remark 2": "x"})
    assert "walkdowns.csv: set aside, not known to the contract: weather, remark 2" in checked.notes
    assert "weather" not in checked.fleet.walkdowns


@pytest.mark.parametrize("name", ["unit_id", "site", "installed_on", "mounting"])
def test_a_missing_required_column_is_told_with_what_it_means(name: str) -> None:
    checked = check(units={k: v for k, v in UNIT.items() if k != name})
    fault = only_fault(checked)
    assert (fault["row"], fault["column"]) == (1, name)
    assert fault["wrong"] == "this column is missing"
    assert str(fault["right"]).startswith(f"a column {name}: ")
    assert checked.unusable == ("units",)
    assert checked.fleet.units.empty


def test_a_heading_that_is_nearly_right_is_asked_after_not_guessed() -> None:
    unit = {("UNIT_ID" if k == "unit_id" else k): v for k, v in UNIT.items()}
    assert only_fault(check(units=unit))["wrong"] == "this column is missing; is it 'UNIT_ID'?"


def test_a_heading_that_stands_twice_is_an_error() -> None:
    table = RawTable.from_rows(
        "walkdowns", "walkdowns.csv", [*WALKDOWN, "kind"], [[*map(str, WALKDOWN.values()), ""]]
    )
    fault = only_fault(check(walkdowns=table))
    assert fault["wrong"] == "stands 2 times among the headings"
    assert fault["right"] == "each heading once"


def test_an_empty_heading_with_values_under_it_is_reported() -> None:
    table = RawTable.from_rows(
        "walkdowns", "walkdowns.csv", [*WALKDOWN, "", ""],
        [[*map(str, WALKDOWN.values()), "lost?", ""]],
    )  # fmt: skip
    place = len(WALKDOWN) + 1
    reported = (
        f"walkdowns.csv: set aside, not known to the contract: column {place} (it has no heading)"
    )
    assert reported in good(walkdowns=table).notes


def test_a_plants_own_headings_mapped_give_the_same_fleet() -> None:
    own = {
        "Tag": "unit_id",
        "Werk": "site",
        "hung": "installed_on",
        "Ø shaft, inch": "shaft_diameter_in",
    }
    back = {v: k for k, v in own.items()}
    unit = {back.get(k, k): v for k, v in UNIT.items() if k != "shaft_diameter_mm"}
    checked = check({"units": own}, units={**unit, "Ø shaft, inch": "4"}, walkdowns=WALKDOWN)
    assert checked.faults.empty, checked.faults.to_string()
    plain = good(units={**UNIT, "shaft_diameter_mm": "101.6"}).fleet.units
    assert checked.fleet.units.equals(plain)


def test_a_fault_names_the_plants_own_heading() -> None:
    fault = only_fault(check({"units": {"mass": "unit_mass_lb"}}, units={**UNIT, "mass": "1,5"}))
    assert fault["column"] == "mass"
    assert fault["right"] == "a number from 0.1 to 200000 kg, given in lb"


def test_a_heading_may_be_left_aside_by_hand() -> None:
    checked = check({"units": {"unit_mass_kg": ""}}, units={**UNIT, "unit_mass_kg": "heavy"})
    assert checked.faults.empty
    assert checked.fleet.units["unit_mass_kg"].isna().all()


def test_two_headings_for_one_column_of_words_are_an_error() -> None:
    checked = check({"units": {"plant": "site"}}, units={**UNIT, "plant": "South yard"})
    fault = only_fault(checked)
    assert fault["wrong"] == "fills the column site, as site does"
    assert checked.unusable == ("units",)


def test_a_row_with_more_or_fewer_cells_than_headings_is_an_error() -> None:
    width = len(WALKDOWN)
    good_row = [str(v) for v in WALKDOWN.values()]
    table = RawTable.from_rows(
        "walkdowns", "walkdowns.csv", list(WALKDOWN), [good_row, [*good_row, "x"], good_row[:-1]]
    )
    checked = check(walkdowns=table)
    assert checked.faults["row"].tolist() == [3, 4]
    assert checked.faults["wrong"].tolist() == [
        f"has {width + 1} cells where the headings are {width}",
        f"has {width - 1} cells where the headings are {width}",
    ]
    assert checked.rejected["walkdowns"].rows == [[*good_row, "x"], good_row[:-1]]


def test_an_added_table_with_a_heading_twice_loses_no_cell() -> None:
    added = RawTable.from_rows(
        "walkdowns", "more.csv", [*WALKDOWN, "kind"], [[*map(str, WALKDOWN.values()), "periodic"]]
    )
    both = raw_table("walkdowns", WALKDOWN).with_added(added)
    assert both.headings.count("kind") == 2
    assert only_fault(check(walkdowns=both))["wrong"] == "stands 2 times among the headings"
