"""Each role goes through every page and form: what is offered to click on is not refused then.

``pytest tests/entering/test_nothing_offered_is_refused.py -m "long or not long" -s`` goes through
all of them, as each role, and prints how many links and forms were followed.
"""

import re
import shutil
import time
from collections import Counter
from contextlib import closing
from http import HTTPStatus
from urllib.parse import quote, urlencode, urlsplit

import pandas as pd
import pytest
from at_the_machine import UNIT, answer_visit, begin
from links_shown import offered_by_html, offered_by_page
from pages_server import PATIENCE_S
from signed_in import PERSON, Pages, grant_all, provider

from dashboard.pages_there_are import PAGES
from scoring.access.acts import MAY, Act, Role
from scoring.entering.kept_plans import keep_plan
from scoring.entering.submit_draft import submit_draft
from scoring.store.open_store import open_store

pytestmark = pytest.mark.slow

SITE = "Stone shed"
DI, ED = "Di Eck", "Ed Fry"
PEOPLE = (
    (DI, "1002", "inspector", [SITE]),
    (ED, "1003", "engineer", [SITE]),
    ("Flo Gold", "1004", "manager", [SITE]),
)
SUBJECTS = {
    Role.INSPECTOR: "1002",
    Role.ENGINEER: "1003",
    Role.MANAGER: "1004",
    Role.ADMINISTRATOR: PERSON[2],
}


@pytest.fixture(scope="module")
def plant(quarry_file, tmp_path_factory):
    """Serve a plant in which something of each kind was entered, some of it by the inspector."""
    folder = tmp_path_factory.mktemp("offered")
    file = folder / "quarry.db"
    shutil.copy(quarry_file, file)
    url = f"sqlite:///{file}"
    with closing(open_store(url)) as store:
        signed = begin(store)
        answer_visit(store, signed, guard="fitted")
        walkdown_id = submit_draft(store, signed, signed_by="Ben Meier", told="Foreman").walkdown_id
        for by in (DI, "Ben Meier"):
            begin(store, by=by)
        job = {
            "order": 1, "window": "July", "starts_on": pd.NaT, "unit_id": UNIT, "line": None,
            "site": SITE, "verdict": "hold", "verdict_after": "watch",
            "actions": "fit_guard", "hours": 2.5, "loss_avoided": 1.0, "currency": "EUR",
        }  # fmt: skip
        with store.writing("Ben Meier") as writing:
            day = pd.Timestamp("2026-06-30")
            link = "/plan?crew_hours=24"
            jobs = pd.DataFrame([job])
            plan = keep_plan(writing, "first", jobs, as_of=day, horizon_days=90, link=link)
    with provider() as login:
        grant_all(url, login.issuer, PEOPLE)
        pages = Pages(url, login.issuer, folder / "log.txt")
        try:
            people = {role: pages.sign_in(subject) for role, subject in SUBJECTS.items()}
            yield Plant(pages, people, walkdown_id, plan.plan_id)
        finally:
            pages.stop()
    said = (folder / "log.txt").read_text()
    assert "Traceback" not in said, said


class Plant:
    def __init__(self, pages, people, walkdown_id, plan_id):
        self.pages, self.people, self.plan_id = pages, people, plan_id
        unit, walkdown = urlencode({"unit": UNIT}), quote(walkdown_id)
        self.addresses = (
            "/start", "/fix", "/plan?crew_hours=24", f"/plan?kept={quote(plan_id)}", "/plan?kept=x",
            "/look", f"/unit?{unit}", "/unit", "/walkdowns", "/bring", "/trend", "/trust",
            "/today", "/today?all=1", "/walkdown", f"/walkdown/new?{unit}", "/walkdown/who",
            f"/walkdown/new?correct={walkdown}", f"/enter/release?{unit}", f"/enter/rework?{unit}",
            "/reading", "/enter/nothing", "/walkdown/nothing", "/sheet/blank?unit=nothing",
        )  # fmt: skip
        """Of every page, and of what a form says that there is not."""

    def offered(self, role, address):
        """Open an address as a browser would; return its code and what it offers."""
        headers = {**self.people[role], "Accept": "text/html"}
        answer = self.pages.ask("GET", address, headers=headers)
        parts = urlsplit(address)
        name = parts.path.strip("/")
        if answer.code == HTTPStatus.OK and name in {one.path for one in PAGES}:
            cookie = self.people[role]["Cookie"]
            return answer.code, offered_by_page(self.pages.url, name, parts.query, cookie)
        return answer.code, offered_by_html(answer.text)

    def wait_for_what_is_due(self, role):
        """Today is worked out beside; what it offers is there once it says so."""
        end = time.monotonic() + PATIENCE_S
        while time.monotonic() < end:
            _, shown = self.offered(role, "/today")
            if "data-being-made" not in shown.words.replace("[data-being-made]", ""):
                return
            time.sleep(0.5)
        raise AssertionError("what is due today was not worked out")

    def follow(self, role, address):
        headers = {**self.people[role], "Accept": "text/html"}
        return self.pages.ask("GET", address, headers=headers).code

    def send(self, role, method, action, hidden):
        """Send a form as it is, but for what it is about: so that nothing is entered."""
        if method == "GET":
            return self.follow(role, f"{action}?{urlencode(hidden)}")
        headers = {
            **self.people[role],
            "Origin": self.pages.url,
            "Content-Type": "application/x-www-form-urlencoded",
        }
        unknown = [(name, "none" if name in {"draft", "unit", "correct"} else value)
                   for name, value in hidden]  # fmt: skip
        return self.pages.ask("POST", action, urlencode(unknown).encode(), headers).code


