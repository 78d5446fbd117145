"""What a thumb has to hit is as big as a thumb, and a page on a phone does not go on for ever."""

import re

import pytest
from playwright.sync_api import expect
from test_in_a_browser import HELD, PATIENCE_MS, Visitor

pytestmark = pytest.mark.browser

TOUCH_PX = 48
LONGEST_TREND_PX = 6000

BOXES = (
    "[data-testid=stTextInputRootElement],[data-testid=stRadio] [role=radiogroup] label,"
    ".react-aria-ComboBox > [role=group],[data-testid=stMainBlockContainer] summary"
)

ALL_HIGH_ENOUGH = """([boxes, least]) => {
  const heights = [...document.querySelectorAll(boxes)]
    .map(one => one.getBoundingClientRect().height).filter(high => high > 0);
  return heights.length > 0 && Math.min(...heights) >= least;
}"""
IS_SHORTER = """most => document.querySelector("[data-testid=stMain]").scrollHeight < most"""
CELLS_ARE_WHOLE = """() => {
  const ends = [...document.querySelectorAll("table.framed td")]
    .flatMap(one => [...one.getClientRects()].map(box => box.right));
  return ends.length > 0 && Math.max(...ends) <= innerWidth;
}"""


@pytest.fixture
def hand(browser, pages):
    context = browser.new_context(viewport={"width": 390, "height": 844})
    visitor = Visitor(context, pages)
    yield visitor
    context.close()
    assert visitor.left_the_machine == []


@pytest.mark.parametrize("path", ["/fix", f"/unit?unit={HELD}", "/plan"])
def test_boxes_and_choices_are_as_high_as_a_thumb(hand, path):
    page = hand.page
    page.goto(hand.address + path)
    page.get_by_role("heading", level=1).first.wait_for(timeout=PATIENCE_MS)
    hand.settle()
    page.wait_for_function(ALL_HIGH_ENOUGH, arg=[BOXES, TOUCH_PX], timeout=PATIENCE_MS)


def test_the_trend_is_short_and_its_cards_are_whole(hand):
    page = hand.go("/trend", "Is it getting better?")
    page.get_by_text("Working out the month-ends").first.wait_for(
        state="detached", timeout=PATIENCE_MS
    )
    hand.settle()
    page.wait_for_function(IS_SHORTER, arg=LONGEST_TREND_PX, timeout=PATIENCE_MS)
    page.wait_for_function(CELLS_ARE_WHOLE, timeout=PATIENCE_MS)
    between = page.locator("table.framed td + td").first.evaluate(
        "cell => getComputedStyle(cell, '::before').content"
    )
    assert between == '" · "'


@pytest.mark.parametrize("path", ["plan", "look"])
def test_a_list_in_a_hand_begins_with_five_rows_and_shows_all_at_a_tap(browser, pages, path):
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto(f"{pages}/{path}")
    first = page.locator(".first").first
    expect(first).to_be_visible(timeout=PATIENCE_MS)
    rows = first.locator("tbody tr")
    shown = first.locator("tbody tr").filter(visible=True)
    expect(shown).to_have_count(5)
    first.get_by_role("checkbox", name=re.compile(r"^all \d+ rows$")).check()
    assert rows.count() > 5
    expect(shown).to_have_count(rows.count())
    page.set_viewport_size({"width": 1280, "height": 900})
    expect(first.get_by_role("checkbox")).to_be_hidden()
    context.close()


@pytest.mark.parametrize(("asked", "is_seen"), [("", False), ("?verdict=hold", True)])
def test_the_filters_are_folded_on_a_phone_unless_the_address_names_one(
    browser, pages, asked, is_seen
):
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, user_agent="Mozilla/5.0 (Linux) Mobile"
    )
    page = context.new_page()
    page.goto(f"{pages}/fix{asked}")
    expect(page.locator("table.units").first).to_be_visible(timeout=PATIENCE_MS)
    expect(page.get_by_label("search", exact=True)).to_be_visible(
        visible=is_seen, timeout=PATIENCE_MS
    )
    context.close()
