"""How quick the form answers over a store of 10,000 units and 100,000 walkdowns, in a browser.

``pytest tests/benchmarks/test_large_store_in_a_browser.py -m long -s`` tells the figures; the
store is made by copying the large demo plant under other names.
"""

import sys
import time
from urllib.request import urlopen

import numpy as np
import pandas as pd
import pytest
from kept_plants import ORE_WORKS
from pages_server import free_port, start_pages, stop_pages
from quiet_chromium import QUIET

from scoring.contract import FLEET_TABLES
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.store.open_store import open_store
from scoring.store.put_records import put_records
from scoring.store.stored_values import stored_rows

pytestmark = [pytest.mark.long, pytest.mark.browser]

COPIES = 5
ROUNDS = 4
MEASURE = """
window.taps = []; window.saves = [];
let tapped = 0;
addEventListener('click', () => {
  tapped = performance.now();
  const from = tapped;
  requestAnimationFrame(() => requestAnimationFrame(() => taps.push(performance.now() - from)));
}, true);
new MutationObserver(() => {
  const state = document.querySelector('.state');
  if (tapped && state && state.textContent.startsWith('✓ saved')) {
    saves.push(performance.now() - tapped);
    tapped = 0;
  }
}).observe(document, {subtree: true, childList: true, characterData: true});
"""
NEXT_OR_SIGN = '[data-key="next"], [data-key="sign"]'


def tell(words: str) -> None:
    sys.stdout.write(words + "\n")


def copied(frame: pd.DataFrame, key: str, mark: str) -> pd.DataFrame:
    """Return records under other names."""
    named = {"unit_id", "asset_id", "event_id", key} & set(frame.columns)
    renamed = {n: (mark + frame[n].astype("str")).where(frame[n].notna()) for n in named}
    return frame.assign(**renamed)


@pytest.fixture(scope="module")
def large_store(tmp_path_factory) -> str:
    fleet = check_fleet(read_fleet(ORE_WORKS).tables, pd.Timestamp.today()).fleet
    where = f"sqlite:///{tmp_path_factory.mktemp('large') / 'large.db'}"
    begun = time.perf_counter()
    with open_store(where, make=True).writing("Ann Bell") as writing:
        for table in FLEET_TABLES:
            parts = [copied(fleet.table(table.name), table.key, f"{n}-") for n in range(COPIES)]
            if table.name == "walkdowns":
                parts += [p.assign(walkdown_id=p["walkdown_id"] + "-again") for p in parts]
            put = put_records(writing, table.name, stored_rows(pd.concat(parts), table), "copy")
            tell(f"{table.name}: {put.added}")
    tell(f"loaded in {time.perf_counter() - begun:.1f} s")
    return where


@pytest.fixture(scope="module")
def pages(large_store):
    port = free_port()
    process = start_pages(large_store, port=port)
    address = f"http://127.0.0.1:{port}"
    urlopen(f"{address}/walkdown", timeout=300).close()  # noqa: S310 - our own server
    yield address
    stop_pages(process)


@pytest.fixture(scope="module")
def browsers(playwright, chromium):
    """Start two browsers: a page in the back of one would be put to sleep."""
    both = [playwright.chromium.launch(executable_path=chromium, args=QUIET) for _ in range(2)]
    yield both
    for one in both:
        one.close()


def walk(page, address: str, unit_id: str) -> tuple[list[float], list[float], float]:
    """Enter a walkdown by taps; return the times of taps, saving and verdict in ms."""
    page.goto(f"{address}/walkdown/new?unit={unit_id}")
    page.fill("#by", "Kim Aster")
    page.get_by_role("button", name="Begin a walkdown").tap()
    page.wait_for_selector('[data-key="begin"]')
    page.locator('[data-key="kind=periodic"]').tap()
    page.locator('[data-key="machine_state=stopped"]').tap()
    page.locator('[data-key="begin"]').tap()
    while page.wait_for_selector(NEXT_OR_SIGN).get_attribute("data-key") == "next":
        answers = page.locator('[data-key^="answer="]')
        (answers.first if answers.count() else page.locator('[data-key="reason=no_access"]')).tap()
        page.wait_for_timeout(80)
        before = page.locator("h1").inner_text()
        page.locator('[data-key="next"]').tap()
        while page.locator("h1").inner_text() == before:
            page.wait_for_timeout(10)
    page.wait_for_selector("h2:has-text('Verdict')")
    taps, saves = page.evaluate("[taps, saves]")
    begun = time.perf_counter()
    page.locator('[data-key="sign"]').tap()
    page.wait_for_selector("h1:has-text('Signed')", timeout=30_000)
    return taps, saves, 1000 * (time.perf_counter() - begun)


@pytest.mark.parametrize("ranking_open", [False, True])
def test_taps_and_verdicts_over_a_large_store(pages, browsers, ranking_open):
    context = browsers[0].new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    context.add_init_script(MEASURE)
    page = context.new_page()
    if ranking_open:  # which works the ranking out anew after each signature
        beside = browsers[1].new_page()
        beside.goto(pages)
        beside.wait_for_selector("text=The ranking", timeout=240_000)
    taps, saves, verdicts = [], [], []
    for number in range(ROUNDS):
        some = walk(page, pages, f"{number}-SY-1564")
        taps += some[0]
        saves += some[1]
        verdicts.append(some[2])
        if ranking_open:
            beside.reload()
    context.close()
    tell(
        f"\nranking open beside: {ranking_open}\n{len(taps)} taps, to the changed screen: median "
        f"{np.median(taps):.0f} ms, 95th percentile {np.percentile(taps, 95):.0f} ms\n"
        f"{len(saves)} answers, to saved: median {np.median(saves):.0f} ms, 95th percentile "
        f"{np.percentile(saves, 95):.0f} ms\nverdict after the signature: "
        f"{', '.join(f'{one:.0f}' for one in verdicts)} ms"
    )
    assert len(taps) > 20 * ROUNDS
    assert len(verdicts) == ROUNDS
