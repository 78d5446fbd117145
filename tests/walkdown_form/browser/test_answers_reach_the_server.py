"""Online: each answer goes to the server at once, or waits, and nothing is lost on the way."""

import io
from collections.abc import Iterator

import pytest
from fake_walkdown_server import API, AT, FakeServer
from phone import Phone, settings_of, steps_seen
from PIL import Image

from scoring.walkdown_form.page.page import online_page

pytestmark = pytest.mark.browser

HEADS = {
    "kind": "periodic",
    "machine_state": "stopped",
    "inspected_on": "2026-06-01",
    "inspector": "Kim Aster",
    "units_of_measure": "metric",
}


def kept(name: str, value: str, revision: int = 1, by: str = "Kim Aster") -> dict:
    return {
        "heading": name, "value": value, "reason": "", "revision": revision, "by": by,
        "at": AT, "client": "elsewhere",
    }  # fmt: skip


@pytest.fixture
def unit(form) -> dict:
    return form["units"][0]


@pytest.fixture
def server(form, unit) -> Iterator[FakeServer]:
    running = FakeServer()
    draft = running.draft
    draft.unit_id = unit["unit_id"]
    draft.answers = {name: kept(name, value) for name, value in HEADS.items()}
    draft.verdict = {
        "verdict": "watch", "verdict_words": "watch", "holds": [], "corrects": [],
        "not_seen": [], "faults": [],
    }  # fmt: skip
    one = {**form, "units": [unit]}
    draft.page = online_page(one, draft.as_dict(), API)
    yield running
    running.stop()


@pytest.fixture
def online(browser, server: FakeServer) -> Iterator[Phone]:
    context = browser.new_context(**settings_of(390))
    opened = Phone(context.new_page())
    opened.open(server.page)
    opened.go("#/x/list")
    yield opened
    complaints = list(opened.complaints)  # the browser itself complains on closing
    context.close()
    assert {one.split("/")[2] for one in opened.asked} == {server.address.split("/")[2]}
    assert complaints == []


def first_step(unit: dict) -> dict:
    return next(one for one in steps_seen(unit, {"S"}) if one["options"])


def at_first_step(phone: Phone, unit: dict) -> str:
    check = first_step(unit)["check"]
    phone.tap(f"check={check}")
    return check


def last_put(server: FakeServer) -> dict:
    return [body for method, _, body in server.draft.asked if method == "PUT"][-1]


def test_a_tap_is_sent_at_once_and_then_said_to_be_saved(online, server, unit):
    check = at_first_step(online, unit)
    worst = first_step(unit)["options"][-1]["value"]
    online.tap(f"answer={worst}")
    online.wait_until_saved()
    sent = last_put(server)
    assert server.draft.answers[check]["value"] == worst
    assert sent.pop("client")
    assert sent == {
        "heading": check, "value": worst, "reason": "", "by": "Kim Aster", "base_revision": 0,
    }  # fmt: skip
    online.tap("take-back")
    online.until(lambda: server.draft.answers[check]["revision"] == 2)
    assert last_put(server)["base_revision"] == 1


def test_without_connection_answers_wait_survive_and_are_sent(online, server, unit):
    check = at_first_step(online, unit)
    server.draft.cut_off = True
    online.tap("reason=no_access")
    online.until(lambda: "not saved yet (1): no connection, will be sent" in online.state)
    assert check not in server.draft.answers
    online.page.reload()
    online.page.wait_for_selector("h1")
    assert online.find("reason=no_access").get_attribute("aria-pressed") == "true"
    online.until(lambda: "not saved yet (1)" in online.state)
    server.draft.cut_off = False
    online.page.evaluate("() => window.dispatchEvent(new Event('online'))")
    online.wait_until_saved()
    assert server.draft.answers[check]["reason"] == "no_access"


def test_an_answer_given_while_another_waits_is_the_one_that_counts(online, server, unit):
    check = at_first_step(online, unit)
    server.draft.cut_off = True
    online.tap("reason=no_access")
    online.until(lambda: "not saved yet" in online.state)
    online.tap("reason=running")
    server.draft.cut_off = False
    online.wait_until_saved()  # tried again by itself
    assert server.draft.answers[check]["reason"] == "running"
    assert server.draft.answers[check]["revision"] == 1


