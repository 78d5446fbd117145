"""Every page in a real browser, wide and narrow, with nothing but this machine to talk to."""

import re
import zipfile

import pandas as pd
import pytest
from kept_plants import SMALL_QUARRY
from pages_server import PATIENCE_S
from playwright.sync_api import expect

import scoring

pytestmark = pytest.mark.browser

WIDE, NARROW = (1400, 900), (390, 844)
HELD = "SS-039"
PATIENCE_MS = 1000 * PATIENCE_S


class Visitor:
    """A page of a browser that keeps every request for another machine; none gets there."""

    def __init__(self, context, address):
        self.page = context.new_page()
        self.page.set_default_timeout(PATIENCE_MS)
        self.address = address
        self.left_the_machine = []
        self.refused_by_policy = []
        self.page.on("console", lambda said: self._hear(said.text))
        self.page.on("request", lambda asked: self._watch(asked.url))
        self.page.on("websocket", lambda asked: self._watch(asked.url.replace("ws:", "http:", 1)))

    def _watch(self, url):
        if not url.startswith((self.address, "data:", "blob:")):
            self.left_the_machine.append(url)

    def _hear(self, said):
        if "Content Security Policy" in said:
            self.refused_by_policy.append(said)

    def go(self, path, heading):
        self.page.goto(self.address + path)
        self.page.get_by_role("heading", name=heading, exact=True).first.wait_for(
            timeout=PATIENCE_MS
        )
        self.settle()
        return self.page

    def settle(self):
        """Wait until the page has run to its end, in its own style: the cautions stand last."""
        self.page.get_by_text("Before any work: lock out").wait_for(timeout=PATIENCE_MS)
        self.page.wait_for_function(
            "() => document.querySelector('[data-testid=stApp]').dataset.testScriptState"
            " === 'notRunning'"
            " && getComputedStyle(document.documentElement).getPropertyValue('--quiet') !== ''",
            timeout=PATIENCE_MS,
        )

    def text(self):
        return self.page.inner_text("body")


@pytest.fixture(scope="module")
def contexts(browser):
    """Keep one browser of each size, for its cache; every page is a new session of the server."""
    opened = {
        (width, height): browser.new_context(viewport={"width": width, "height": height})
        for width, height in (WIDE, NARROW)
    }
    yield opened
    for context in opened.values():
        context.close()


@pytest.fixture(params=[WIDE, NARROW], ids=["wide", "narrow"])
def visitor(request, contexts, pages):
    visiting = Visitor(contexts[request.param], pages)
    yield visiting
    visiting.page.close()
    assert visiting.left_the_machine == []
    assert visiting.refused_by_policy == []


@pytest.fixture
def wide(contexts, pages):
    visiting = Visitor(contexts[WIDE], pages)
    yield visiting
    visiting.page.close()
    assert visiting.left_the_machine == []
    assert visiting.refused_by_policy == []


PAGES = [
    ("/", "Small quarry"),
    ("/fix", "What to fix first"),
    (f"/unit?unit={HELD}", HELD),
    ("/plan", "What to do in a shutdown"),
    ("/look", "Where to look next"),
    ("/bring", "Bring in records"),
    ("/trend", "Is it getting better?"),
]


@pytest.mark.parametrize(("path", "heading"), PAGES)
def test_every_page_opens_shows_the_cautions_and_does_not_scroll_sideways(visitor, path, heading):
    page = visitor.go(path, heading)
    text = visitor.text()
    assert "lock out and tag out" in text
    assert "Traceback" not in text
    assert page.evaluate("document.body.scrollWidth") <= page.viewport_size["width"]


def test_holds_stay_in_sight_whatever_is_filtered(wide):
    page = wide.go("/fix", "What to fix first")
    assert "Must not run: 3" in wide.text()
    page.get_by_role("textbox", name="search").fill("no such unit")
    page.keyboard.press("Enter")
    page.get_by_text("No unit fits what is asked for: search no such unit.").wait_for()
    assert "Must not run: 3" in wide.text()


def test_where_no_unit_fits_one_link_shows_all_again(wide):
    wide.go("/fix?search=no+such+unit&mounting=shrink_disc&by=expected+loss", "What to fix first")
    said = "No unit fits what is asked for: search no such unit; mounting shrink disc."
    wide.page.get_by_text(said).wait_for()
    wide.page.get_by_role("button", name="Show all").click()
    wide.page.locator("table.units tbody tr").nth(9).wait_for()
    expect(wide.page).to_have_url(re.compile(r"/fix\?by=expected"))
    expect(wide.page.get_by_role("textbox", name="search")).to_have_value("")
    wide.page.go_back()
    wide.page.get_by_text(said).wait_for()


def test_search_narrows_the_ranking_and_stays_in_the_link(wide):
    page = wide.go("/fix", "What to fix first")
    page.get_by_role("textbox", name="search").fill("isolators clamped")
    page.keyboard.press("Enter")
    page.wait_for_function("() => location.search.includes('search=')")
    wide.settle()
    again = page.url.removeprefix(wide.address)
    wide.go(again, "What to fix first")
    page.wait_for_function(
        "() => [...document.querySelectorAll('input')].some(i => i.value == 'isolators clamped')"
    )


