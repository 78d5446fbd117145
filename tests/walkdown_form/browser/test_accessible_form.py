"""No screen of the form, and no page around it, has a fault of access that a machine can find.

What is looked for is that of axe-core, of the impact *moderate* and above; in light and dark, on a
phone and on a desk.
"""

import pytest
from fake_walkdown_server import API, AT, FakeServer
from faults_of_access import faults_of_access
from pages_on_a_store import Pages
from phone import Phone, good_value, settings_of, steps_seen

from scoring.walkdown_form.page.page import online_page

pytestmark = [pytest.mark.browser, pytest.mark.slow]

SIZES = [(390, "light"), (390, "dark"), (1280, "light"), (1280, "dark")]
AROUND = [
    "/walkdown/who?to=x",
    "/today",
    "/walkdown",
    "/walkdown/new?unit=SS-017",
    "/walkdown/nothing",
    "/enter/rework?unit=SS-017",
    "/enter/events?unit=SS-017",
    "/enter/accepted?unit=SS-017",
    "/enter/release?unit=SS-017",
]


@pytest.fixture(scope="module", params=SIZES, ids=lambda size: f"{size[0]}-{size[1]}")
def context(browser, request):
    width, scheme = request.param
    phone = settings_of(390, scheme)
    desk = {"viewport": {"width": width, "height": 900}, "color_scheme": scheme, "has_touch": True}
    opened = browser.new_context(**(phone if width == 390 else desk))
    yield opened
    opened.close()


def look(phone: Phone, found: dict[str, list[str]], where: str) -> None:
    """Look at the screen as it is; what is there already under another name is left out."""
    known = {words for faults in found.values() for words in faults}
    new = [words for words in faults_of_access(phone.page) if words not in known]
    if new:
        found[where] = new


def test_no_screen_of_a_walk_has_a_fault_of_access(context, route_file, form):
    phone = Phone(context.new_page())
    found: dict[str, list[str]] = {}
    phone.open(route_file.as_uri())
    look(phone, found, "route")
    unit = next(one for one in form["units"] if one["mounting"] == "tapered_bushing")
    phone.tap(f"unit={unit['unit_id']}")
    phone.tap("begin")  # with its complaint
    look(phone, found, "start")
    phone.begin(unit["unit_id"], "hanging")
    steps = steps_seen(unit, {"H", "S"})
    number = next(step for step in steps if step["kind"] == "number" and not step["options"])
    for step in steps:
        look(phone, found, f"{step['check']}, open")
        worst = step["options"][-1]["value"] if step["options"] else None
        if worst is not None:
            phone.tap(f"answer={worst}")
        elif step is number:
            phone.write("answer", "77777")
            phone.tap("next")  # with its question
            look(phone, found, f"{step['check']}, asked")
            phone.give(step, good_value(step))
        else:
            phone.give(step, good_value(step))
        look(phone, found, f"{step['check']}, answered")
        phone.go_on()
    look(phone, found, "end")
    phone.tap("to-list")
    look(phone, found, "list")
    phone.tap("to-end")
    phone.write("told", "shift lead")
    phone.tap("sign")
    assert phone.title == "Signed"
    look(phone, found, "signed")
    phone.page.close()
    assert found == {}


def test_a_conflict_and_a_verdict_have_no_fault_of_access(context, form):
    unit = form["units"][0]
    heads = {
        "kind": "periodic", "machine_state": "stopped", "inspected_on": "2026-06-01",
        "inspector": "Kim Aster", "units_of_measure": "metric",
    }  # fmt: skip
    server = FakeServer()
    draft = server.draft
    draft.unit_id = unit["unit_id"]
    kept = {"reason": "", "at": AT, "revision": 1, "by": "Kim Aster", "client": "elsewhere"}
    draft.answers = {n: {**kept, "heading": n, "value": v} for n, v in heads.items()}
    said = [{"field": "guard", "what": "guard missing", "do": "fit the guard"}]
    draft.verdict = {
        "verdict": "hold", "verdict_words": "must not run", "holds": said, "corrects": said,
        "not_seen": said, "faults": [{"field": "guard", "words": "say whether it is fitted"}],
    }  # fmt: skip
    page = online_page({**form, "units": [unit]}, draft.as_dict(), API)
    draft.page = page
    step = next(one for one in steps_seen(unit, {"S"}) if one["options"])
    check, options = step["check"], step["options"]
    phone = Phone(context.new_page())
    found: dict[str, list[str]] = {}
    phone.open(server.page)
    phone.go("#/x/list")
    look(phone, found, "list")
    draft.answers[check] = {
        **kept, "heading": check, "value": options[-1]["value"], "by": "Ines Roth",
    }  # fmt: skip
    phone.tap(f"check={check}")
    phone.tap(f"answer={options[0]['value']}")
    phone.until(lambda: "Ines Roth" in phone.words)
    look(phone, found, "two answers")
    phone.go("#/x/conflict")
    look(phone, found, "conflicts")
    phone.go("#/x/end")
    phone.until(lambda: "Verdict" in phone.words or "verdict" in phone.words)
    look(phone, found, "end")
    phone.page.close()
    server.stop()
    assert found == {}


def test_no_page_around_the_form_has_a_fault_of_access(context, pages: Pages):
    phone = Phone(context.new_page())
    found: dict[str, list[str]] = {}
    for place in AROUND:
        phone.open(pages.address + place)
        look(phone, found, place)
        if place == "/today":
            phone.page.fill("#by", "Kim Aster")  # and from then on the pages know who it is
            phone.page.get_by_role("button", name="That is me").tap()
            phone.page.get_by_role("heading", name="Next: ").wait_for()
            look(phone, found, "today, known")
    phone.page.close()
    assert found == {}
