"""What is chosen on the page of the trend: what it changes, and that the address keeps it."""

import re

import pandas as pd
import pytest
from pages_in_harness import open_page, words_of
from pages_server import PATIENCE_S
from playwright.sync_api import expect

from dashboard.presenters import better_tables as present

PATIENCE_MS = 1000 * PATIENCE_S


def test_only_the_last_months_are_kept():
    ends = pd.to_datetime(["2026-04-30", "2026-04-30", "2026-05-31", "2026-06-30"])
    table = pd.DataFrame({"month_end": ends, "holds": [1, 2, 3, 4]})
    assert present.last_months(table, 2)["holds"].tolist() == [3, 4]
    assert present.last_months(table, 3)["holds"].tolist() == [1, 2, 3, 4]


def test_what_a_link_says_is_chosen_and_what_it_cannot_mean_is_left_out(monkeypatch):
    asked = {"trend_sites": ["Stone shed", "Moon"], "trend_months": "12"}
    app = open_page(monkeypatch, "getting_better", **asked)
    assert not app.exception
    assert app.multiselect(key="trend_sites").value == ["Stone shed"]
    assert app.radio(key="trend_months").value == 12
    assert any(one.label.startswith("Stone shed · pictures of 12") for one in app.expander)
    assert "no site and no crew differs" not in words_of(app)


@pytest.mark.browser
def test_what_is_chosen_outlives_reload_another_page_back_and_a_link(browser, pages):
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    page = context.new_page()
    page.set_default_timeout(PATIENCE_MS)
    page.goto(f"{pages}/trend")
    page.get_by_text("all sites · pictures of 24 months").click()
    page.get_by_text("12", exact=True).click()
    chosen = re.compile(r"/trend\?trend_months=12$")
    expect(page).to_have_url(chosen, timeout=PATIENCE_MS)
    shown = re.compile("pictures of 12 months")
    expect(page.get_by_text(shown).first).to_be_visible(timeout=PATIENCE_MS)
    page.reload()
    expect(page.get_by_text(shown).first).to_be_visible(timeout=PATIENCE_MS)
    page.get_by_role("link", name="How far to trust it").first.click()
    heading = page.get_by_role("heading", level=1)
    expect(heading).to_have_text("How far to trust it", timeout=PATIENCE_MS)
    page.go_back()
    expect(page.get_by_text(shown).first).to_be_visible(timeout=PATIENCE_MS)
    expect(page).to_have_url(chosen, timeout=PATIENCE_MS)
    address = page.url
    context.close()
    another = browser.new_context(viewport={"width": 1280, "height": 900})
    copied = another.new_page()
    copied.goto(address)
    expect(copied.get_by_text(shown).first).to_be_visible(timeout=PATIENCE_MS)
    another.close()
