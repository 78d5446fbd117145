"""How long until the ranking of 2,000 units is shown, in a real browser; reported, never asserted.

Run with ``pytest tests/dashboard/test_first_ranking_speed.py -m long -s``.
"""

import os
import re
import time

import pytest
from kept_plants import ORE_WORKS
from pages_server import PATIENCE_S, free_port, start_pages, stop_pages

pytestmark = [pytest.mark.browser, pytest.mark.long]

PREPARED_S = 60
LATER_S = (1, 5, 15)


def test_until_the_ranking_is_shown(browser, tmp_path):
    shown = {}
    shown["cold, from starting the command"] = first_ranking(browser, tmp_path / "cold", None)
    for later in LATER_S:
        name = f"cold, opened {later} s after the port answered"
        shown[name] = first_ranking(browser, tmp_path / f"cold{later}", later)
    kept = tmp_path / "kept"
    first_ranking(browser, kept, PREPARED_S)
    shown["restarted, from starting the command"] = first_ranking(browser, kept, None)
    for later in (*LATER_S, PREPARED_S):
        name = f"restarted, opened {later} s after the port answered"
        shown[name] = first_ranking(browser, kept, later)
    for name, seconds in shown.items():
        print(f"\n{seconds:6.1f} s  {name}", end="")  # noqa: T201 - it is what is asked for


def first_ranking(browser, kept, later):
    """Return the seconds [s] until the ranking is shown, of a server of its own."""
    port = free_port()
    around = {**os.environ, "XDG_CACHE_HOME": str(kept)}
    begun = time.perf_counter()
    process = start_pages(ORE_WORKS, "--as-of", "2026-06-30", port=port, env=around)
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    page = context.new_page()
    try:
        if later is not None:
            time.sleep(later)
            begun = time.perf_counter()
        page.goto(f"http://127.0.0.1:{port}/fix")
        page.get_by_text(re.compile(r"^\d+ must not run\. ")).first.wait_for(
            timeout=1000 * PATIENCE_S
        )
        return time.perf_counter() - begun
    finally:
        context.close()
        stop_pages(process)
