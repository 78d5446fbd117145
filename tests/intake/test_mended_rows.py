from collections.abc import Sequence

from given_tables import UNIT, WALKDOWN, Row, check, raw_table

from scoring.intake import CheckedFleet, RawTable


def _added(name: str, first: Row | Sequence[Row], more: Row | Sequence[Row]) -> RawTable:
    return raw_table(name, first).with_added(raw_table(name, more, f"rejected/{name}.csv"))


def _read_again(checked: CheckedFleet, name: str, mend: dict[str, str]) -> RawTable:
    """Return the rejected rows of a table as a person mends them: some cells replaced."""
    rejected = checked.rejected[name]
    rows = [[mend.get(cell, cell) for cell in row] for row in rejected.rows]
    return RawTable.from_rows(name, f"rejected/{name}.csv", list(rejected.headings), rows)


def test_a_mended_row_that_is_added_takes_the_place_of_the_faulty_one() -> None:
    units = _added("units", {**UNIT, "shaft_diameter_mm": "8O"}, UNIT)
    checked = check(units=units)
    assert checked.faults.empty
    assert len(checked.fleet.units) == 1
    assert "units: 1 faulty row replaced by added rows of the same key" in checked.notes


def test_rows_rejected_for_what_they_refer_to_can_be_mended_too() -> None:
    walkdowns = _added("walkdowns", {**WALKDOWN, "unit_id": "U-9"}, WALKDOWN)
    assert check(walkdowns=walkdowns).faults.empty
    early = _added("walkdowns", {**WALKDOWN, "inspected_on": "2023-01-01"}, WALKDOWN)
    assert check(walkdowns=early).faults.empty


def test_two_rows_of_one_key_can_be_mended() -> None:
    clash = [WALKDOWN, {**WALKDOWN, "breather": "plugged"}]
    mended = [WALKDOWN, {**WALKDOWN, "walkdown_id": "W-2", "breather": "plugged"}]
    checked = check(walkdowns=_added("walkdowns", clash, mended))
    assert checked.faults.empty
    assert checked.fleet.walkdowns["walkdown_id"].tolist() == ["W-1", "W-2"]


def test_a_row_of_odd_length_can_be_mended() -> None:
    ragged = RawTable.from_rows(
        "walkdowns", "walkdowns.csv", list(WALKDOWN), [[*map(str, WALKDOWN.values()), "x"]]
    )
    checked = check(walkdowns=ragged.with_added(raw_table("walkdowns", WALKDOWN)))
    assert checked.faults.empty


def test_a_row_that_is_mended_badly_is_told_once_where_it_was_mended() -> None:
    units = _added("units", {**UNIT, "shaft_diameter_mm": "8O"}, {**UNIT, "shaft_diameter_mm": "x"})
    faults = check(units=units, walkdowns=[]).faults
    assert faults["source"].tolist() == ["rejected/units.csv"]
    assert faults["value"].tolist() == ["x"]


def test_an_added_row_never_takes_the_place_of_a_good_one() -> None:
    units = _added("units", UNIT, {**UNIT, "site": "South yard"})
    faults = check(units=units, walkdowns=[]).faults
    assert faults["source"].tolist() == ["units.csv", "rejected/units.csv"]
    assert faults["wrong"].str.startswith("names two different rows").all()


def test_everything_rejected_can_be_mended_and_read_again() -> None:
    units = raw_table("units", {**UNIT, "unit_mass_kg": "1,5"})
    walkdowns = raw_table(
        "walkdowns", [{**WALKDOWN, "breather": "shut"}, {**WALKDOWN, "walkdown_id": "W-2"}]
    )
    once = check(units=units, walkdowns=walkdowns)
    assert len(once.faults) == 3  # the second walkdown only as its unit's row is faulty
    assert [len(once.rejected[name].rows) for name in ("units", "walkdowns")] == [1, 2]
    again = check(
        units=units.with_added(_read_again(once, "units", {"1,5": "1.5"})),
        walkdowns=walkdowns.with_added(_read_again(once, "walkdowns", {"shut": "plugged"})),
    )
    assert again.faults.empty, again.faults.to_string()
    assert again.fleet.units["unit_mass_kg"].tolist() == [1.5]
    assert again.fleet.walkdowns["walkdown_id"].tolist() == ["W-1", "W-2"]
