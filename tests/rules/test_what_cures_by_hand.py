"""Which work cures what was found of a check, and where only a part does: by hand."""

import pytest
from fleets import Book

from scoring.rules.what_cures import ACTION_NAMES, needed_at, needs_a_part

DAY = "2024-06-01"


def needed(check, **seen):
    """Return the sets of actions of each of which one has to be done, at a keyed bore."""
    known = Book().unit(mounting="keyed_bore").look("2024-01-02", **seen).known(DAY)
    named = [
        {name for name, one in zip(ACTION_NAMES, flags[0], strict=True) if one}
        for flags in needed_at(known, check)
    ]
    assert not any(named[1:]) or named[0]
    return [names for names in named if names]


@pytest.mark.parametrize(
    ("places", "expected"),
    [
        ({"contact_at": "washer_stack"}, [{"restore_isolation"}]),
        ({"contact_at": "guard"}, [{"restore_clearance"}]),
        ({"contact_at": "guard;washer_stack"}, [{"restore_isolation"}, {"restore_clearance"}]),
        ({}, [{"restore_isolation"}, {"restore_clearance"}]),
    ],
)
def test_contact_is_cured_by_isolating_by_clearing_or_only_by_both(places, expected):
    assert needed("metal_contact", metal_contact="yes", **places) == expected


def test_where_no_contact_was_found_any_cure_of_the_contract_may_do():
    assert needed("metal_contact", metal_contact="no") == [
        {"restore_isolation", "restore_clearance"}
    ]


@pytest.mark.parametrize(
    ("check", "seen", "expected"),
    [
        ("breather", {"breather": "plugged"}, {"open_breather"}),
        ("guard", {"guard": "missing"}, {"fit_guard"}),
        ("oil_condition", {"oil_condition": "water"}, {"change_oil", "renew_bearing"}),
        ("oil_condition", {"oil_condition": "metal"}, {"renew_bearing"}),
        ("shaft_end", {"shaft_end": "short", "seated": "home"}, {"renew_shaft", "exchange_unit"}),
    ],
)
def test_any_one_of_what_cures_a_finding_is_enough(check, seen, expected):
    (names,) = needed(check, **seen)
    assert names == expected


@pytest.mark.parametrize(
    ("check", "seen", "asked"),
    [
        ("shaft_end", {"shaft_end": "short", "seated": "home"}, True),
        ("shaft_end", {"shaft_end": "short", "seated": "short"}, False),
        ("shaft_end", {"shaft_end": "short"}, False),
        ("shaft_end", {"shaft_end": "reaches", "seated": "home"}, False),
        ("engagement_mm", {"engagement_mm": "50", "seated": "home"}, True),
        ("engagement_mm", {"engagement_mm": "50"}, False),
        ("engagement_mm", {"engagement_mm": "100", "seated": "home"}, False),
        ("oil_condition", {"oil_condition": "metal"}, True),
        ("oil_condition", {"oil_condition": "water"}, False),
        ("retention", {"retention": "loose", "seated": "home"}, False),
        ("breather", {"breather": "plugged", "seated": "home"}, False),
    ],
)
def test_where_only_a_part_cures(check, seen, asked):
    unit = {"mounting": "keyed_bore", "required_engagement_mm": "100"}
    known = Book().unit(**unit).look("2024-01-02", **seen).known(DAY)
    assert needs_a_part(known, check).tolist() == [asked]
