"""By when a unit is to be looked at again; days reckoned by hand."""

import pandas as pd
from fleets import Book

from scoring.assessment import FleetAssessor
from scoring.looking.next_look import NextLook, next_look

GOOD = {"shaft_end": "reaches", "key_condition": "right", "oil_level": "right", "guard": "fitted"}


def of(book, day, unit_id="U1"):
    return next_look(FleetAssessor(book.fleet()).judge(pd.Timestamp(day)).known, unit_id)


def test_what_was_seen_good_is_to_be_seen_again_after_730_days():
    book = Book().unit("U1", mounting="keyed_bore").look("2024-01-02", "U1", **GOOD)
    found = of(book, "2024-02-01")
    assert found.by == pd.Timestamp("2026-01-01")
    assert "shaft end" in found.checks


def test_the_check_that_was_seen_longest_ago_comes_first():
    book = Book().unit("U1", mounting="keyed_bore").look("2024-01-02", "U1", guard="fitted")
    book.look("2024-03-05", "U1", shaft_end="reaches")
    assert of(book, "2024-04-01") == NextLook(pd.Timestamp("2026-01-01"), ("guard",))


def test_where_nothing_was_seen_or_what_was_seen_is_not_good_no_day_is_named():
    book = Book().unit("U1", mounting="keyed_bore").unit("U2", mounting="keyed_bore")
    book.look("2024-01-02", "U2", guard="missing")
    assert of(book, "2024-02-01") is None
    assert of(book, "2024-02-01", "U2") is None
