"""A fault of ours is said in our words, with a mark; the rest is in the server's log alone."""

import os
import re
import subprocess
import time

import pytest
from kept_plants import SMALL_QUARRY
from pages_server import PATIENCE_S, free_port, start_pages, stop_pages
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

BREAK_TWO_PAGES = """
from dashboard.presenters import start_page
from dashboard.walkdown import today


def broken(*_, **__):
    raise ZeroDivisionError("all our own")


start_page.how_it_stands = today.today = broken
"""
MARK = re.compile(r"The mark of this fault is ([A-Z]{6})\.")
NEVER_SAID = ("Traceback", "ZeroDivisionError", "all our own", "streamlit", "Internal Server Error")


@pytest.fixture(scope="module")
def failing(tmp_path_factory):
    """Start pages of which two fail; return their address and their log."""
    folder = tmp_path_factory.mktemp("failing")
    (folder / "sitecustomize.py").write_text(BREAK_TWO_PAGES, encoding="utf-8")
    log = folder / "log"
    port = free_port()
    around = {**os.environ, "PYTHONPATH": str(folder)}
    with log.open("wb") as out:
        process = start_pages(
            SMALL_QUARRY, "--as-of", "2026-06-30",
            port=port, env=around, stdout=out, stderr=subprocess.STDOUT,
        )  # fmt: skip
        yield f"http://127.0.0.1:{port}", log
        stop_pages(process)


@pytest.mark.parametrize("path", ["/", "/today"])
def test_a_page_that_fails_says_so_in_our_words(browser, failing, path):
    address, log = failing
    page = browser.new_context(viewport={"width": 390, "height": 844}).new_page()
    page.goto(address + path)
    expect(page.get_by_text("Nothing was lost")).to_be_visible(timeout=1000 * PATIENCE_S)
    said = page.inner_text("body")
    expect(page.get_by_text("a fault of its own")).to_be_visible()
    expect(page.get_by_text("Open the page again")).to_be_visible()
    assert [word for word in NEVER_SAID if word.lower() in said.lower()] == []
    links = [one.get_attribute("href") for one in page.get_by_role("link").all()]
    assert [one for one in links if not one.startswith(("/", "#", address))] == []
    mark = MARK.search(said)[1]
    end = time.monotonic() + PATIENCE_S
    while f"fault {mark} at " not in log.read_text():
        assert time.monotonic() < end
        time.sleep(0.1)
    kept = log.read_text().split(f"fault {mark} at ")[1]
    assert "ZeroDivisionError: all our own" in kept
    page.context.close()


def test_the_other_pages_go_on(browser, failing):
    address, _ = failing
    page = browser.new_page()
    page.goto(f"{address}/fix")
    expect(page.get_by_role("heading", name="What to fix first")).to_be_visible(
        timeout=1000 * PATIENCE_S
    )
    page.close()
