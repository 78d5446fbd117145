"""From a change to what it changes, on the 2,000-unit plant in a real browser."""

import time

import pytest

pytestmark = [pytest.mark.browser, pytest.mark.long]  # times are for a quiet machine

MOST_S = 2.0
OTHER_HOURS = (24, 120, 400, 60)
SETTLED = """() => {
  const app = document.querySelector('[data-testid=stApp]');
  return app.dataset.testScriptState === 'notRunning' && !document.querySelector('.stale-element');
}"""


@pytest.fixture(scope="module")
def page(browser, large_pages):
    opened = browser.new_context(viewport={"width": 1400, "height": 900}).new_page()
    opened.address = large_pages
    return opened


def go(page, path):
    page.goto(page.address + path)
    page.get_by_text("Before any work: lock out").wait_for(timeout=60_000)
    page.wait_for_function(SETTLED)


def timed(page, change, shown):
    begin = time.perf_counter()
    change()
    page.get_by_text(shown).first.wait_for()
    page.wait_for_function(SETTLED)
    return time.perf_counter() - begin


def test_a_new_plan_is_there_within_two_seconds(page):
    go(page, "/plan")
    page.get_by_text("· change").click()
    field = page.get_by_role("spinbutton", name="crew-hours")

    def change(hours):
        field.fill(str(hours))
        field.press("Enter")

    seconds = [timed(page, lambda h=hours: change(h), f" of {hours:g}") for hours in OTHER_HOURS]
    print("new plan after", [f"{one:.2f} s" for one in seconds])  # noqa: T201 - told with -s
    assert max(seconds) <= MOST_S


def test_what_re_work_would_change_is_there_within_two_seconds(page):
    go(page, "/unit?unit=CH-1935")
    page.get_by_role("combobox", name="re-work").focus()
    page.keyboard.type("back off isolators")
    page.get_by_role("option", name="back off isolators").first.wait_for()
    seconds = timed(page, lambda: page.keyboard.press("Enter"), "avoided a crew-hour")
    print(f"re-work weighed after {seconds:.2f} s")  # noqa: T201 - told with -s
    assert seconds <= MOST_S
