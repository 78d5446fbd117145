"""Back, Forward, reload, links, another tab and another browser, on every page with choices."""

import json
import re
from urllib.parse import parse_qsl

import pytest
from pages_server import PATIENCE_S
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

PATIENCE_MS = 1000 * PATIENCE_S
HELD = "SS-039"
ARRIVE_BY_HISTORY = """address => {
  history.pushState({}, '', address);
  dispatchEvent(new PopStateEvent('popstate'));
}"""
ASKED = "asked => JSON.stringify([...new URLSearchParams(location.search)].sort()) === asked"
STANDS = """([label, words]) => {
  const app = document.querySelector('[data-testid=stApp]');
  if (app.dataset.testScriptState !== 'notRunning') return false;
  const box = [...document.querySelectorAll('input')].find(one => one.ariaLabel === label);
  const several = box?.closest('[data-testid=stMultiSelect]');
  const picked = [...(several?.querySelectorAll('.react-aria-ComboBox [data-tag]') || [])];
  return (several ? picked.map(one => one.ariaLabel).join(', ') : box?.value) === words;
}"""


class Reader:
    """Somebody who reads one page, chooses on it, and goes back and forth."""

    def __init__(self, page, address):
        self.page, self.address = page, address
        page.set_default_timeout(PATIENCE_MS)

    def opens(self, path):
        self.page.goto(self.address + path)
        self.page.get_by_text("Before any work: lock out").first.wait_for()
        # While month-ends are worked out, lists are drawn anew under one's hand.
        being_made = self.page.get_by_text(re.compile("month-ends are worked|Working out the mon"))
        expect(being_made).to_have_count(0, timeout=PATIENCE_MS)

    def sees(self, asked, fields):
        """Wait until the address says just this, and the fields show these words."""
        pairs = sorted(map(list, parse_qsl(asked)))
        self.page.wait_for_function(ASKED, arg=json.dumps(pairs, separators=(",", ":")))
        for label, words in fields.items():
            self.page.wait_for_function(STANDS, arg=[label, words])

    def goes_to(self, title):
        self.page.get_by_role("link", name=title, exact=True).first.click()
        expect(self.page.get_by_role("heading", level=1).first).to_have_text(
            re.compile(f"^{title}"), timeout=PATIENCE_MS
        )


def field(page, name):
    """Return a field, unfolded where it is folded away."""
    found = page.get_by_label(name, exact=True).first
    found.wait_for(state="attached")
    expect(page.get_by_test_id("stApp")).to_have_attribute(
        "data-test-script-state", "notRunning", timeout=PATIENCE_MS
    )
    if not found.is_visible():
        page.locator("details").filter(has=found).first.locator("summary").first.click()
        found.wait_for()
    return found


def types(name, text):
    def act(page):
        box = field(page, name)
        box.fill(text)
        box.press("Enter")

    return act


def picks(name, option):
    def act(page):
        box = field(page, name)
        box.focus()
        box.press("ArrowDown")
        page.get_by_role("option", name=option, exact=True).click()
        box.press("Escape")

    return act


BY_LOSS = {"search": "isolator", "in the order of": "expected loss"}

