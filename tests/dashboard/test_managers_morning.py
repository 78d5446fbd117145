"""A manager's morning in a real browser: open the page, read the answer, open a site."""

import re

import pytest
from pages_server import PATIENCE_S
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

PATIENCE_MS = 1000 * PATIENCE_S


@pytest.mark.parametrize("width", [1280, 390])
def test_a_manager_reads_the_answer_and_opens_a_site(browser, pages, width):
    page = browser.new_context(viewport={"width": width, "height": 900}).new_page()
    page.set_default_timeout(PATIENCE_MS)
    page.goto(f"{pages}/trend")
    holds = page.get_by_text("On hold for more than 90 days").first
    expect(holds).to_be_visible(timeout=PATIENCE_MS)
    expect(holds).to_be_in_viewport()
    expect(page.get_by_text(re.compile("90 % interval .* a unit")).first).to_be_in_viewport()
    expect(page.get_by_text("Before any work: lock out")).to_be_attached(timeout=PATIENCE_MS)
    assert page.evaluate("document.body.scrollWidth") <= width
    link = page.locator("table.groups a").first
    site = link.inner_text()
    link.click()
    expect(page.get_by_role("heading", name="What to fix first", exact=True).first).to_be_visible(
        timeout=PATIENCE_MS
    )
    expect(page.get_by_text(site, exact=True).first).to_be_visible(timeout=PATIENCE_MS)
    page.go_back()
    expect(page.get_by_text("On hold for more than 90 days").first).to_be_visible(
        timeout=PATIENCE_MS
    )
    page.context.close()
