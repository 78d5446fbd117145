"""A number is taken, asked about or refused, in words; never guessed, never taken unseen."""

import pytest
from phone import Phone, steps_seen

pytestmark = pytest.mark.browser


@pytest.fixture
def at_the_clearance(phone: Phone, form) -> Phone:
    """Stand at the smallest clearance: good from 3 mm, hardly over 500 mm."""
    unit = form["units"][0]
    phone.begin(unit["unit_id"], "stopped")
    phone.tap("to-list")
    phone.tap("check=smallest_clearance_mm")
    return phone


def standing(phone: Phone) -> str | None:
    unit = phone.page.url.split("#")[1].split("/check")[0]
    phone.go(f"#{unit}/list")
    row = phone.find("check=smallest_clearance_mm")
    row.wait_for()
    return row.get_attribute("data-standing")


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("12,5", "write 12.5"),
        ("1,200", "write 1.200 or 1200"),
        ("-3", "cannot be"),
        ("12 mm", "number alone: 12"),
        ("about ten", "not a number"),
        ("1/2", "inches only"),
        ("1e3", "not a number"),
        ("NaN", "not a number"),
        ("1.2.3", "not a number"),
    ],
)
def test_what_cannot_be_is_refused_in_words(at_the_clearance: Phone, typed: str, words: str):
    phone = at_the_clearance
    phone.write("answer", typed)
    before = phone.page.url
    phone.tap("next")
    assert phone.page.url == before
    assert words in phone.words
    assert not phone.has("confirm")
    assert standing(phone) == "typed"


@pytest.mark.parametrize(
    ("typed", "words"),
    [("900", "Likely is at most 500 mm"), ("1.5", "Good is at least 3 mm")],
)
def test_what_is_odd_counts_once_it_is_confirmed(at_the_clearance: Phone, typed: str, words: str):
    phone = at_the_clearance
    phone.write("answer", typed)
    phone.tap("next")
    assert f"Is {typed} mm right?" in phone.words
    assert words in phone.words
    assert standing(phone) == "typed"
    phone.tap("check=smallest_clearance_mm")
    phone.tap("confirm")
    assert standing(phone) == "answered"


def test_what_is_changed_after_the_question_is_what_counts(at_the_clearance: Phone):
    phone = at_the_clearance
    phone.write("answer", "900")
    phone.tap("next")
    phone.tap("change")
    phone.page.keyboard.type("90")
    phone.tap("next")
    phone.tap("back")
    assert phone.find("answer").input_value() == "90"
    assert standing(phone) == "answered"


def test_inches_are_kept_as_typed_and_shown_in_millimetres(at_the_clearance: Phone):
    phone = at_the_clearance
    phone.tap("unit=smallest_clearance_in")
    phone.find("answer").press_sequentially("2")
    phone.tap("key=space")
    phone.page.keyboard.type("15")
    phone.tap("key=/")
    phone.page.keyboard.type("16")
    phone.wait_for("74.61 mm")
    phone.tap("next")
    phone.tap("to-list")
    assert "2 15/16 in" in phone.find("check=smallest_clearance_mm").inner_text()


def test_a_touch_is_a_hold_at_once(at_the_clearance: Phone):
    phone = at_the_clearance
    phone.write("answer", "0")
    phone.tap("next")
    phone.tap("confirm")
    assert "■ Hold" in phone.words
    assert phone.page.locator(".response.hold").is_visible()


def test_a_hold_asks_who_was_told(phone: Phone, form):
    unit = form["units"][0]
    phone.begin(unit["unit_id"], "stopped")
    step = next(
        step
        for step in steps_seen(unit, {"S"})
        if any(one["severity"] == "hold" for one in step["options"])
    )
    worst = next(one for one in step["options"] if one["severity"] == "hold")
    phone.tap("to-list")
    phone.tap(f"check={step['check']}")
    phone.tap(f"answer={worst['value']}")
    assert "■ Hold" in phone.words
    assert worst["do"].lower() in phone.words.lower()
    phone.tap("to-list")
    phone.tap("to-end")
    phone.tap("sign")
    assert "say who was told" in phone.words
    phone.write("told", "shift lead")
    phone.tap("sign")
    assert phone.title == "Signed"
    assert "Told: shift lead" in phone.words


def test_what_is_only_typed_is_kept_but_not_said_to_be_saved(phone: Phone, form):
    unit = form["units"][0]
    phone.tap(f"unit={unit['unit_id']}")
    phone.write("inspector", "Kim A")
    phone.page.reload()
    phone.page.wait_for_selector("h1")
    assert phone.find("inspector").input_value() == "Kim A"
    assert "saved" not in phone.state
