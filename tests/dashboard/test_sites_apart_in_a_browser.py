"""An inspector of one site in a browser: neither click nor address leads to what is another's."""

import re
from contextlib import closing

import pandas as pd
import pytest
from pages_server import PATIENCE_S
from playwright.sync_api import expect
from signed_in import Pages, grant_all, provider, withdraw_from
from stored_port import fill_with_port

from scoring.entering.kept_plans import keep_plan
from scoring.store.open_store import open_store

pytestmark = pytest.mark.browser

PATIENCE_MS = 1000 * PATIENCE_S
SITE, UNIT, OTHER_UNIT = "Rail shed", "RS-003", "NQ-001"
PEOPLE = (
    ("Di Eck", "1002", "inspector", [SITE]),
    ("Flo Gold", "1004", "engineer manager", [SITE]),
    ("Gus Hain", "1005", "inspector", ["North quay"]),
)


@pytest.fixture(scope="module")
def port(tmp_path_factory):
    """Serve the port to who signs in; a plan of another site is kept in it."""
    folder = tmp_path_factory.mktemp("sites")
    url = f"sqlite:///{folder / 'port.db'}"
    with closing(open_store(url, make=True)) as store:
        fill_with_port(store)
        job = {
            "order": 1, "window": "July", "starts_on": pd.NaT, "unit_id": OTHER_UNIT, "line": None,
            "site": "North quay", "verdict": "hold", "verdict_after": "watch",
            "actions": "fit_guard", "hours": 2.5, "loss_avoided": 1.0, "currency": "CAD",
        }  # fmt: skip
        with store.writing("Ann Load") as writing:
            day = pd.Timestamp("2026-06-30")
            jobs = pd.DataFrame([job])
            kept = keep_plan(writing, "quay", jobs, as_of=day, horizon_days=90, link="/plan")
    with provider() as login:
        grant_all(url, login.issuer, PEOPLE)
        pages = Pages(url, login.issuer, folder / "log.txt")
        pages.store_url, pages.issuer, pages.plan_id = url, login.issuer, kept.plan_id
        yield pages
        pages.stop()
    said = (folder / "log.txt").read_text()
    assert "Traceback" not in said, said


class Somebody:
    """Somebody who signed in by clicks, in a browser of their own."""

    def __init__(self, browser, port, subject, locale="en-GB"):
        self.port = port
        self.context = browser.new_context(
            viewport={"width": 1280, "height": 900}, locale=locale, accept_downloads=True
        )
        self.page = self.context.new_page()
        self.page.set_default_timeout(PATIENCE_MS)
        self.page.goto(f"{port.url}/fix?search=S")
        self.page.locator("input[name=sub]").fill(subject)
        self.page.get_by_role("button", name="Authorize").first.click()
        self.page.wait_for_url(f"{port.url}/fix**", timeout=PATIENCE_MS)

    def open(self, path):
        answer = self.page.goto(f"{self.port.url}{path}")
        if answer.status == 200:
            self.settle()
        return answer.status

    def settle(self):
        self.page.get_by_text(re.compile("Signed in as|Angemeldet als")).first.wait_for()
        self.page.wait_for_function(
            "() => (document.querySelector('[data-testid=stApp]')?.dataset.testScriptState"
            " ?? 'notRunning') === 'notRunning'"
        )

    def text(self):
        return self.page.inner_text("body")


@pytest.fixture(scope="module")
def inspector(browser, port):
    somebody = Somebody(browser, port, "1002")
    yield somebody
    somebody.context.close()


def shows_nothing_of_others(text):
    return not re.search("NQ-|SH-|North quay|Silo house|CAD", text)


def test_pages_show_units_of_the_own_site_and_no_money(inspector):
    for path in ("/", "/fix", f"/unit?unit={UNIT}", "/look", "/trust", "/walkdowns", "/today"):
        assert inspector.open(path) == 200
        assert shows_nothing_of_others(inspector.text()), path
    inspector.open("/fix")
    assert f"unit={UNIT[:2]}-" in inspector.page.content()
    said = inspector.page.get_by_text("What standstill and repairs cost is not for your role")
    expect(said).to_be_visible()


def test_no_click_leads_to_what_is_a_managers(inspector):
    inspector.open("/fix")
    links = inspector.page.get_by_role("link").evaluate_all("all => all.map(one => one.href)")
    assert links
    for link in links:
        assert not re.search("/(plan|trend|bring)", link), link