def test_choices_stay_over_other_pages_and_stand_in_the_link(wide, contexts, pages):
    link = "/?verdict=hold&verdict=moon&by=chance+of+a+seal+leak&page=900"
    page = wide.go(link, "What to fix first")
    page.get_by_text("Save these 3 rows as CSV").wait_for()
    page.get_by_role("link", name="What to do in a shutdown").first.click()
    page.get_by_text("· change").click()
    hours = page.get_by_role("spinbutton", name="crew-hours")
    hours.fill("64")
    hours.press("Enter")
    page.wait_for_url("**/plan?crew_hours=64")
    wide.settle()
    page.get_by_role("link", name="What to fix first").first.click()
    page.get_by_text("Save these 3 rows as CSV").wait_for()
    page.go_back()
    page.wait_for_url("**/plan?crew_hours=64")
    wide.settle()
    if not hours.is_visible():
        page.get_by_text("· change").click()
    expect(hours).to_have_value("64.00", timeout=PATIENCE_MS)
    page.go_back()
    page.go_back()
    page.get_by_text("Save these 3 rows as CSV").wait_for()
    other = Visitor(contexts[WIDE], pages)
    copied = other.go("/plan?crew_hours=64&people=0&sites=moon", "What to do in a shutdown")
    copied.get_by_text("· change").click()
    # a widget shows its least value for a moment before what the link says
    for name, shown in (("crew-hours", "64.00"), ("people at once", "")):
        field = copied.get_by_role("spinbutton", name=name)
        expect(field).to_have_value(shown, timeout=PATIENCE_MS)
    copied.close()


def test_a_unit_is_found_from_any_page_by_a_part_of_its_id(visitor):
    page = visitor.go("/trend", "Is it getting better?")
    box = page.get_by_role("textbox", name="find a unit")
    box.fill("s-03")
    box.press("Enter")
    links = page.get_by_role("navigation", name="units found").get_by_role("link")
    links.first.wait_for()
    assert all("S-03" in one for one in links.all_inner_texts())
    links.filter(has_text=HELD).click()
    page.get_by_role("heading", name=re.compile(HELD)).wait_for()
    visitor.settle()
    box.fill(HELD.lower()[-5:] + " ")
    box.press("Enter")
    page.wait_for_url(f"**/unit?unit={HELD}")


def test_the_first_page_says_what_it_is_and_its_doors_open(visitor):
    page = visitor.go("/", "Small quarry")
    for said in (
        "as of 30 June 2026",
        "Of 56 units in service 3 must not run",
        "■ hold",
        "▲ correct",
        "○ watch",
        "· no finding",
    ):
        expect(page.locator("body")).to_contain_text(said, timeout=PATIENCE_MS)
    for door in page.get_by_role("navigation", name="where to go").get_by_role("link").all():
        assert door.bounding_box()["height"] >= 48
    page.get_by_role("link", name="I decide what is mended").click()
    page.get_by_role("heading", name="What to fix first").wait_for()


@pytest.mark.parametrize("asked", [HELD, HELD.lower()])
def test_a_link_opens_its_unit_however_its_name_is_written(wide, asked):
    wide.go(f"/unit?unit={asked}", HELD)


def test_a_link_opens_its_unit_with_verdict_reason_and_numbers(visitor):
    page = visitor.go(f"/unit?unit={HELD}", HELD)
    page.get_by_text("■ must not run").first.wait_for()  # the state is told before all is drawn
    text = visitor.text()
    assert "■ must not run" in text
    assert "Shaft end does not reach what is required." in text
    assert "What drives each risk" in text
    page.get_by_text("Where every number comes from").click()
    page.get_by_text("output seal", exact=True).last.click()
    page.get_by_text("= (run-out of the hub + clearance taken up").wait_for()


def test_verdict_reason_and_first_action_stand_in_the_first_screen_and_no_picture_is_cut(visitor):
    page = visitor.go(f"/unit?unit={HELD}", HELD)
    height = page.viewport_size["height"]
    for words in ("■ must not run", "Shaft end does not reach", "Told: ", "First:"):
        box = page.get_by_text(words).first.bounding_box()
        assert box["y"] + box["height"] <= height
    drawn = page.get_by_role("img", name=re.compile("^Section|^The joint|joint")).first
    drawn.wait_for()
    shown, whole = page.evaluate(
        "() => { const box = document.querySelector('.shifted');"
        " return [box.clientWidth, box.scrollWidth] }"
    )
    said = page.get_by_text("wider than the screen").first.is_visible()
    assert said == (whole > shown)


def test_a_link_to_a_unit_that_is_not_there_says_so(wide):
    page = wide.go("/unit?unit=![x](http://outside.invalid/x.png)", "One unit")
    page.get_by_text("was in service on 2026-06-30").wait_for()


