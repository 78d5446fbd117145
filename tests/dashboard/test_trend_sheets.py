"""The manager's month and crews' pages are offered where the trend is shown."""

import re
from pathlib import Path

import pytest
from kept_plants import SMALL_QUARRY
from pages_in_harness import open_page
from pages_server import PATIENCE_S
from playwright.sync_api import expect

from dashboard import results_in_use

PATIENCE_MS = 1000 * PATIENCE_S


def test_both_are_offered_and_no_run_pays_for_them(monkeypatch):
    made = []
    for name in ("pdf_of_month", "pdf_of_crew"):
        monkeypatch.setattr(f"dashboard.trend_sheets.{name}", lambda *_: made.append(1) or b"%PDF")
    open_page(monkeypatch, "start", SMALL_QUARRY)
    results_in_use.in_use.current().finish_trend()
    app = open_page(monkeypatch, "getting_better", SMALL_QUARRY)
    assert not app.exception
    assert len(app.get("download_button")) == 2
    (crew,) = [box for box in app.selectbox if box.label == "crew"]
    assert crew.options == ["crew A", "crew B", "night crew"]
    crew.select("night crew").run()
    assert made == []


@pytest.mark.browser
def test_a_manager_saves_the_month_and_a_crew_its_page(browser, pages):
    page = browser.new_context(viewport={"width": 1280, "height": 900}).new_page()
    page.set_default_timeout(PATIENCE_MS)
    page.goto(f"{pages}/trend")
    month = page.get_by_role("button", name=re.compile("Save the month"))
    expect(month).to_be_visible(timeout=PATIENCE_MS)
    with page.expect_download(timeout=PATIENCE_MS) as saved:
        month.click()
    assert Path(saved.value.path()).read_bytes().startswith(b"%PDF")
    page.get_by_text("A page for one crew").first.click()
    with page.expect_download(timeout=PATIENCE_MS) as saved:
        page.get_by_role("button", name=re.compile("Save the crew's page")).click()
    assert Path(saved.value.path()).read_bytes().startswith(b"%PDF")
    page.context.close()
