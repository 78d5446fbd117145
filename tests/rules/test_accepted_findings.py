"""For how long, and of what, an acceptance speaks: day by day, by hand."""

import numpy as np
import pandas as pd
import pytest
from fleets import Book
from small_fleets import fleet_of

from scoring.limits import unit_limits, walkdown_exceedance
from scoring.rules.accepted_findings import accepted_findings
from scoring.timeline import Timeline

UNIT = {
    "unit_id": "U1",
    "site": "quarry",
    "installed_on": "2026-01-10",
    "mounting": "keyed_bore",
    "shaft_diameter_mm": 80,
}
LOOK = {"walkdown_id": "W1", "unit_id": "U1", "kind": "post_install", "inspected_on": "2026-01-20"}
ROW = {
    "accepted_id": "A1",
    "unit_id": "U1",
    "check": "arm_misset_mm",
    "accepted_by": "engineer 3",
    "reason": "stands still",
    "accepted_on": "2026-02-01",
    "until_on": "2026-12-31",
}
FOUND = {**LOOK, "arm_misset_mm": 3}  # two millimetres too much


def said(as_of, rows, looks=(FOUND,), rework=(), exceedance=2.0):
    """Say of a finding at the first unit by whom it is accepted, as of a day."""
    others = {"rework": list(rework)} if rework else {}
    fleet = fleet_of(units=[UNIT], walkdowns=list(looks), accepted=list(rows), **others)
    limits = unit_limits(fleet.units).table.iloc[[0] * len(fleet.walkdowns)]
    bad = walkdown_exceedance(fleet.walkdowns, limits.reset_index(drop=True))
    timeline = Timeline(fleet, bad)
    finding = {"unit": 0, "unit_id": "U1", "check": "arm_misset_mm", "exceedance": exceedance}
    known = timeline.known(pd.Timestamp(as_of))
    return accepted_findings(timeline, known, pd.DataFrame([finding]))[0]


WORDS = "accepted by engineer 3 until 2026-12-31: stands still"


@pytest.mark.parametrize(
    ("as_of", "words"),
    [
        ("2026-01-31", ""),
        ("2026-02-01", WORDS),
        ("2026-06-30", WORDS),
        ("2026-12-31", WORDS),
        ("2027-01-01", ""),
    ],
)
def test_it_speaks_from_its_first_day_to_its_last(as_of, words):
    assert said(as_of, [ROW]) == words


def test_the_hours_of_its_days_do_not_matter():
    timed = {**ROW, "accepted_on": "2026-02-01T15:00", "until_on": "2026-12-31T09:00"}
    assert said("2026-02-01", [timed]) == WORDS
    assert said("2026-12-31", [timed]) == WORDS


@pytest.mark.parametrize(("exceedance", "words"), [(1.5, WORDS), (2.0, WORDS), (2.01, "")])
def test_it_covers_what_was_found_by_then_and_nothing_worse(exceedance, words):
    assert said("2026-06-30", [ROW], exceedance=exceedance) == words


def test_what_was_found_on_the_day_itself_is_covered_and_later_is_not():
    same_day = {**LOOK, "arm_misset_mm": 3, "inspected_on": "2026-02-01"}
    later = {**LOOK, "arm_misset_mm": 3, "inspected_on": "2026-02-02"}
    assert said("2026-06-30", [ROW], [same_day]) == WORDS
    assert said("2026-06-30", [ROW], [later]) == ""


def test_the_worst_of_earlier_looks_counts():
    better = {**LOOK, "walkdown_id": "W2", "inspected_on": "2026-01-25", "arm_misset_mm": 1.5}
    assert said("2026-06-30", [ROW], [FOUND, better]) == WORDS


@pytest.mark.parametrize(("hung", "words"), [("2026-02-01", WORDS), ("2026-02-02", "")])
def test_it_lapses_when_the_unit_is_hung_anew_on_a_later_day(hung, words):
    anew = {"rework_id": "R1", "unit_id": "U1", "done_on": hung, "actions": "renew_key"}
    assert said("2026-06-30", [ROW], rework=[anew]) == words


def test_of_two_that_speak_the_longer_one_is_told():
    longer = {**ROW, "accepted_id": "A2", "accepted_by": "engineer 5", "until_on": "2027-03-31"}
    for rows in ([ROW, longer], [longer, ROW]):
        assert said("2026-06-30", rows) == "accepted by engineer 5 until 2027-03-31: stands still"


def test_another_unit_or_check_is_not_covered():
    other = {**ROW, "check": "guard"}
    assert said("2026-06-30", [other]) == ""


def test_without_acceptances_nothing_is_said_of_any_finding():
    book = Book().unit().unit("U2")
    findings = pd.DataFrame({"unit": [0, 1], "unit_id": ["U1", "U2"], "check": "guard"})
    words = accepted_findings(
        book.timeline(), book.known("2024-06-01"), findings.assign(exceedance=1.0)
    )
    assert words.tolist() == ["", ""]
    assert words.dtype == np.dtype(object)
