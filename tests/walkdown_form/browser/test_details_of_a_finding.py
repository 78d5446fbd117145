"""Beside a finding the form asks where it is; a count is held against what the unit has."""

from pathlib import Path

import pytest
from phone import Phone, steps_seen, walkdowns_in

pytestmark = pytest.mark.browser


def answers_in(phone: Phone, unit: dict, folder: Path) -> dict[str, str]:
    phone.go("#/")
    kept = walkdowns_in(phone.copy(folder))[unit["unit_id"]]
    return {one["field"]: one["value"] for one in kept["answers"]}


def test_places_of_contact_are_tapped_beside_it_and_go_with_it(phone: Phone, form, tmp_path: Path):
    unit = form["units"][0]
    phone.begin(unit["unit_id"], "stopped")
    phone.go(f"#/{unit['unit_id']}/check/metal_contact")
    phone.tap("answer=no")
    assert not phone.has("contact_at=motor")
    phone.tap("answer=yes")
    for place in ("motor", "arm_bracket", "guard", "guard"):
        phone.tap(f"contact_at={place}")
    taken = phone.page.locator('[aria-pressed="true"][data-key^="contact_at"]')
    assert [one.get_attribute("data-key") for one in taken.all()] == [
        "contact_at=arm_bracket",
        "contact_at=motor",
    ]
    answers = answers_in(phone, unit, tmp_path)
    assert (answers["metal_contact"], answers["contact_at"]) == ("yes", "arm_bracket;motor")

    phone.go(f"#/{unit['unit_id']}/check/metal_contact")
    phone.tap("answer=no")
    answers = answers_in(phone, unit, tmp_path)
    assert (answers["metal_contact"], answers.get("contact_at", "")) == ("no", "")


def test_more_screws_than_there_are_are_not_taken(phone: Phone, form):
    unit = next(
        unit
        for unit in form["units"]
        for step in unit["steps"]
        if step["check"] == "screws_low" and step["allowed"]["maximum"] is not None
    )
    there = next(s for s in unit["steps"] if s["check"] == "screws_low")["allowed"]["maximum"]
    phone.begin(unit["unit_id"], "stopped")
    phone.go(f"#/{unit['unit_id']}/check/screws_low")
    phone.write("answer", f"{there + 1:g}")
    phone.tap("next")
    assert f"Allowed: a whole number from 0 to {there:g}." in phone.words
    phone.write("answer", "2")
    phone.tap("next")
    phone.tap("confirm")
    phone.go(f"#/{unit['unit_id']}/check/screws_missing")
    phone.write("answer", "3")
    phone.tap("next")
    assert "3 cannot be: screws low or missing: 2." in phone.words
    assert not phone.has("confirm")


@pytest.mark.parametrize(("kind", "asked"), [("post_install", False), ("after_start", True)])
def test_screws_are_asked_about_again_once_the_unit_has_run(phone: Phone, form, kind, asked):
    unit = next(unit for unit in form["units"] if unit["mounting"] == "shrink_disc")
    phone.begin(unit["unit_id"], "stopped", kind=kind)
    phone.tap("to-list")
    assert phone.has("check=screws_rechecked") is asked
    listed = phone.page.locator(".row.check").count()
    assert listed == len(steps_seen(unit, {"S"}, kind))