# Of each page: its path, then what is chosen there one after the other: how, what the address says
# then, and what the fields show. The first is the page as nobody has chosen anything.
PAGES = {
    "What to fix first": (
        "/fix",
        (None, "", {"search": "", "rows": "1 to 50 of 56"}),
        (picks("rows", "51 to 56 of 56"), "page=2", {"search": "", "rows": "51 to 56 of 56"}),
        (types("search", "isolator"), "search=isolator", {"search": "isolator"}),
        (picks("in the order of", "expected loss"), "search=isolator&by=expected+loss", BY_LOSS),
    ),
    "What to do in a shutdown": (
        "/plan",
        (None, "", {"crew-hours": "40.00", "people at once": ""}),
        (
            types("crew-hours", "16"),
            "crew_hours=16",
            {"crew-hours": "16.00", "people at once": ""},
        ),
        (
            types("people at once", "3"),
            "crew_hours=16&people=3",
            {"crew-hours": "16.00", "people at once": "3"},
        ),
    ),
    "Where to look next": (
        "/look",
        (None, "", {"inspector-hours at each site": "8.00", "sites": ""}),
        (
            types("inspector-hours at each site", "3"),
            "look_hours=3",
            {"inspector-hours at each site": "3.00", "sites": ""},
        ),
        (
            picks("sites", "Stone shed"),
            "look_hours=3&look_sites=Stone+shed",
            {"inspector-hours at each site": "3.00", "sites": "Stone shed"},
        ),
    ),
    "Is it getting better": (
        "/trend",
        (None, "", {"sites": ""}),
        (picks("sites", "Stone shed"), "trend_sites=Stone+shed", {"sites": "Stone shed"}),
    ),
    "How far to trust it": (
        "/trust",
        (None, "", {"tried on": "later failures of the same units"}),
        (
            picks("tried on", "later failures of other units"),
            "scheme=later+failures+of+other+units",
            {"tried on": "later failures of other units"},
        ),
    ),
    "Walkdowns": (
        "/walkdowns",
        (None, "", {"site": "", "line": ""}),
        (
            picks("site", "Stone shed"),
            "route_sites=Stone+shed",
            {"site": "Stone shed", "line": ""},
        ),
        (
            picks("line", "crusher line"),
            "route_sites=Stone+shed&route_lines=crusher+line",
            {"site": "Stone shed", "line": "crusher line"},
        ),
    ),
    "One unit": (
        f"/unit?unit={HELD}",
        (None, f"unit={HELD}", {"re-work": ""}),
        (
            picks("re-work", "▲ back off isolators"),
            f"unit={HELD}&rework=back_off_isolators",
            {"re-work": "▲ back off isolators"},
        ),
    ),
}


DAILY = ("What to fix first", "What to do in a shutdown", "One unit")
"""Whose way back is tried each time; the others choose in the same way, and take a minute more."""


@pytest.mark.parametrize(
    "title",
    [pytest.param(one, marks=() if one in DAILY else pytest.mark.long) for one in PAGES],
)
def test_a_page_shows_what_its_address_says_however_one_came_there(browser, pages, title):
    path, *states = PAGES[title]
    mine = browser.new_context(viewport={"width": 1280, "height": 1000})
    reader = Reader(mine.new_page(), pages)
    reader.opens(path)
    for act, *state in states:
        if act is not None:
            act(reader.page)
        reader.sees(*state)
    usual, last = states[0][1:], states[-1][1:]

    for _, *state in reversed(states[:-1]):
        reader.page.go_back()
        reader.sees(*state)
    for _, *state in states[1:]:
        reader.page.go_forward()
        reader.sees(*state)
    chosen = reader.page.url
    reader.page.evaluate(ARRIVE_BY_HISTORY, path)
    reader.sees(*usual)
    reader.page.go_back()
    reader.sees(*last)
    if title != "One unit":  # whose link in the header asks for a unit
        reader.goes_to("Bring in records")
        reader.goes_to(title)
        reader.sees(*last)
    reader.page.reload()
    reader.sees(*last)

    tab = Reader(mine.new_page(), pages)
    tab.opens(path)
    tab.sees(*usual)
    reader.sees(*last)
    mine.close()
    theirs = browser.new_context(viewport={"width": 390, "height": 844})
    other = Reader(theirs.new_page(), "")
    other.opens(chosen)
    other.sees(*last)
    theirs.close()


def test_an_address_of_rows_alone_gives_up_a_filter_of_the_session(browser, pages):
    context = browser.new_context(viewport={"width": 1280, "height": 1000})
    reader = Reader(context.new_page(), pages)
    reader.opens("/fix?verdict=hold&search=shaft")
    reader.sees("verdict=hold&search=shaft", {"verdict": "■ hold", "search": "shaft"})
    reader.page.evaluate(ARRIVE_BY_HISTORY, "/fix?page=2")
    reader.sees("page=2", {"verdict": "", "search": "", "rows": "51 to 56 of 56"})
    context.close()


def test_choices_in_quick_succession_are_all_kept(browser, pages):
    context = browser.new_context(viewport={"width": 1280, "height": 1000})
    reader = Reader(context.new_page(), pages)
    reader.opens("/plan")
    reader.sees("", {"crew-hours": "40.00"})
    field(reader.page, "crew-hours")
    for name, text in (("crew-hours", "16"), ("people at once", "3"), ("crew-hours", "24")):
        types(name, text)(reader.page)
    reader.sees("crew_hours=24&people=3", {"crew-hours": "24.00", "people at once": "3"})
    context.close()
