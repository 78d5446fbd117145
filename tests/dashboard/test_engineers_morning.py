"""An engineer's morning in a real browser: from the ranking to a plan that somebody else opens."""

import re

import pytest
from pages_server import PATIENCE_S
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

PATIENCE_MS = 1000 * PATIENCE_S


def test_from_the_ranking_to_a_chosen_plan_that_another_opens(browser, large_pages):
    clicks = 0
    mine = browser.new_context(viewport={"width": 1600, "height": 1000})
    page = mine.new_page()
    page.set_default_timeout(PATIENCE_MS)
    page.goto(f"{large_pages}/fix")
    expect(page.get_by_text(re.compile(r"^\d+ must not run")).first).to_be_visible(
        timeout=PATIENCE_MS
    )

    page.get_by_role("link", name="What to do in a shutdown").first.click()
    clicks += 1
    answer = page.get_by_text(re.compile(r"40 crew-hours: lift \d+ holds .*anything between"))
    expect(answer).to_be_in_viewport(timeout=PATIENCE_MS)

    choice = page.get_by_role("radiogroup", name="Choose a plan").get_by_text(
        re.compile(r"^\d+ holds lifted")
    )
    lifted = re.match(r"\d+", choice.nth(1).inner_text()).group()
    choice.nth(1).click()
    clicks += 1
    expect(page.get_by_text(re.compile(f"{lifted} of .* holds lifted;"))).to_be_visible(
        timeout=PATIENCE_MS
    )

    leave_out = page.get_by_role("link", name=re.compile("^leave out ")).first
    left_out = leave_out.get_attribute("aria-label").removeprefix("leave out ")
    leave_out.click()
    clicks += 1
    page.wait_for_url(re.compile(f"must_out={left_out}"))
    expect(page.get_by_text("1 unit left out")).to_be_visible(timeout=PATIENCE_MS)

    link = page.get_by_role("link", name="Link of this plan")
    expect(link).to_be_visible(timeout=PATIENCE_MS)
    said = page.get_by_text(re.compile("holds lifted; .* of expected loss avoided")).inner_text()
    copied = link.get_attribute("href")

    theirs = browser.new_context(viewport={"width": 390, "height": 844})
    other = theirs.new_page()
    other.goto(large_pages + copied if copied.startswith("/") else copied)
    expect(other.get_by_text(said)).to_be_visible(timeout=PATIENCE_MS)
    expect(other.get_by_role("link", name=f"leave out {left_out}")).to_have_count(0)
    assert other.evaluate("document.body.scrollWidth") <= 390
    assert clicks == 3
    theirs.close()
    mine.close()


STILL = "still rest on the handbook alone"
NOTE_WHETHER_IT_WAS_SAID = f"""new MutationObserver(() => {{
    window.wasSaid ||= document.body && document.body.textContent.includes("{STILL}");
}}).observe(document, {{subtree: true, childList: true, characterData: true}})"""


def test_a_day_nobody_asked_for_before_stands_by_the_handbook_until_the_rest_comes_in(
    browser, large_pages
):
    context = browser.new_context(viewport={"width": 1600, "height": 1000})
    page = context.new_page()
    page.set_default_timeout(PATIENCE_MS)
    page.add_init_script(NOTE_WHETHER_IT_WAS_SAID)
    page.goto(f"{large_pages}/fix?as_of=2026-03-31")
    page.get_by_text("Chances and losses rest on: handbook and fleet.").wait_for()
    assert page.evaluate("window.wasSaid")
    expect(page.get_by_text(STILL)).to_have_count(0)
    context.close()
