from collections.abc import Sequence

import pandas as pd
import pytest
from given_tables import EVENT, UNIT, WALKDOWN, Row, check, good
from hypothesis import given, settings
from hypothesis import strategies as st

ROWS = [
    {
        **WALKDOWN,
        "walkdown_id": f"W-{n}",
        "inspected_on": f"2024-02-{n + 1:02d}",
        "arm_misset_mm": str(n),
        "breather": ("open", "plugged", "")[n % 3],
    }
    for n in range(6)
]


def test_duplicate_keys_with_the_same_content_are_one_row() -> None:
    twice = {**WALKDOWN, "arm_misset_mm": "2.0", "notes": "same"}
    again = {**twice, "arm_misset_mm": "2", "notes": " same "}
    walkdowns = good(walkdowns=[twice, again, twice]).fleet.walkdowns
    assert walkdowns["row"].tolist() == [2]


def test_duplicate_keys_with_different_content_are_an_error_naming_both() -> None:
    checked = check(walkdowns=[WALKDOWN, {**WALKDOWN, "breather": "plugged"}])
    assert checked.fleet.walkdowns.empty
    assert checked.faults["row"].tolist() == [2, 3]
    assert checked.faults["value"].tolist() == ["W-1", "W-1"]
    assert checked.faults["wrong"].tolist() == [
        "names two different rows, this one and row 3 of walkdowns.csv",
        "names two different rows, this one and row 2 of walkdowns.csv",
    ]
    assert checked.faults["right"].unique().tolist() == [
        "one row for each key, or the two rows made the same"
    ]


def test_of_three_rows_of_one_key_none_is_preferred() -> None:
    checked = check(walkdowns=[WALKDOWN, WALKDOWN, {**WALKDOWN, "breather": "plugged"}])
    assert checked.fleet.walkdowns.empty
    assert checked.faults["row"].tolist() == [2, 3, 4]


@pytest.mark.parametrize("changed", ["units", "events"])
def test_a_clash_is_found_in_every_table(changed: str) -> None:
    rows: dict[str, Sequence[Row]] = {
        "units": [UNIT, {**UNIT, "site": "South yard"}],
        "events": [EVENT, {**EVENT, "mode": "other"}],
    }
    checked = check(**{changed: rows[changed]})
    reported = checked.faults[checked.faults["table"] == changed]
    assert reported["wrong"].str.startswith("names two different rows").all()
    assert len(reported) == 2


@settings(max_examples=10, deadline=None)
@given(st.permutations(ROWS), st.permutations(list(ROWS[0])))
def test_order_of_rows_and_columns_means_nothing(
    rows: Sequence[Row], columns: Sequence[str]
) -> None:
    shuffled = [{name: row[name] for name in columns} for row in rows]
    found = good(walkdowns=shuffled).fleet.walkdowns
    plain = good(walkdowns=ROWS).fleet.walkdowns
    found = found.sort_values("walkdown_id", ignore_index=True).drop(columns="row")
    pd.testing.assert_frame_equal(found, plain.drop(columns="row"))
