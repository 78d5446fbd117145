"""A whole walkdown of each mounting by taps, without a network, and what comes out of it."""

from pathlib import Path

import pandas as pd
import pytest
from phone import Phone, good_value, steps_seen, walkdowns_in

from scoring.files.route_reading import read_route
from scoring.intake import check_fleet

pytestmark = pytest.mark.browser

MOUNTINGS = ("keyed_bore", "tapered_bushing", "shrink_disc", "shrink_disc_support_bushings")


@pytest.mark.slow
@pytest.mark.parametrize("mounting", MOUNTINGS)
def test_what_was_tapped_is_what_is_read(
    phone: Phone, form, records, mounting: str, tmp_path: Path
):
    unit = next(one for one in form["units"] if one["mounting"] == mounting)
    tapped = {}
    phone.begin(unit["unit_id"], "hanging")
    steps = steps_seen(unit, {"H", "S"})
    for place, step in enumerate(steps):
        assert phone.title.lower() == step["label"].lower()
        if place == 3:
            phone.tap("reason=no_access")
            phone.go_on()
            continue
        if place == 9:
            phone.page.reload()  # in the middle
            phone.page.wait_for_selector("h1")
        tapped[step["check"]] = good_value(step)
        phone.give(step, tapped[step["check"]])
        phone.go_on()
    assert "0 open" in phone.words
    phone.write("notes", "rubber new\nsecond line")
    phone.tap("sign")
    assert phone.title == "Signed"
    phone.wait_until_saved()
    phone.tap("to-route")
    copy = phone.copy(tmp_path)

    kept = walkdowns_in(copy)[unit["unit_id"]]
    assert kept["finished"]
    assert kept["signed_by"] == "Kim Aster"
    read = read_route(copy)
    (walkdown,) = read.walkdowns
    assert walkdown.not_seen == {steps[3]["check"]: "no_access"}
    cells = walkdown.cells()
    assert {name: cells[name] for name in tapped} == tapped
    assert cells["kind"] == "post_install"
    assert cells["notes"] == "rubber new\nsecond line"
    assert cells["inspected_on"] == pd.Timestamp.today().strftime("%Y-%m-%d")
    checked = check_fleet({**records, "walkdowns": read.table()}, pd.Timestamp.now())
    assert checked.faults[checked.faults["source"] == copy.name].empty
    (row,) = checked.fleet.walkdowns.to_dict("records")
    numbers = [step["check"] for step in steps if step["kind"] != "choice"]
    assert all(row[name] == float(tapped[name]) for name in numbers if name in tapped)
    assert not set(cells) - set(tapped) - {
        "walkdown_id", "unit_id", "recorded_at", "kind", "inspected_on", "inspector", "notes",
    }  # fmt: skip


@pytest.mark.parametrize("state", ["stopped", "running"])
def test_only_what_can_be_seen_is_asked(phone: Phone, form, state: str):
    unit = form["units"][0]
    phone.begin(unit["unit_id"], state)
    phone.tap("to-list")
    seen = {"stopped": {"S"}, "running": {"R"}}[state]
    listed = phone.page.locator(".row.check strong").all_inner_texts()
    assert [one.lower() for one in listed] == [s["label"].lower() for s in steps_seen(unit, seen)]


def test_nothing_is_answered_by_looking(phone: Phone, form, tmp_path: Path):
    unit = form["units"][0]
    phone.begin(unit["unit_id"], "stopped")
    for _ in steps_seen(unit, {"S"}):
        assert phone.page.locator('[aria-pressed="true"][data-key^="answer"]').count() == 0
        phone.go_on()
    phone.go("#/")
    kept = walkdowns_in(phone.copy(tmp_path))[unit["unit_id"]]
    heads = {"kind", "machine_state", "inspected_on", "inspector", "units_of_measure"}
    assert {one["field"] for one in kept["answers"]} == heads


def test_the_browsers_own_back_loses_nothing(phone: Phone, form, tmp_path: Path):
    unit = form["units"][0]
    steps = steps_seen(unit, {"S"})
    number = next(place for place, step in enumerate(steps) if place and step["kind"] == "number")
    phone.begin(unit["unit_id"], "stopped")
    for step in steps[:number]:
        phone.give(step, good_value(step))
        phone.go_on()
    phone.write("answer", "4321")  # asked about, and not confirmed
    phone.page.go_back()
    assert phone.title.lower() == steps[number - 1]["label"].lower()
    phone.page.go_forward()
    assert phone.find("answer").input_value() == "4321"
    assert "Is 4321" in phone.words
    phone.go("#/")
    kept = walkdowns_in(phone.copy(tmp_path))[unit["unit_id"]]
    assert len(kept["answers"]) == 5 + number


def test_an_answer_can_be_taken_back(phone: Phone, form):
    unit = form["units"][0]
    step = steps_seen(unit, {"S"})[0]
    phone.begin(unit["unit_id"], "stopped")
    phone.tap("reason=no_access")
    phone.tap("take-back")
    assert not phone.has("take-back")
    phone.tap("to-list")
    assert phone.find(f"check={step['check']}").get_attribute("data-standing") == "open"