def test_an_answer_whose_receipt_was_lost_is_no_conflict(online, server, unit):
    check = at_first_step(online, unit)
    server.draft.lose_next_answer = True
    online.tap("reason=no_access")
    online.until(lambda: check in server.draft.answers)
    online.tap("reason=running")
    online.wait_until_saved()
    assert server.draft.answers[check]["reason"] == "running"
    assert not online.has(f"stands-mine={check}")


@pytest.mark.parametrize("mine", [True, False])
def test_two_answers_are_shown_and_one_is_chosen(online, server, unit, mine: bool):
    check = at_first_step(online, unit)
    options = first_step(unit)["options"]
    theirs, own = options[0]["value"], options[-1]["value"]
    server.draft.answers[check] = kept(check, theirs, revision=4, by="Lee Birch")
    online.tap(f"answer={own}")
    online.find(f"stands-mine={check}").wait_for()
    assert "Lee Birch" in online.words
    assert "not saved" in online.state
    online.tap(f"stands-{'mine' if mine else 'theirs'}={check}")
    online.until(lambda: not online.has(f"stands-mine={check}"))
    online.wait_until_saved() if mine else None
    stands = own if mine else theirs
    assert online.find(f"answer={stands}").get_attribute("aria-pressed") == "true"
    assert server.draft.answers[check]["value"] == stands


def test_a_conflict_is_told_wherever_one_is(online, server, unit):
    check = at_first_step(online, unit)
    server.draft.answers[check] = kept(check, "home", revision=4, by="Lee Birch")
    server.draft.answers[check]["value"] = first_step(unit)["options"][0]["value"]
    online.tap("reason=no_access")
    online.find(f"stands-mine={check}").wait_for()
    online.tap("to-list")
    online.tap("to-conflict")
    assert online.title == "Answered twice"
    online.tap(f"stands-mine={check}")
    online.wait_until_saved()
    assert server.draft.answers[check]["reason"] == "no_access"


def test_what_the_server_refuses_is_said_where_it_was_given(online, server, unit):
    check = at_first_step(online, unit)
    server.draft.refuse[check] = "not at this unit"
    online.tap("reason=no_access")
    online.wait_for("Not saved: not at this unit")
    assert "not saved" in online.state
    del server.draft.refuse[check]
    online.tap("reason=running")
    online.wait_until_saved()


def test_a_closed_walkdown_takes_no_more_and_says_so(online, server, unit):
    at_first_step(online, unit)
    server.draft.status = "discarded"
    online.tap("reason=no_access")
    online.wait_for("this walkdown was discarded")
    assert online.title == "No longer open"
    assert "1 answer of this device did not get there" in online.words


def test_who_else_is_here_and_what_they_answered_is_shown(online, server, unit):
    check = first_step(unit)["check"]
    server.draft.others = [
        {"name": "Lee Birch", "since": AT, "draft_id": "d-2", "same_draft": False}
    ]
    server.draft.answers[check] = kept(check, first_step(unit)["options"][0]["value"])
    online.page.evaluate("() => document.dispatchEvent(new Event('visibilitychange'))")
    online.wait_for("Lee Birch is also at this unit")
    row = online.find(f"check={check}")
    online.until(lambda: row.get_attribute("data-standing") == "answered")


