import pandas as pd
import pytest
from given_tables import ACCEPTED, EVENT, UNIT, WALKDOWN, check, fault_of, faults_of_cells, good

RIGHT = "a date as 2026-03-31, or with a time as 2026-03-31T14:30"
NOT_ONE = "is not a date"
NO_DAY = "is not a day of the calendar or not a time of day"
FAR = "is a date before 1900 or after 2199"
ZONE = "has a time zone; write the plant's local time"


@pytest.mark.parametrize(
    ("text", "read", "timed"),
    [
        ("2025-03-31", "2025-03-31", False),
        ("2025-03-31T14:30", "2025-03-31 14:30", True),
        ("2025-03-31 14:30:15", "2025-03-31 14:30:15", True),
        ("2025-03-31T14:30:15.250", "2025-03-31 14:30:15", True),
        ("2024-02-29", "2024-02-29", False),
        ("2025-03-31T00:00", "2025-03-31", True),
    ],
)
def test_dates_are_iso_8601_with_or_without_a_time(text: str, read: str, timed: bool) -> None:
    row = good(walkdowns={**WALKDOWN, "inspected_on": text}).fleet.walkdowns.loc[0]
    assert row["inspected_on"] == pd.Timestamp(read)
    assert row["inspected_on_timed"] == timed


NO_DATES = [
    ("2026-13-01", NO_DAY),
    ("2025-02-29", NO_DAY),
    ("2025-03-31T25:00", NO_DAY),
    ("2025-03-31T24:00", NO_DAY),
    ("2026-1-1", NOT_ONE),
    ("20260101", NOT_ONE),
    ("31.03.2025", NOT_ONE),
    ("3/31/2025", NOT_ONE),
    ("45000", NOT_ONE),
    ("2025-W14-1", NOT_ONE),
    ("March 2025", NOT_ONE),
    ("2025-03-31T14:30Z", ZONE),
    ("2025-03-31T14:30:00+02:00", ZONE),
    ("2025-03-31 14:30 -0500", ZONE),
    ("1899-12-31", FAR),
    ("0001-01-01", FAR),
    ("2200-01-01", FAR),
    ("9999-12-31", FAR),
]


def test_what_is_no_plain_date_says_why() -> None:
    faults = faults_of_cells("walkdowns", [("inspected_on", text) for text, _ in NO_DATES])
    assert list(zip(faults["value"], faults["wrong"], strict=True)) == NO_DATES
    assert set(faults["right"]) == {RIGHT}
    assert set(faults["column"]) == {"inspected_on"}


@pytest.mark.parametrize("text", ["2026-07-01", "2026-07-01T23:59:59"])
def test_a_date_one_day_in_the_future_is_allowed(text: str) -> None:
    good(walkdowns={**WALKDOWN, "inspected_on": text})


@pytest.mark.parametrize(
    ("table", "column"),
    [
        ("units", "out_of_service_on"),
        ("walkdowns", "inspected_on"),
        ("walkdowns", "recorded_at"),
        ("events", "occurred_on"),
        ("rework", "done_on"),
        ("accepted", "accepted_on"),
    ],
)
def test_a_date_more_than_one_day_in_the_future_is_an_error(table: str, column: str) -> None:
    fault = fault_of(table, **{column: "2026-07-02"})
    assert (fault["column"], fault["value"]) == (column, "2026-07-02")
    assert fault["wrong"] == "is more than one day in the future"
    assert fault["right"] == "a date up to 2026-07-01"


def test_an_acceptance_may_run_into_the_future() -> None:
    good(accepted={**ACCEPTED, "until_on": "2031-01-01"})


def test_0012_stays_0012_and_is_another_unit_than_12() -> None:
    units = [{**UNIT, "unit_id": "0012"}, {**UNIT, "unit_id": "12"}]
    fleet = good(units=units, walkdowns={**WALKDOWN, "unit_id": "0012"}).fleet
    assert fleet.units["unit_id"].tolist() == ["0012", "12"]
    assert fleet.walkdowns["unit_id"].tolist() == ["0012"]


def test_identifiers_are_case_sensitive() -> None:
    units = [{**UNIT, "unit_id": "u-1"}, {**UNIT, "unit_id": "U-1"}]
    assert len(good(units=units).fleet.units) == 2
    fault = fault_of("walkdowns", unit_id="u-1")
    assert fault["wrong"] == "is not a unit of this fleet"


def test_an_identifier_has_1_to_64_characters() -> None:
    longest = "ü" * 64
    good(units={**UNIT, "unit_id": longest}, walkdowns={**WALKDOWN, "unit_id": longest})
    checked = check(units={**UNIT, "unit_id": "#" * 65}, walkdowns=[])
    fault = checked.faults.iloc[0]
    assert fault["wrong"] == "is too long: it has 65 characters"
    assert fault["right"] == "text of 1 to 64 characters"


def test_an_identifier_may_hold_any_sign() -> None:
    name = 'Kiln 3 / "left", №7; =x'
    units = {**UNIT, "unit_id": name}
    fleet = good(
        units=units, walkdowns={**WALKDOWN, "unit_id": name}, events={**EVENT, "unit_id": name}
    ).fleet
    assert fleet.events.loc[0, "unit_id"] == name
