import pytest
from given_tables import (
    ACCEPTED,
    EVENT,
    GOOD,
    REWORK,
    UNIT,
    WALKDOWN,
    check,
    fault_of,
    good,
    only_fault,
)

from scoring.contract import CHECK_BY_NAME, CHECKS
from scoring.contract.mountings import EVERY_MOUNTING

DAY_OF = {"events": "occurred_on", "rework": "done_on", "walkdowns": "inspected_on"}
WITHIN = "a day within the unit's service, or the unit's dates put right"


@pytest.mark.parametrize("table", DAY_OF)
def test_an_event_before_installation_is_an_error(table: str) -> None:
    fault = fault_of(table, **{DAY_OF[table]: "2024-01-09"})
    assert (fault["column"], fault["value"]) == (DAY_OF[table], "2024-01-09")
    assert fault["wrong"] == "is before the unit was hung on 2024-01-10"
    assert fault["right"] == WITHIN


@pytest.mark.parametrize("table", DAY_OF)
def test_a_record_on_the_day_of_installation_is_none(table: str) -> None:
    good(
        units={**UNIT, "installed_on": "2024-01-10T12:00"},
        **{table: {**GOOD[table], DAY_OF[table]: "2024-01-10T08:00"}},
    )


@pytest.mark.parametrize("table", DAY_OF)
def test_a_record_after_the_end_of_service_is_an_error(table: str) -> None:
    unit = {**UNIT, "out_of_service_on": "2025-06-01"}
    row = {**GOOD[table], DAY_OF[table]: "2025-06-02"}
    fault = only_fault(check(units=unit, **{table: row}))
    assert fault["wrong"] == "is after the unit's service ended on 2025-06-01"
    good(units=unit, **{table: {**row, DAY_OF[table]: "2025-06-01T23:00"}})


@pytest.mark.parametrize("table", ["walkdowns", "events", "rework", "accepted"])
def test_a_walkdown_of_an_unknown_unit_is_an_error(table: str) -> None:
    fault = fault_of(table, unit_id="U-9")
    assert (fault["column"], fault["value"]) == ("unit_id", "U-9")
    assert fault["wrong"] == "is not a unit of this fleet"
    assert fault["right"] == "a unit_id that stands in units"


def test_a_walkdown_of_a_faulty_unit_says_which_row_to_mend() -> None:
    checked = check(units={**UNIT, "shaft_diameter_mm": "1,5"}, walkdowns=WALKDOWN)
    reported = checked.faults[checked.faults["table"] == "walkdowns"].iloc[0]
    assert reported["wrong"] == "is a unit whose own row is faulty, row 2 of units.csv"
    assert reported["right"] == "that row mended first, row 2 of units.csv"


def test_units_that_cannot_be_used_at_all_make_no_fault_of_every_record() -> None:
    unit = {k: v for k, v in UNIT.items() if k != "site"}
    checked = check(units=unit, walkdowns=WALKDOWN, events=EVENT)
    assert checked.faults["table"].tolist() == ["units"]


@pytest.mark.parametrize("kind", ["after_start", "periodic"])
def test_a_look_at_a_running_unit_before_its_start_is_an_error(kind: str) -> None:
    unit = {**UNIT, "started_on": "2024-02-01"}
    row = {**WALKDOWN, "kind": kind, "inspected_on": "2024-01-20"}
    fault = only_fault(check(units=unit, walkdowns=row))
    assert fault["wrong"] == "is a look at a running unit before its start on 2024-02-01"


@pytest.mark.parametrize("kind", ["post_install", "after_rework"])
def test_a_post_install_walkdown_may_lie_between_installed_on_and_started_on(kind: str) -> None:
    unit = {**UNIT, "started_on": "2024-02-01"}
    good(units=unit, walkdowns={**WALKDOWN, "kind": kind, "inspected_on": "2024-01-20"})


LACKING = [
    (check_.name, mounting)
    for check_ in CHECKS
    for mounting in EVERY_MOUNTING
    if mounting not in check_.mountings
]


