"""A part of a page that works for long says so at the place of the page, and shows its answer."""

import sys

import pages_that_say_at_once
import pytest
from kept_plants import SMALL_QUARRY
from pages_server import PATIENCE_S, free_port, start_pages, stop_pages
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

PATIENCE_MS = 1000 * PATIENCE_S


@pytest.fixture
def slow_pages():
    port, program = free_port(), pages_that_say_at_once.__file__
    process = start_pages(
        SMALL_QUARRY, "--as-of", "2026-06-30", port=port, command=(sys.executable, program)
    )
    yield f"http://127.0.0.1:{port}"
    stop_pages(process)


def test_re_work_that_takes_long_to_weigh_is_weighed(browser, slow_pages):
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    page = context.new_page()
    page.set_default_timeout(PATIENCE_MS)
    page.goto(f"{slow_pages}/unit?unit=SS-039")
    page.get_by_text("Before any work: lock out").first.wait_for()
    page.get_by_role("combobox", name="re-work").focus()
    page.keyboard.type("back off isolators")
    page.get_by_role("option", name="back off isolators").wait_for()
    page.keyboard.press("Enter")
    weighed = page.get_by_text("loss avoided", exact=True)
    expect(weighed.or_(page.get_by_text("The mark of this fault"))).to_be_visible(
        timeout=PATIENCE_MS
    )
    expect(weighed).to_be_visible()
    context.close()
