"""Where metal touches, and which seal it is: what was written down last, as long as it stands."""

import pandas as pd
import pytest
from fleets import Book


def detail(book: Book, name: str, as_of: str) -> object:
    said = book.known(as_of).history[name].iloc[0]
    return None if pd.isna(said) else said


def touching() -> Book:
    return Book().unit().look("2024-02-01", contact_at="motor;guard")


@pytest.mark.parametrize(
    ("as_of", "expected"), [("2024-01-31", None), ("2024-02-01", "motor;guard")]
)
def test_a_place_is_known_from_the_day_it_was_seen(as_of, expected):
    assert detail(touching(), "contact_at", as_of) == expected


def test_a_blank_erases_no_place_and_a_later_one_takes_its_place():
    book = touching().look("2024-03-01", metal_contact="yes")
    assert detail(book, "contact_at", "2024-03-02") == "motor;guard"
    assert detail(book.look("2024-04-01", contact_at="housing"), "contact_at", "2024-05-01") == (
        "housing"
    )


def test_a_place_goes_with_a_good_look_and_does_not_come_back():
    book = touching().look("2024-03-01", metal_contact="no")
    assert detail(book, "contact_at", "2024-03-02") is None
    again = book.look("2024-04-01", metal_contact="yes")
    assert detail(again, "contact_at", "2024-04-02") is None


@pytest.mark.parametrize(
    ("actions", "expected"),
    [
        ("restore_clearance", None),
        ("restore_isolation", None),
        ("open_breather", "motor;guard"),
        ("reseat_on_shaft", "motor;guard"),
    ],
)
def test_a_place_goes_with_the_cure_of_contact_and_with_no_other_work(actions, expected):
    book = touching().reworked("2024-03-01", actions)
    assert detail(book, "contact_at", "2024-03-02") == expected


def test_the_side_of_a_seal_stands_until_it_is_renewed_or_all_of_it_is_seen_good():
    book = Book().unit().look("2024-02-01", seal_lip="painted", seal_side="outboard")
    book = book.look("2024-02-10", seal_weep="dry")
    assert detail(book, "seal_side", "2024-02-11") == "outboard"
    assert detail(book.look("2024-02-20", seal_lip="clean"), "seal_side", "2024-02-21") is None
    weeping = Book().unit().look("2024-02-01", seal_weep="damp", seal_side="inboard")
    assert detail(weeping, "seal_side", "2024-02-02") == "inboard"
    renewed = weeping.reworked("2024-03-01", "renew_seal", seal_side="inboard")
    assert detail(renewed, "seal_side", "2024-03-02") is None


def test_what_was_written_down_late_is_known_late():
    book = Book().unit().look("2024-02-01", contact_at="motor", recorded_at="2024-06-01")
    assert detail(book, "contact_at", "2024-03-01") is None
    assert detail(book, "contact_at", "2024-06-01") == "motor"
