"""Back, Forward, reload, a bare link, another tab and another browser, on every page with choices."""

import json
import re
from urllib.parse import parse_qs, urlencode, urlsplit

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


class Reader:
    """Somebody who reads one page, chooses on it, and goes back and forth."""

    def __init__(self, page, address, told):
        self.page, self.address, self.told = page, address, told
        page.set_default_timeout(PATIENCE_MS)

    def opens(self, path):
        self.page.goto(self.address + path)
        self.settles()

    def settles(self):
        self.page.get_by_text("Before any work: lock out").first.wait_for()
        expect(self.page.get_by_test_id("stApp")).to_have_attribute(
            "data-test-script-state", "notRunning", timeout=PATIENCE_MS
        )

    def is_at(self, asked):
        """Wait until the address says just this, in whatever order."""
        self.page.wait_for_function(
            "asked => JSON.stringify([...new URLSearchParams(location.search)].sort()) === asked",
            arg=json.dumps(sorted(map(list, pairs(asked))), separators=(",", ":")),
        )
        self.settles()

    def sees(self):
        return self.told(self.page).inner_text()

    def sees_again(self, words):
        expect(self.told(self.page)).to_have_text(words, timeout=PATIENCE_MS)
        self.settles()
        expect(self.told(self.page)).to_have_text(words, timeout=PATIENCE_MS)


def pairs(asked):
    return [(name, text) for name, texts in asked.items() for text in texts]


def field(page, role, name):
    """Return a field, unfolded where it is folded away."""
    found = page.get_by_role(role, name=name).first
    folded = page.locator("summary").filter(has_text=re.compile("· change|Search and filter|Tried"))
    found.or_(folded).first.wait_for()
    for number in range(folded.count()):
        if not found.is_visible():
            folded.nth(number).click()
    found.wait_for()
    return found


def types(role, name, text):
    def act(page):
        box = field(page, role, name)
        box.fill(text)
        box.press("Enter")

    return act


def picks(name, number):
    def act(page):
        field(page, "combobox", name).click()
        page.get_by_role("option").nth(number).click()
        page.keyboard.press("Escape")

    return act


def ticks(words):
    def act(page):
        field(page, "radio", words)
        page.locator("label").filter(has=page.get_by_role("radio", name=words)).first.click()

    return act


def line_of_settings(page):
    return page.locator("summary").filter(has_text="· change").first


def below_what_re_work(page):
    return page.get_by_test_id("stMultiSelect").filter(has_text="re-work").first


# Of each page: its path, the choices, one after the other, and where they can be read.
PAGES = {
    "fix": (
        "/fix",
        [
            (types("textbox", "search", "s"), {"search": ["s"]}),
            (picks("rows", 1), {"search": ["s"], "page": ["2"]}),
            (picks("in the order of", 1), {"search": ["s"], "by": ["chance of a bearing failure"]}),
        ],
        lambda page: page.locator("table.units tbody").last,
    ),
    "plan": (
        "/plan",
        [
            (types("spinbutton", "crew-hours", "16"), {"crew_hours": ["16"]}),
            (
                types("spinbutton", "people at once", "3"),
                {"crew_hours": ["16"], "people": ["3"]},
            ),
        ],
        line_of_settings,
    ),
    "look": (
        "/look",
        [
            (types("spinbutton", "inspector-hours", "3"), {"look_hours": ["3"]}),
            (
                ticks(re.compile("running")),
                {"look_hours": ["3"], "look_state": ["running"]},
            ),
        ],
        line_of_settings,
    ),
    "trend": (
        "/trend",
        [
            (ticks("12"), {"trend_months": ["12"]}),
            (picks("sites", 0), {"trend_months": ["12"], "trend_sites": ["Crusher"]}),
        ],
        line_of_settings,
    ),
    "trust": (
        "/trust",
        [(picks("tried on", 1), {"scheme": ["later failures of other units"]})],
        lambda page: page.get_by_test_id("stSelectbox").filter(has_text="tried on").first,
    ),
    "unit": (
        f"/unit?unit={HELD}",
        [(picks("re-work", 0), {"unit": [HELD], "rework": ["?"]})],
        below_what_re_work,
    ),
    "walkdowns": (
        "/walkdowns",
        [
            (picks("site", 0), {"route_sites": ["?"]}),
            (picks("line", 0), {"route_sites": ["?"], "route_lines": ["?"]}),
        ],
        lambda page: page.get_by_role("button", name=re.compile("Save the route of")),
    ),
}


@pytest.mark.parametrize("name", PAGES)
def test_back_forward_reload_a_bare_link_and_another_browser_show_what_the_address_says(
    browser, pages, name
):
    path, choices, told = PAGES[name]
    mine = browser.new_context(viewport={"width": 1280, "height": 1000})
    reader = Reader(mine.new_page(), pages, told)
    reader.opens(path)
    usual = parse_qs(urlsplit(path).query)
    states = [(usual, reader.sees())]
    for act, asked in choices:
        act(reader.page)
        reader.is_at(asked)
        states.append((asked, reader.sees()))
    print(states)
    assert len({words for _, words in states}) == len(states)

    for asked, words in reversed(states[:-1]):
        reader.page.go_back()
        reader.is_at(asked)
        reader.sees_again(words)
    for asked, words in states[1:]:
        reader.page.go_forward()
        reader.is_at(asked)
        reader.sees_again(words)
