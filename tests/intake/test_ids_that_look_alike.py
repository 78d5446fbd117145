"""Ids that look the same and are not, and ids that only seem to."""

import pytest
from given_tables import UNIT, WALKDOWN, check, good

TWINS = [
    ("\u0421H-1", "CH-1", "CYRILLIC CAPITAL LETTER ES (U+0421)"),
    ("\u039a-1", "K-1", "GREEK CAPITAL LETTER KAPPA (U+039A)"),
    ("K\u20131", "K-1", "EN DASH (U+2013)"),
    ("K\u2212\u0031", "K-1", "MINUS SIGN (U+2212)"),
    ("\uff2b-1", "K-1", "FULLWIDTH LATIN CAPITAL LETTER K (U+FF2B)"),
    ("K\u00a01", "K 1", "NO-BREAK SPACE (U+00A0)"),
    ("A\u0308-1", "\u00c4-1", "COMBINING DIAERESIS (U+0308)"),
    ("K\u20441", "K/1", "FRACTION SLASH (U+2044)"),
]


@pytest.mark.parametrize(("one", "other", "by"), TWINS)
def test_both_rows_are_faulty_and_each_names_the_other(one: str, other: str, by: str) -> None:
    faults = check(units=[{**UNIT, "unit_id": one}, {**UNIT, "unit_id": other}]).faults
    faults = faults[faults["table"] == "units"]
    assert faults["value"].tolist() == [one, other]
    first, second = faults["wrong"]
    assert first.startswith(f"looks the same as {other!r} in row 3 of ")
    assert second.startswith(f"looks the same as {one!r} in row 2 of ")
    assert by in first


@pytest.mark.parametrize(
    "ids",
    [
        ("O-1", "0-1"),  # both are usual, and a person sees to it
        ("l-1", "I-1"),
        ("A-1", "\u00c4-1"),
        ("u-1", "U-1"),
        ("\u0421\u041d-1", "\u0421\u041d-2"),
        ("\u0645\u06cc\u200c\u0631\u0648\u062f", "U-1"),  # a joiner is part of such a word
    ],
)
def test_ids_that_a_person_tells_apart_are_two(ids: tuple[str, str]) -> None:
    fleet = good(
        units=[{**UNIT, "unit_id": one} for one in ids],
        walkdowns=[{**WALKDOWN, "unit_id": ids[0]}],
    ).fleet
    assert fleet.units["unit_id"].tolist() == list(ids)


@pytest.mark.parametrize("letter", "\u200b\u2060\ufeff\u202e\u2066\x07\x7f\u00ad\ufe0f\u3164")
@pytest.mark.parametrize("column", ["unit_id", "asset_id"])
def test_what_nobody_sees_is_no_part_of_an_id(letter: str, column: str) -> None:
    faults = check(units={**UNIT, column: f"K{letter}7"}).faults
    fault = faults[faults["table"] == "units"].iloc[0]
    assert fault["column"] == column
    assert fault["wrong"].startswith("holds a character that nobody sees, ")
    assert f"(U+{ord(letter):04X}), and so is another id than 'K7'" in fault["wrong"]


def test_one_reducer_under_two_spellings_is_told() -> None:
    units = [
        {**UNIT, "asset_id": "G-1"},
        {**UNIT, "unit_id": "U-2", "asset_id": "G\u20111"},
    ]
    faults = check(units=units).faults
    assert set(faults[faults["table"] == "units"]["column"]) == {"asset_id"}


def test_a_note_may_say_what_it_likes() -> None:
    notes = "\u0421 \u200b\u202e \u2013"
    fleet = good(units=UNIT, walkdowns={**WALKDOWN, "notes": notes}).fleet
    assert fleet.walkdowns["notes"].tolist() == [notes]
