"""A large table is looked at in part first; a good one is never refused for its size."""

import numpy as np
import pytest
from given_tables import TODAY, UNIT, raw_table

from scoring.errors import UnreadableFleetError
from scoring.intake import RawTable, check_fleet
from scoring.intake.faults import MOST_TOLD
from scoring.intake.junk import LARGE_ROWS, ROWS_LOOKED_AT

HEADINGS = ["walkdown_id", "unit_id", "inspected_on", "kind"]
MANY = LARGE_ROWS + 1


def walkdowns(bad: int, word: str = "often", headings: list[str] = HEADINGS) -> RawTable:
    """Return so many walkdowns that they are looked at first, the last of them bad."""
    words = ["periodic"] * (MANY - bad) + [word] * bad
    rows = ([f"W-{n}", "U-1", "2024-02-01", one] for n, one in enumerate(words))
    return RawTable.from_rows("walkdowns", "walkdowns.csv", headings, rows)


def test_a_large_good_table_comes_in_whole() -> None:
    checked = check_fleet({"units": raw_table("units", UNIT), "walkdowns": walkdowns(0)}, TODAY)
    assert checked.faults.empty
    assert len(checked.fleet.walkdowns) == MANY


def test_faults_of_less_than_half_are_counted_and_a_thousand_told() -> None:
    bad = MANY // 3
    checked = check_fleet({"units": raw_table("units", UNIT), "walkdowns": walkdowns(bad)}, TODAY)
    assert len(checked.faults) == MOST_TOLD
    assert checked.how_many_faults == bad
    assert len(checked.fleet.walkdowns) == MANY - bad
    assert len(checked.rejected["walkdowns"].rows) == bad


def test_more_than_half_is_junk_wherever_it_stands() -> None:
    tables = {"units": raw_table("units", UNIT), "walkdowns": walkdowns(MANY * 2 // 3)}
    words = rf"of {ROWS_LOOKED_AT} rows looked at 133\d\d are faulty.* 'often' is not on the list"
    with pytest.raises(UnreadableFleetError, match=words):
        check_fleet(tables, TODAY)


def test_rows_of_no_unit_are_junk() -> None:
    other = raw_table("units", {**UNIT, "unit_id": "U-9"})
    with pytest.raises(UnreadableFleetError, match="'U-1' is not a unit of this fleet"):
        check_fleet({"units": other, "walkdowns": walkdowns(0)}, TODAY)


def test_under_headings_of_no_use_no_row_is_read() -> None:
    strange = walkdowns(0, headings=["a", "b", "c", "d"])
    checked = check_fleet({"units": raw_table("units", UNIT), "walkdowns": strange}, TODAY)
    assert checked.unusable == ("walkdowns",)
    assert set(checked.faults["row"]) == {1, 2}  # the headings, and one row for an example


def test_some_rows_of_a_table_keep_their_numbers() -> None:
    some = walkdowns(0).at(np.array([3, 5]))
    assert some.rows.tolist() == [5, 7]
    assert some.column("walkdown_id") == ["W-3", "W-5"]