def shape(address):
    """Return what alike links have in common: of each a few are followed."""
    parts = urlsplit(address)
    path = re.sub(r"^/walkdown/(?!new$|who$|give-up$)[^/]+$", "/walkdown/...", parts.path)
    return path, tuple(sorted({one.partition("=")[0] for one in parts.query.split("&")}))


def refused_of_what_is_offered(plant, role, addresses, alike):
    """Open addresses, follow so many links of each shape, send each form; return what was refused.

    With what was refused comes how many were followed.
    """
    wrong, seen, followed = [], Counter(), set()
    for address in addresses:
        _, shown = plant.offered(role, address)
        for link in sorted(shown.links - followed):
            seen[shape(link)] += 1
            if seen[shape(link)] > alike:
                continue
            followed.add(link)
            code = plant.follow(role, link)
            if code >= HTTPStatus.BAD_REQUEST:
                wrong.append((role.value, address, link, code))
        for form in sorted(shown.forms - followed):
            followed.add(form)
            code = plant.send(role, *form)
            if code in {401, 403}:
                wrong.append((role.value, address, f"form {form[1]}", code))
    return wrong, len(followed)


SAMPLE = {
    Role.INSPECTOR: ("/start", "/unit?", "/walkdowns", "/enter"),
    Role.MANAGER: ("/start", "/today", "/walkdown", "/enter"),
}
"""How addresses begin that are opened in the ordinary run."""


@pytest.mark.parametrize("role", SAMPLE)
def test_what_is_offered_by_some_pages_is_not_refused(plant, role):
    some = [one for one in plant.addresses if one.startswith(SAMPLE[role]) and "all=1" not in one]
    wrong, followed = refused_of_what_is_offered(plant, role, some, alike=1)
    assert wrong == []
    assert followed > MANY


@pytest.mark.long
@pytest.mark.parametrize("role", Role)
def test_nothing_that_any_page_offers_is_refused(plant, role):
    if role is not Role.ADMINISTRATOR:
        plant.wait_for_what_is_due(role)
    wrong, followed = refused_of_what_is_offered(plant, role, plant.addresses, alike=5)
    print(role.value, followed)  # noqa: T201 - how many were followed
    assert wrong == []
    assert (followed > MANY) == (role is not Role.ADMINISTRATOR)


MANY = 15
"""Who has a role that opens pages is offered more than so many kinds of links and forms."""

BUTTONS = (
    ("/plan?kept={plan}", "Withdraw", Act.KEEP_PLAN),
    ("/walkdowns", "Take them in", Act.WALK),
    ("/plan?crew_hours=24", "Keep this plan", Act.KEEP_PLAN),
    ("/fix", "Keep this view", Act.KEEP_VIEW),
)
"""Where a button enters something, what it says, and what one must be allowed to."""


@pytest.mark.parametrize(("address", "said", "act"), BUTTONS[:2])
@pytest.mark.parametrize("role", [Role.INSPECTOR, Role.ENGINEER, Role.MANAGER])
def test_a_button_is_there_for_who_may(plant, address, said, act, role):
    _is_there_for_who_may(plant, address, said, act, role)


@pytest.mark.long
@pytest.mark.parametrize(("address", "said", "act"), BUTTONS[2:])
@pytest.mark.parametrize("role", [Role.INSPECTOR, Role.ENGINEER, Role.MANAGER])
def test_a_button_of_pages_that_take_long_is_there_for_who_may(plant, address, said, act, role):
    _is_there_for_who_may(plant, address, said, act, role)


def _is_there_for_who_may(plant, address, said, act, role):
    code, shown = plant.offered(role, address.format(plan=quote(plant.plan_id)))
    assert (code, said in shown.buttons) in {(403, False), (200, role in MAY[act])}
