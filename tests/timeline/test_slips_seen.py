"""A witness mark seen moved is a slip of that day, until the seat was seen or the shaft is new."""

import pandas as pd
from fleets import Book

MARK = {"kind": "periodic", "witness_mark": "moved"}


def slips(book: Book, as_of: str = "2025-01-01") -> list[tuple[int, str, str]]:
    """Return unit, day and end of each slip, blank where it stands."""
    seen = book.timeline().slips_seen(pd.Timestamp(as_of))
    days = (seen[column].astype("str").fillna("") for column in ("day", "ended_on"))
    return list(zip(seen["unit"], *days, strict=True))


def test_the_first_look_counts_and_stands() -> None:
    book = Book().unit().look("2024-06-01", **MARK).look("2024-07-01", **MARK)
    assert slips(book) == [(0, "2024-06-01", "")]
    assert slips(book, "2024-05-31") == []


def test_a_mark_in_line_tells_of_none() -> None:
    assert slips(Book().unit().look("2024-06-01", kind="periodic", witness_mark="in_line")) == []


def test_it_ends_when_the_seat_was_seen_and_the_next_one_is_another() -> None:
    book = Book().unit().look("2024-06-01", **MARK).look("2024-06-10", shaft_seat="worn")
    assert slips(book) == [(0, "2024-06-01", "2024-06-10")]
    again = book.look("2024-08-01", **MARK)
    assert slips(again) == [(0, "2024-06-01", "2024-06-10"), (0, "2024-08-01", "")]


def test_a_new_shaft_ends_it_and_cleaning_alone_does_not() -> None:
    book = Book().unit().look("2024-06-01", **MARK).reworked("2024-06-10", "clean_and_refit")
    assert slips(book) == [(0, "2024-06-01", "")]
    assert slips(book.reworked("2024-06-20", "renew_shaft")) == [(0, "2024-06-01", "2024-06-20")]


def test_a_new_shaft_ends_it_from_the_very_day_on_and_not_before() -> None:
    book = Book().unit().look("2024-06-01", **MARK).reworked("2024-06-20", "renew_shaft")
    assert slips(book, "2024-06-19") == [(0, "2024-06-01", "")]
    assert slips(book, "2024-06-20") == [(0, "2024-06-01", "2024-06-20")]


def test_an_event_tells_of_it_that_day_and_ends_it_later() -> None:
    told = Book().unit().failed("2024-06-01", "joint_slip").look("2024-06-01", **MARK)
    assert slips(told) == []
    later = Book().unit().look("2024-06-01", **MARK).failed("2024-06-20", "joint_slip")
    assert slips(later) == [(0, "2024-06-01", "2024-06-20")]


def test_units_are_kept_apart_and_late_records_count_once_written() -> None:
    book = Book().unit("U1").unit("U2")
    book.look("2024-06-01", "U1", **MARK).look("2024-06-05", "U2", shaft_seat="sound")
    book.look("2024-06-09", "U2", recorded_at="2024-09-01", **MARK)
    assert slips(book) == [(0, "2024-06-01", ""), (1, "2024-06-09", "")]
    assert slips(book, "2024-08-31") == [(0, "2024-06-01", "")]
