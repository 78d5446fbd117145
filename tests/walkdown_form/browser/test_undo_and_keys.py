"""The last answer can be undone; keys alone go through the walk; reasons fit what is looked at."""

import pytest
from phone import Phone

pytestmark = pytest.mark.browser


def unit_of(form, mounting="keyed_bore"):
    return next(one for one in form["units"] if one["mounting"] == mounting)


def focused(phone: Phone) -> str:
    return phone.page.evaluate("document.activeElement.dataset.key || ''")


def pressed(phone: Phone, key: str) -> bool:
    return phone.find(key).get_attribute("aria-pressed") == "true"


def test_the_last_answer_is_undone_where_one_is_and_from_the_next_check(phone: Phone, form):
    unit = unit_of(form)["unit_id"]
    phone.begin(unit, "stopped")
    phone.go(f"#/{unit}/check/oil_level")
    assert not phone.has("undo")
    phone.tap("answer=right")
    phone.tap("answer=low")
    phone.tap("undo")
    assert pressed(phone, "answer=right")
    assert not phone.has("undo")
    phone.tap("reason=no_access")
    phone.tap("next")
    assert phone.title != "Oil level"
    phone.tap("undo")
    phone.until(lambda: phone.title == "Oil level")
    assert pressed(phone, "answer=right")
    assert not pressed(phone, "reason=no_access")


def test_an_undone_finding_takes_its_details_along_and_a_number_comes_back(phone: Phone, form):
    unit = unit_of(form)["unit_id"]
    phone.begin(unit, "stopped")
    phone.go(f"#/{unit}/check/metal_contact")
    phone.tap("answer=yes")
    detail = next(
        one["details"][0] for one in unit_of(form)["steps"] if one["check"] == "metal_contact"
    )
    place = detail["options"][0]["value"]
    phone.tap(f"{detail['name']}={place}")
    phone.tap("answer=no")
    phone.tap("undo")
    assert pressed(phone, "answer=yes")
    assert pressed(phone, f"{detail['name']}={place}")


def test_machine_running_is_no_reason_for_what_is_seen_only_while_it_runs(phone: Phone, form):
    unit = unit_of(form)
    running = next(one["check"] for one in unit["steps"] if one["seen"] == "R")
    phone.begin(unit["unit_id"], "running")
    phone.go(f"#/{unit['unit_id']}/check/{running}")
    assert phone.has("reason=no_access")
    assert not phone.has("reason=running")
    phone.go(f"#/{unit['unit_id']}/check/oil_level")
    assert phone.has("reason=running")


def test_keys_alone_go_from_answer_to_answer(phone: Phone, form):
    unit = unit_of(form)["unit_id"]
    phone.tap(f"unit={unit}")
    phone.tap("kind=post_install")
    phone.tap("machine_state=stopped")
    phone.write("inspector", "Kim Aster")
    phone.find("begin").focus()
    for _ in range(2):
        before = phone.title
        phone.page.keyboard.press("Enter")
        phone.until(lambda before=before: phone.title != before)
        assert focused(phone).startswith("answer"), phone.title
        if focused(phone) == "answer":
            break  # a number is typed there
        phone.page.keyboard.press("Enter")
        assert pressed(phone, focused(phone))


def test_who_taps_is_left_at_the_heading_and_a_redraw_does_not_lose_it(phone: Phone, form):
    unit = unit_of(form)["unit_id"]
    phone.begin(unit, "stopped")
    phone.until(lambda: focused(phone) == "heading")
    phone.page.evaluate("matchMedia('x')")
    phone.page.emulate_media(color_scheme="dark")  # draws the screen anew
    phone.page.wait_for_timeout(100)
    assert focused(phone) == "heading"


def test_what_has_the_focus_is_never_behind_the_bar(phone: Phone, form):
    unit = unit_of(form)["unit_id"]
    phone.begin(unit, "stopped")
    phone.go(f"#/{unit}/check/oil_level")
    phone.find("heading").focus()
    seen = []
    for _ in range(12):
        phone.page.keyboard.press("Tab")
        phone.page.wait_for_timeout(50)
        box = phone.page.evaluate(
            "() => { const at = document.activeElement, box = at.getBoundingClientRect();"
            " return [at.dataset.key || '', Boolean(at.closest('footer')), box.top, box.bottom,"
            " document.querySelector('header').getBoundingClientRect().bottom,"
            " document.querySelector('footer').getBoundingClientRect().top]; }"
        )
        key, in_bar, top, bottom, head, bar = box
        seen.append(key)
        assert in_bar or (top >= head - 1 and bottom <= bar + 1), box
        if in_bar:
            break
    assert "reason=not_asked" in seen
