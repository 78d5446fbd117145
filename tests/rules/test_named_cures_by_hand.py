"""Which re-work is named for a finding, by what else was seen: by hand, without a fleet around."""

import numpy as np
import pandas as pd
import pytest
from fleets import Book

from scoring.rules.cure_of_a_finding import NOTHING_TO_CURE, curing_at, name_cures, named_at
from scoring.rules.what_cures import ACTION_NAMES

CONTACT = "metal_contact"


def named(book, check, action):
    """Return what is named at each unit of a book for one finding of each."""
    known = book.known("2024-06-01")
    findings = pd.DataFrame({"unit": np.arange(len(known.units)), "check": check, "action": action})
    return name_cures(findings, known)["action"].tolist()


@pytest.mark.parametrize(
    ("places", "cure"),
    [
        ({}, "restore_isolation;restore_clearance"),
        ({"contact_at": "washer_stack"}, "restore_isolation"),
        ({"contact_at": "guard"}, "restore_clearance"),
        ({"contact_at": "motor;guard"}, "restore_clearance"),
        ({"contact_at": "washer_stack;guard"}, "restore_isolation;restore_clearance"),
    ],
)
def test_metal_contact_is_cured_where_it_is(places, cure):
    book = Book().unit(mounting="keyed_bore").look("2024-01-02", metal_contact="yes", **places)
    assert named(book, CONTACT, "restore_isolation") == [cure]


def test_each_unit_is_named_the_cure_of_its_own_cause():
    book = Book()
    for unit, place in (("U1", "guard"), ("U2", "washer_stack"), ("U3", "guard;washer_stack")):
        book.unit(unit, mounting="keyed_bore")
        book.look("2024-01-02", unit, metal_contact="yes", contact_at=place)
    assert named(book, CONTACT, "restore_isolation") == [
        "restore_clearance",
        "restore_isolation",
        "restore_isolation;restore_clearance",
    ]


def test_what_is_to_be_minded_is_said_beside_a_cure():
    seen = Book().unit("U1", mounting="keyed_bore").look("2024-01-02", metal_contact="yes")
    seen.unit("U2", mounting="keyed_bore")
    seen.look("2024-01-02", "U2", metal_contact="yes", contact_at="guard")
    known = seen.known("2024-06-01")
    asked = {"unit": [0, 1], "check": CONTACT, "action": "restore_isolation"}
    both, one = name_cures(pd.DataFrame(asked), known)["do"]
    assert both.endswith("; both, for where metal touches is not on record")
    assert "both" not in one


def curing(book, check):
    """Return the names of all work that can cure a check, for one finding of each unit."""
    known = book.known("2024-06-01")
    findings = pd.DataFrame({"unit": np.arange(len(known.units)), "check": check})
    return [
        {name for name, one in zip(ACTION_NAMES, flags, strict=True) if one}
        for flags in curing_at(findings, known)
    ]


def test_what_can_cure_a_finding_is_told_for_each_unit_and_nothing_where_a_joint_slips():
    book = Book()
    for unit, place in (("U1", "guard"), ("U2", "washer_stack"), ("U3", "guard;washer_stack")):
        book.unit(unit, mounting="keyed_bore")
        book.look("2024-01-02", unit, metal_contact="yes", contact_at=place)
    clear, isolate = {"restore_clearance"}, {"restore_isolation"}
    assert curing(book, CONTACT) == [clear, isolate, clear | isolate]
    assert curing(book, "guard") == [{"fit_guard"}] * 3
    assert curing(book, "slip_margin") == [set()] * 3


def test_all_work_that_findings_of_a_unit_name_is_told_of_that_unit():
    findings = pd.DataFrame(
        {"unit": [2, 0, 2], "action": ["fit_guard", "", "restore_isolation;restore_clearance"]}
    )
    flags = named_at(findings, 3)
    told = [{n for n, one in zip(ACTION_NAMES, of, strict=True) if one} for of in flags]
    assert told == [set(), set(), {"fit_guard", "restore_isolation", "restore_clearance"}]
    assert not named_at(findings.head(0), 2).any()


def test_a_low_margin_of_a_joint_that_was_seen_good_asks_for_the_numbers_behind_it():
    book = Book().unit("U1", mounting="shrink_disc").look("2024-01-02", guard="missing")
    known = book.known("2024-06-01")
    asked = {"unit": [0, 0], "check": ["slip_margin", "guard"], "action": ["", "fit_guard"]}
    said = name_cures(pd.DataFrame(asked), known)
    assert said["action"].tolist() == ["", "fit_guard"]
    assert said["do"].tolist() == [NOTHING_TO_CURE, "fit the guard"]