def test_photos_are_sent_and_taken_back(online, server, unit):
    check = at_first_step(online, unit)
    made = io.BytesIO()
    Image.new("RGB", (2400, 1000), "grey").save(made, "JPEG")
    photo = {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": made.getvalue()}
    server.draft.cut_off = True
    online.find("photo").set_input_files(photo)
    online.until(lambda: "not saved yet (1)" in online.state)
    online.page.reload()
    online.page.locator("figure img").wait_for()
    server.draft.cut_off = False
    online.page.evaluate("() => window.dispatchEvent(new Event('online'))")
    online.wait_until_saved()
    ((key, sent),) = server.draft.photos.items()
    assert sent["check"] == check
    assert sent["by"] == "Kim Aster"
    with Image.open(io.BytesIO(sent["image"])) as image:
        assert max(image.size) == 1600
    online.page.reload()
    image = online.page.locator("figure img")
    image.wait_for()
    assert key in image.get_attribute("src")
    online.until(lambda: image.evaluate("one => one.naturalWidth") == 1600)
    online.page.locator("figure button").tap()
    online.until(lambda: not server.draft.photos)


def test_the_verdict_comes_from_the_server_and_a_hold_asks_who_was_told(online, server):
    server.draft.verdict |= {
        "verdict": "hold",
        "verdict_words": "hold: do not run",
        "holds": [{"what": "no guard", "do": "fit it"}],
        "corrects": [{"what": "oil low", "do": "top up"}],
    }
    online.tap("to-end")
    online.wait_for("hold: do not run")
    for words in ("No guard", "Fit it", "Oil low", "Top up"):
        assert words in online.words
    online.tap("sign")
    assert "say who was told" in online.words
    online.write("told", "shift lead")
    server.draft.lose_next_answer = True
    online.tap("sign")
    online.wait_for("No connection: not signed yet")
    assert online.find("told").input_value() == "shift lead"
    online.tap("sign")
    online.until(lambda: online.title == "Signed")
    assert server.draft.signed[-1] == {
        "signed_by": "Kim Aster", "told": "shift lead", "reason": "",
    }  # fmt: skip
    own_page = online.page.get_by_role("link", name="To the page of this unit")
    assert own_page.get_attribute("href") == "/unit?unit=one"
    assert online.page.get_by_role("link", name="Today").get_attribute("href") == "/today"


def test_faults_lead_to_where_they_are(online, server, unit):
    check = first_step(unit)["check"]
    server.draft.submit_faults = [{"field": check, "words": "cannot be at this unit"}]
    online.tap("to-end")
    online.wait_for("watch")
    online.tap("sign")
    online.wait_for("Cannot be at this unit")
    online.tap("fault=0")
    assert online.title.lower() == first_step(unit)["label"].lower()


def test_nothing_is_signed_while_something_waits(online, server, unit):
    at_first_step(online, unit)
    server.draft.cut_off = True
    online.tap("reason=no_access")
    online.tap("to-list")
    online.tap("to-end")
    online.tap("sign")
    assert "not signed" in online.words
    assert server.draft.signed == []


def test_oneself_is_nobody_else(online, server):
    server.draft.others = [
        {"name": name, "since": AT, "draft_id": "d-1", "same_draft": True}
        for name in ("Kim Aster", "Lee Birch")
    ]
    online.page.evaluate("() => document.dispatchEvent(new Event('visibilitychange'))")
    online.wait_for("Lee Birch is also at this unit")
    assert "Kim Aster is also" not in online.words


def test_who_began_several_walkdowns_here_is_named_once(online, server):
    server.draft.others = [
        {"name": "Lee Birch", "since": AT, "draft_id": f"d-{k}", "same_draft": False}
        for k in range(2, 11)
    ]
    online.page.evaluate("() => document.dispatchEvent(new Event('visibilitychange'))")
    online.wait_for("Lee Birch is also at this unit")
    assert online.words.count("Lee Birch is also at this unit") == 1


def test_an_answer_waits_for_a_name(form, browser, server, unit):
    server.draft.answers = {}
    server.draft.page = online_page({**form, "units": [unit]}, server.draft.as_dict(), API)
    context = browser.new_context(**settings_of(390))
    phone = Phone(context.new_page())
    phone.open(server.page)
    phone.tap("kind=periodic")
    phone.until(lambda: "not saved yet (1): write your name" in phone.state)
    assert server.draft.answers == {}
    phone.write("inspector", "Kim Aster")
    phone.tap("machine_state=stopped")
    phone.tap("begin")
    phone.wait_until_saved()
    assert {one["by"] for one in server.draft.answers.values()} == {"Kim Aster"}
    assert set(server.draft.answers) == set(HEADS)
    context.close()


def test_notes_just_typed_are_sent_before_the_signature(online, server):
    online.tap("to-end")
    online.wait_for("watch")
    online.write("notes", "rubber new")
    online.tap("sign")
    online.until(lambda: online.title == "Signed")
    assert server.draft.answers["notes"]["value"] == "rubber new"


def test_a_correction_asks_why(form, browser, server, unit):
    server.draft.corrects = {"walkdown_id": "W-0", "version": 2}
    server.draft.page = online_page({**form, "units": [unit]}, server.draft.as_dict(), API)
    context = browser.new_context(**settings_of(390))
    phone = Phone(context.new_page())
    phone.open(server.page)
    phone.go("#/x/end")
    phone.wait_for("watch")
    phone.tap("sign")
    assert "Say why it is corrected" in phone.words
    phone.write("why it is corrected", "misread")
    phone.tap("sign")
    phone.until(lambda: phone.title == "Signed")
    assert server.draft.signed[-1]["reason"] == "misread"
    context.close()