def test_a_typed_address_is_refused_in_one_sentence(inspector, port):
    for path in ("/trend", "/plan", "/bring", f"/plan?kept={port.plan_id}", "/enter/rework?unit=x"):
        assert inspector.open(path) == 403, path
        assert "may not" in inspector.text()
        assert shows_nothing_of_others(inspector.text())
    for path in (f"/walkdown/new?unit={OTHER_UNIT}", f"/sheet/label?unit={OTHER_UNIT}"):
        assert inspector.open(path) == 404, path
    assert inspector.open(f"/unit?unit={OTHER_UNIT}") == 200
    expect(inspector.page.get_by_text(f"No unit {OTHER_UNIT} was in service")).to_be_visible()
    assert inspector.open(f"/fix?site=North+quay&search={OTHER_UNIT}") == 200
    assert "North quay" not in inspector.text()


def test_a_search_finds_units_of_the_own_site(inspector):
    for path in ("/fix?search=NQ", "/walkdown?search=NQ", "/walkdown?site=North+quay"):
        assert inspector.open(path) == 200
        assert not re.search(r"NQ-\d|silo feed, North", inspector.text()), path
    assert inspector.open("/walkdown?search=RS-0") == 200
    assert "RS-003" in inspector.text()


def test_a_file_holds_the_own_site_and_is_for_who_asked_for_it(browser, inspector, port):
    inspector.open("/fix")
    with inspector.page.expect_download() as begun:
        inspector.page.get_by_role("button", name=re.compile("^Save these .* CSV$")).first.click()
    rows = pd.read_csv(begun.value.path(), encoding="utf-8-sig", dtype=str)
    assert len(rows)
    assert rows["unit_id"].str.startswith("RS-").all()
    assert set(rows["site"]) == {SITE}
    file = begun.value.url
    assert "/media/" in file
    own = inspector.context.request.get(file)
    assert own.status == 200
    other = Somebody(browser, port, "1005")
    answer = other.context.request.get(file)
    assert (answer.status, answer.text()) == (403, "this file belongs to a page of somebody else")
    other.context.close()


def test_a_walkdown_is_signed_by_who_signed_in_and_no_name_is_asked(inspector, port):
    page = inspector.page
    page.goto(f"{port.url}/walkdown/new?unit={UNIT}")
    expect(page.get_by_label("your name")).to_have_count(0)
    page.get_by_role("button", name="Begin a walkdown").click()
    page.wait_for_url(re.compile(r"/walkdown/[A-Za-z0-9_-]{20,}"))
    page.get_by_text("Signed in as Di Eck.").first.wait_for()
    expect(page.get_by_label("Your name")).to_have_count(0)
    for key in ("kind=periodic", "machine_state=running"):
        page.locator(f'[data-key="{key}"]').click()
    with page.expect_response(re.compile("/answers/inspector$")) as kept:
        page.locator('[data-key="begin"]').click()
    assert kept.value.status == 200
    asked = "SELECT started_by, value FROM drafts JOIN draft_answers USING (draft_id) "
    with closing(open_store(port.store_url)) as store, store.reading() as connection:
        rows = connection.exec_driver_sql(f"{asked}WHERE field = 'inspector'").fetchall()
    assert [tuple(row) for row in rows] == [("Di Eck", "Di Eck")]


def test_who_may_see_more_sees_more_and_still_the_own_site_alone(browser, port):
    somebody = Somebody(browser, port, "1004")
    for path in ("/plan?crew_hours=24", "/trend"):
        assert somebody.open(path) == 200
        assert not re.search("NQ-|SH-|North quay|Silo house", somebody.text()), path
    assert somebody.open(f"/plan?kept={port.plan_id}") == 200
    expect(somebody.page.get_by_text("there is no kept plan").first).to_be_visible()
    somebody.context.close()


def test_in_german_and_out_again(browser, port):
    somebody = Somebody(browser, port, "1002", "de-DE")
    somebody.settle()
    expect(somebody.page.get_by_text("Angemeldet als Di Eck.")).to_be_visible()
    assert somebody.open("/trend") == 403
    assert "darf das nicht: die Entwicklung sehen" in somebody.text()
    somebody.page.goto(f"{port.url}/sign-out")
    somebody.page.get_by_role("button", name="Abmelden").click()
    somebody.page.wait_for_url(re.compile("end_session"))
    somebody.page.goto(f"{port.url}/today")
    expect(somebody.page.locator("input[name=sub]")).to_be_visible()
    somebody.context.close()


def test_a_page_that_is_open_says_so_once_the_role_is_gone(browser, port):
    grant_all(port.store_url, port.issuer, [("Hed Ilk", "1006", "inspector", [SITE])])
    somebody = Somebody(browser, port, "1006")
    assert somebody.open("/") == 200
    withdraw_from(port.store_url, port.issuer, "1006")
    somebody.page.get_by_role("link", name="What to fix first").first.click()
    expect(somebody.page.get_by_text("You are signed out.")).to_be_visible(timeout=PATIENCE_MS)
    assert "RS-" not in somebody.text()
    somebody.context.close()
