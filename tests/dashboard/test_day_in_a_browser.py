"""An earlier day chosen on one page, in a real browser: on all pages, Back, reload, and a link."""

import re

import pytest
from pages_server import PATIENCE_S
from playwright.sync_api import expect

from dashboard.pages_there_are import PAGES

pytestmark = pytest.mark.browser

PATIENCE_MS = 1000 * PATIENCE_S
EARLIER = re.compile("as it was known on 31 March 2026")
HEADINGS = {one.path: re.compile(f"^{one.title}") for one in PAGES if one.path != "start"}
HEADINGS["unit"] = re.compile("^One unit|^SS-")
"""A step back is taken from a page that is drawn, as by who reads it."""
OF_A_DAY = tuple(one for one in PAGES[1:] if one.path != "bring")
"""Where records are brought in no day is spoken of."""
SAID = re.compile("as of 31 March 2026, 180 days ahead")


@pytest.fixture
def page(browser):
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    opened = context.new_page()
    opened.set_default_timeout(PATIENCE_MS)
    yield opened
    context.close()


def has_settled(page):
    expect(page.get_by_test_id("stApp")).to_have_attribute(
        "data-test-script-state", "notRunning", timeout=PATIENCE_MS
    )


def is_of_that_day(page, path):
    address = re.compile(f"/{path}\\?(?=.*as_of=2026-03-31)(?=.*ahead=180)")
    expect(page).to_have_url(address, timeout=PATIENCE_MS)
    expect(page.get_by_text(EARLIER).first).to_be_visible(timeout=PATIENCE_MS)
    expect(page.get_by_text(SAID).first).to_be_visible(timeout=PATIENCE_MS)
    expect(page.get_by_role("heading", level=1).first).to_have_text(
        HEADINGS[path], timeout=PATIENCE_MS
    )
    has_settled(page)


def test_a_day_chosen_on_one_page_is_that_of_all_of_back_of_reload_and_of_a_link(
    browser, page, pages
):
    page.goto(f"{pages}/fix")
    page.get_by_role("button", name="change").click()
    page.get_by_text("180 days", exact=True).click()
    expect(page).to_have_url(re.compile("ahead=180$"), timeout=PATIENCE_MS)
    expect(page.get_by_text("180 days ahead").first).to_be_visible(timeout=PATIENCE_MS)
    has_settled(page)
    for part, typed in (("month", "03"), ("day", "31")):
        box = page.get_by_role("spinbutton", name=re.compile(f"^{part}"))
        box.click()
        box.press_sequentially(typed)
    page.mouse.click(20, 700)  # beside all there is: the day counts once it is left
    is_of_that_day(page, "fix")
    page.keyboard.press("Escape")

    for one in OF_A_DAY:
        page.get_by_role("link", name=one.title, exact=True).first.click()
        is_of_that_day(page, one.path)
    for one in reversed(OF_A_DAY[:-1]):
        page.go_back()
        is_of_that_day(page, one.path)
    page.reload()
    is_of_that_day(page, "fix")
    page.get_by_role("link", name=re.compile("^SS-")).first.click()
    is_of_that_day(page, "unit")

    theirs = browser.new_context(viewport={"width": 390, "height": 844})
    other = theirs.new_page()
    other.goto(page.url)
    expect(other.get_by_text(EARLIER).first).to_be_visible(timeout=PATIENCE_MS)
    expect(other.get_by_role("heading", level=1)).to_have_text(
        page.get_by_role("heading", level=1).inner_text(), timeout=PATIENCE_MS
    )
    other.get_by_role("button", name="Pages").click()
    listed = other.get_by_test_id("stPopoverBody")
    listed.get_by_role("link", name="What to do in a shutdown").click()
    is_of_that_day(other, "plan")
    assert other.evaluate("document.body.scrollWidth") <= 390
    other.get_by_role("button", name="Back to 30 June 2026").click()
    expect(other).to_have_url(re.compile(r"/plan\?ahead=180$"), timeout=PATIENCE_MS)
    expect(other.get_by_text(EARLIER)).to_have_count(0, timeout=PATIENCE_MS)
    theirs.close()
