"""A plan is kept in one browser, opened in another, worked on, and compared with what was done."""

import re
import time
from contextlib import closing

import pytest
from pages_server import PATIENCE_S, free_port, start_pages, stop_pages
from playwright.sync_api import TimeoutError as TooLongError
from playwright.sync_api import expect
from stored_quarry import load_quarry

from scoring.entering.kept_plans import jobs_of_plans
from scoring.store.open_store import open_store

pytestmark = pytest.mark.browser

PATIENCE_MS = 1000 * PATIENCE_S
AGAIN_MS = 5000
"""After records have changed a page may show them as they were, until it is opened again."""


@pytest.fixture
def stored(tmp_path):
    """Show the plant out of a store, as of today; return the store's address and the pages'."""
    url, port = load_quarry(tmp_path / "quarry.db"), free_port()
    process = start_pages(url, port=port)
    yield url, f"http://127.0.0.1:{port}"
    stop_pages(process)


def test_a_plan_is_kept_opened_by_another_done_and_compared(browser, stored):
    url, address = stored
    mine = browser.new_context(viewport={"width": 1280, "height": 900})
    page = mine.new_page()
    page.set_default_timeout(PATIENCE_MS)
    page.goto(f"{address}/plan?crew_hours=24")
    page.get_by_text("Keep this plan by name").click()
    page.get_by_label("name of the plan").fill("July shutdown")
    page.get_by_label("your name").first.fill("Ann Bell")
    page.get_by_role("button", name="Keep this plan").click()
    kept = page.get_by_role("status").get_by_role("link", name="July shutdown")
    expect(kept).to_be_visible(timeout=PATIENCE_MS)
    link = kept.get_attribute("href")
    expect(page.get_by_text("Kept plans: 1")).to_be_visible(timeout=PATIENCE_MS)
    mine.close()

    theirs = browser.new_context(viewport={"width": 390, "height": 844})
    other = theirs.new_page()
    other.set_default_timeout(PATIENCE_MS)
    other.goto(address + link)
    expect(other.get_by_role("heading", name="July shutdown", exact=True)).to_be_visible(
        timeout=PATIENCE_MS
    )
    expect(other.get_by_text(re.compile(r"^Of \d+ planned jobs 0 are done"))).to_be_visible()
    expect(other.get_by_text("Kept by Ann Bell on")).to_be_visible()
    assert other.evaluate("document.body.scrollWidth") <= 390

    with closing(open_store(url)) as store, store.reading() as connection:
        jobs = jobs_of_plans(connection, [link.rpartition("=")[2]])
    job = jobs[~jobs["actions"].str.contains(";")].iloc[0]
    other.goto(f"{address}/enter/rework?unit={job['unit_id']}")
    other.locator(f"input[name=actions][value={job['actions']}]").check()
    other.get_by_label("your name").fill("Bo Carr")
    other.get_by_role("button", name="Keep it").click()
    expect(other.get_by_role("button", name="Keep it")).to_have_count(0, timeout=PATIENCE_MS)

    one_done = other.get_by_text(
        re.compile(rf"^Of {len(jobs)} planned jobs 1 is done .*: {job['hours']:g} of ")
    )
    open_until_seen(other, address + link, one_done)
    row = other.get_by_role("row").filter(has=other.get_by_role("link", name=job["unit_id"]))
    expect(row.get_by_role("cell", name=re.compile("^done, "))).to_be_visible()
    theirs.close()


def open_until_seen(page, address, wanted):
    """Open a page until it shows the records as they are."""
    end = time.monotonic() + PATIENCE_S
    while True:
        page.goto(address)
        try:
            wanted.wait_for(timeout=AGAIN_MS)
        except TooLongError:
            assert time.monotonic() < end, page.inner_text("body")
        else:
            return
