"""A unit seen home: what is short then is its shaft's, and pushing it home cures nothing."""

from dataclasses import replace

import pandas as pd
import pytest
from fleets import Book

from scoring.timeline.needs_a_part import needs_a_part, seen_at_home
from scoring.timeline.what_hanging_does import OF_SHAFT_AT_HOME, at_home_column

AS_OF = pd.Timestamp("2024-06-30")


def known_of(**seen):
    book = Book().unit("U1").unit("U2").look("2024-01-02", "U1", **seen)
    return book.timeline().known(AS_OF)


@pytest.mark.parametrize("check", sorted(OF_SHAFT_AT_HOME))
@pytest.mark.parametrize(("seated", "home"), [("home", True), ("short", False), ("", False)])
def test_without_a_history_it_is_what_stands_of_the_seat(check, seated, home):
    known = known_of(seated=seated, engagement_mm="60", shaft_end="short")
    assert seen_at_home(known, check).tolist() == [home, False]
    columns = [at_home_column(one) for one in OF_SHAFT_AT_HOME]
    bare = replace(known, history=known.history.drop(columns=columns))
    assert seen_at_home(bare, check).tolist() == [home, False]
    nothing = replace(bare, exceedance=bare.exceedance.drop(columns="seated"))
    assert seen_at_home(nothing, check).tolist() == [False, False]


@pytest.mark.parametrize(
    ("seated", "parts"), [("home", {"engagement_mm", "shaft_end"}), ("", set())]
)
def test_what_is_short_of_a_unit_seen_home_needs_a_part_and_damage_always_does(seated, parts):
    known = known_of(
        seated=seated,
        engagement_mm="60",
        shaft_end="short",
        oil_condition="metal",
        bore_condition="oil_film",
    )
    needs = pd.DataFrame(needs_a_part(known), columns=known.exceedance.columns)
    assert set(needs.columns[needs.iloc[0]]) == parts | {"oil_condition"}
    assert not needs.iloc[1].any()