def test_the_list_opens_a_unit_at_a_tap(visitor):
    page = visitor.go("/fix", "What to fix first")
    rows = page.locator("table.units tbody tr")
    expect(rows).to_have_count(50, timeout=PATIENCE_MS)
    assert rows.first.bounding_box()["height"] >= 48
    unit = rows.nth(4).get_by_role("link").inner_text()
    rows.nth(4).click(position={"x": 150, "y": 30})  # anywhere on the row
    page.get_by_role("heading", name=unit, exact=True).wait_for()
    assert page.url.endswith(f"/unit?unit={unit}")


def test_the_whole_ranking_is_sorted_by_numbers_and_stays_so_on_the_way_back(wide):
    page = wide.go("/fix?by=chance+of+a+seal+leak", "What to fix first")
    page.get_by_role("columnheader", name=re.compile("^seal leak")).wait_for()
    said = page.locator("table.units tbody tr td.sorted .value").all_inner_texts()
    chances = [float(one.removesuffix("%").strip().removeprefix("<")) for one in said]
    assert len(chances) == 50
    assert chances == sorted(chances, reverse=True)
    fourth = page.locator("table.units tbody th a").nth(3)
    unit = fourth.inner_text()
    fourth.click()
    page.get_by_role("heading", name=unit, exact=True).wait_for()
    page.go_back()
    page.locator("table.units tbody tr td.chance.sorted").first.wait_for()
    assert page.url.endswith("/fix?by=chance+of+a+seal+leak")


def test_the_ranking_is_saved_as_a_file(wide):
    page = wide.go("/fix", "What to fix first")
    with page.expect_download() as waiting:
        page.get_by_role("button", name="rows as CSV").click()
    path = waiting.value.path()
    lines = path.read_text(encoding="utf-8").splitlines()
    assert lines[0].startswith("rank,unit_id,site,verdict")
    assert len(lines) == 57


@pytest.mark.parametrize(
    ("button", "name"),
    [("as a workbook", "fleet.xlsx"), ("tables as CSV", "csv.zip"), ("as Parquet", "parquet.zip")],
)
def test_all_tables_are_saved_and_read_back_value_for_value(wide, tmp_path, button, name):
    page = wide.go("/fix", "What to fix first")
    page.get_by_text("All tables as files").click()
    with page.expect_download() as waiting:
        page.get_by_role("button", name=button).last.click()
    saved = tmp_path / name
    waiting.value.save_as(saved)
    if saved.suffix == ".zip":
        saved = tmp_path / "tables"
        with zipfile.ZipFile(tmp_path / name) as archive:
            archive.extractall(saved)
    before, after = scoring.read(SMALL_QUARRY), scoring.read(saved)
    assert after.faults.empty
    for table, frame in before.tables.items():
        pd.testing.assert_frame_equal(after.tables[table], frame, check_exact=True)
    assert "ranking" in after.notes[0]
    assert "data_dictionary" in after.notes[0]


def test_other_hours_make_another_plan_and_the_plan_is_saved(visitor):
    page = visitor.go("/plan", "What to do in a shutdown")
    page.get_by_text("· change").click()
    hours = page.get_by_role("spinbutton", name="crew-hours")
    hours.fill("12")
    hours.press("Enter")
    page.get_by_text(" of 12", exact=False).first.wait_for()
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Save the plan as CSV").click()
    lines = waiting.value.path().read_text(encoding="utf-8").splitlines()
    assert lines[0].startswith("order,window,starts_on,unit_id,site")
    assert len(lines) > 1


def test_the_form_of_a_route_is_saved_for_where_there_is_no_network(wide):
    page = wide.go("/look", "Where to look next")
    with page.expect_download() as waiting:
        page.get_by_role("button", name="without a network").click()
    assert waiting.value.path().read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


def test_re_work_is_weighed_on_the_page_of_its_unit(visitor):
    page = visitor.go(f"/unit?unit={HELD}", HELD)
    page.get_by_role("combobox", name="re-work").focus()
    page.keyboard.type("back off isolators")
    page.get_by_role("option", name="back off isolators").wait_for()
    page.keyboard.press("Enter")
    page.get_by_text("loss avoided", exact=True).wait_for()
    assert "set-ups included" in visitor.text()
    assert page.evaluate("document.body.scrollWidth") <= page.viewport_size["width"]


@pytest.mark.parametrize("language", ["en", "de"])
def test_the_header_is_one_line_on_a_desk_in_every_language(browser, pages, language):
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    context.add_cookies([{"name": "language", "value": language, "url": pages}])
    visiting = Visitor(context, pages)
    visiting.page.goto(pages + "/")
    visiting.page.get_by_role("heading", level=1).first.wait_for(timeout=PATIENCE_MS)
    links = visiting.page.locator(".st-key-pages_in_a_row a")
    expect(links).to_have_count(9, timeout=PATIENCE_MS)
    tops = {round(link.bounding_box()["y"]) for link in links.all()}
    assert len(tops) == 1
    box = visiting.page.get_by_role("textbox").first  # what it asks for is not cut
    assert box.evaluate("box => box.scrollWidth <= box.clientWidth")
    context.close()
