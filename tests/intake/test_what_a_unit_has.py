"""A walkdown counts no more than its unit has, and answers nothing that is not asked there."""

import pytest
from given_tables import UNIT, WALKDOWN, check, good, only_fault

EIGHT_SCREWS = {**UNIT, "screw_count": "8"}


@pytest.mark.parametrize("column", ["screws_low", "screws_missing"])
def test_more_screws_than_the_unit_has_are_refused_with_the_allowed_range(column: str) -> None:
    row = {**WALKDOWN, column: "9"}
    fault = only_fault(check(units=EIGHT_SCREWS, walkdowns=row))
    assert (fault["table"], fault["row"], fault["column"]) == ("walkdowns", 2, column)
    assert (fault["value"], fault["wrong"], fault["right"]) == (
        "9",
        "is more than the unit has, screw_count 8",
        "a whole number from 0 to 8",
    )
    good(units=EIGHT_SCREWS, walkdowns={**WALKDOWN, column: "8"})
    good(units=UNIT, walkdowns=row)  # nobody said how many there are


@pytest.mark.parametrize(("column", "most"), [("isolators_free", "2"), ("torque_passes", "9")])
def test_more_isolators_or_passes_than_can_be_are_refused(column: str, most: str) -> None:
    fault = only_fault(check(walkdowns={**WALKDOWN, column: str(int(most) + 1)}))
    assert (fault["column"], fault["right"]) == (column, f"a whole number from 0 to {most}")
    good(walkdowns={**WALKDOWN, column: most})


def test_more_missing_screws_than_low_or_missing_ones_are_refused() -> None:
    fault = only_fault(check(walkdowns={**WALKDOWN, "screws_low": "2", "screws_missing": "3"}))
    assert (fault["row"], fault["column"], fault["value"]) == (2, "screws_missing", "3")
    assert fault["wrong"] == "is more than screws_low, which counts these too, 2"
    assert fault["right"] == "a whole number from 0 to screws_low"
    good(walkdowns={**WALKDOWN, "screws_low": "2", "screws_missing": "2"})
    good(walkdowns={**WALKDOWN, "screws_missing": "3"})


@pytest.mark.parametrize("backstop", ["", "no"])
def test_a_backstop_is_looked_at_only_where_the_unit_has_one(backstop: str) -> None:
    row = {**WALKDOWN, "backstop_direction": "right"}
    fault = only_fault(check(units={**UNIT, "backstop": backstop}, walkdowns=row))
    assert fault["column"] == "backstop_direction"
    assert fault["wrong"] == f"is given for a unit whose backstop is {backstop or 'blank'}"
    good(units={**UNIT, "backstop": "yes"}, walkdowns=row)


def test_screws_are_checked_again_only_once_the_unit_has_run() -> None:
    row = {**WALKDOWN, "screws_rechecked": "no"}
    fault = only_fault(check(walkdowns=row))
    assert fault["wrong"] == "is given on a visit of kind post_install"
    assert fault["right"] == "only on after_start, periodic, after_rework; else empty"
    for kind in ("after_start", "periodic", "after_rework"):
        good(walkdowns={**row, "kind": kind})


@pytest.mark.parametrize("said", ["", "no", "yes"])
def test_where_metal_touches_says_that_it_does(said: str) -> None:
    row = {**WALKDOWN, "metal_contact": said, "contact_at": "motor; housing"}
    walkdowns = good(walkdowns=row).fleet.walkdowns
    assert walkdowns["metal_contact"].tolist() == ["yes"]
    assert walkdowns["contact_at"].tolist() == ["motor;housing"]


def test_no_place_says_nothing_of_contact() -> None:
    rows = [
        {**WALKDOWN, "walkdown_id": f"W-{said}", "metal_contact": said, "contact_at": ""}
        for said in ("", "no", "yes")
    ]
    said = good(walkdowns=rows).fleet.walkdowns["metal_contact"].astype(object)
    assert said.fillna("").tolist() == ["", "no", "yes"]