def test_a_value_that_a_mounting_cannot_have_is_an_error_for_that_row() -> None:
    units = [
        {**UNIT, "unit_id": mounting, "mounting": mounting, "backstop": "yes"}
        for mounting in EVERY_MOUNTING
    ]
    rows = [
        {
            **dict.fromkeys(CHECK_BY_NAME, ""),
            **WALKDOWN,
            "kind": "after_start",
            "walkdown_id": f"{name} {mounting}",
            "unit_id": mounting,
            name: (
                CHECK_BY_NAME[name].allowed or (f"{max(CHECK_BY_NAME[name].minimum or 0, 1):g}",)
            )[0],
        }
        for name in CHECK_BY_NAME
        for mounting in EVERY_MOUNTING
    ]
    checked = check(units=units, walkdowns=rows)
    reported = [f"{f.column} {f.wrong}" for f in checked.faults.itertuples()]
    assert sorted(reported) == sorted(
        f"{name} is given for a {mounting}, which has no such thing" for name, mounting in LACKING
    )
    assert checked.faults["right"].str.fullmatch("only on .*; else empty").all()
    kept = set(checked.fleet.walkdowns["walkdown_id"])
    assert kept == {row["walkdown_id"] for row in rows} - {f"{n} {m}" for n, m in LACKING}


def test_a_repair_names_an_event_of_its_own_unit() -> None:
    good(events=EVENT, rework={**REWORK, "event_id": "E-1"})
    fault = only_fault(check(events=EVENT, rework={**REWORK, "event_id": "E-7"}))
    assert fault["wrong"] == "is not an event of this fleet"
    assert fault["right"] == "an event_id that stands in events, or empty"
    units = [UNIT, {**UNIT, "unit_id": "U-2"}]
    other = {**REWORK, "event_id": "E-1", "unit_id": "U-2"}
    fault = only_fault(check(units=units, events=EVENT, rework=other))
    assert fault["wrong"] == "is an event of another unit"


def test_a_repair_of_a_faulty_event_says_which_row_to_mend() -> None:
    events = {**EVENT, "mode": "broken"}
    checked = check(events=events, rework={**REWORK, "event_id": "E-1"})
    reported = checked.faults[checked.faults["table"] == "rework"].iloc[0]
    assert reported["wrong"] == "is an event whose own row is faulty, row 2 of events.csv"


def _span(unit_id: str, hung: str, ended: str = "", asset: str = "G-1") -> dict[str, object]:
    return {
        **UNIT,
        "unit_id": unit_id,
        "installed_on": hung,
        "out_of_service_on": ended,
        "asset_id": asset,
    }


def test_spans_of_one_asset_may_not_overlap() -> None:
    units = [_span("U-1", "2024-01-10", "2025-01-01"), _span("U-2", "2024-12-31")]
    fault = only_fault(check(units=units))
    assert (fault["row"], fault["column"], fault["value"]) == (3, "installed_on", "2024-12-31")
    assert fault["wrong"] == "was hung while its asset was still on the shaft of unit U-1"
    assert fault["right"] == "out_of_service_on of that unit at or before this day"


def test_an_asset_may_be_hung_on_the_day_it_leaves_the_last_shaft() -> None:
    good(units=[_span("U-1", "2024-01-10", "2025-01-01T16:00"), _span("U-2", "2025-01-01")])
    good(units=[_span("U-1", "2024-01-10"), _span("U-2", "2025-01-01", asset="G-2")])


def test_a_span_that_lies_within_a_longer_one_does_not_hide_it() -> None:
    units = [
        _span("U-1", "2024-01-10"),
        _span("U-2", "2024-03-01", "2024-04-01"),
        _span("U-3", "2025-01-01"),
    ]
    faults = check(units=units).faults
    assert faults["row"].tolist() == [3, 4]
    assert faults["wrong"].str.endswith("unit U-1").all()


def test_a_unit_without_an_asset_overlaps_nothing() -> None:
    good(units=[_span("U-1", "2024-01-10", asset=""), _span("U-2", "2024-01-10", asset="")])


def test_an_acceptance_of_an_unknown_check_is_an_error() -> None:
    assert fault_of("accepted", check="paint")["wrong"] == "is not on the list"
    good(accepted=ACCEPTED)
