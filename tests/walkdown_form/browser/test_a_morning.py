"""A morning of an inspector: open Today, begin what is due, answer, sign, go to the next unit."""

import re
import sys
import time

import pandas as pd
import pytest
from pages_on_a_store import Pages
from phone import Phone, good_value, settings_of, steps_seen
from playwright.sync_api import expect

from scoring.intake import check_fleet
from scoring.store.read_records import read_records
from scoring.walkdown_form.document import form_document

pytestmark = [pytest.mark.browser, pytest.mark.slow]

MOST_CLICKS_BESIDE_ANSWERS = 12


def test_a_morning_from_today_to_the_next_unit(browser, pages: Pages):
    context = browser.new_context(**settings_of(390))
    phone, name = Phone(context.new_page()), "Kim Aster"
    began, clicks = time.monotonic(), 0
    phone.open(f"{pages.address}/today")
    phone.page.fill("#by", name)
    phone.page.get_by_role("button", name="That is me").tap()
    clicks += 1
    heading = phone.page.get_by_role("heading", name=re.compile("^Next: "))
    expect(heading).to_be_visible()
    unit_id = heading.inner_text().removeprefix("Next: ")
    after = phone.page.locator("a.row strong").first.inner_text()
    room = phone.page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
    assert room[0] <= room[1]
    phone.page.get_by_role("button", name=f"Begin {unit_id}").tap()
    clicks += 1
    for key in ("kind=periodic", "machine_state=running", "begin"):
        phone.tap(key)
        clicks += 1
    with pages.store().reading() as connection:
        tables = read_records(connection, "the store", [unit_id])
    units = check_fleet(tables, pd.Timestamp.today()).fleet.units
    form = form_document(units, [unit_id])["units"][0]
    asked = steps_seen(form, {"R"}, "periodic")
    assert asked
    for step in asked:
        expect(phone.page.get_by_role("heading", level=1)).to_have_text(
            re.compile(re.escape(step["label"]), re.IGNORECASE)
        )
        phone.give(step, good_value(step))
        phone.go_on()
        clicks += 2
    phone.until(lambda: "Verdict" in phone.words)
    if phone.has("told"):
        phone.write("told", "Shift leader")
    phone.wait_until_saved()
    phone.tap("sign")
    clicks += 1
    following = phone.find("next-unit")
    expect(following).to_be_visible()
    expect(following).to_have_text(f"Go to {after}")
    following.tap()
    clicks += 1
    phone.page.get_by_role("button", name="Begin a walkdown").tap()
    clicks += 1
    phone.page.wait_for_selector('[data-key="begin"]')
    beside = clicks - 2 * len(asked)
    assert beside <= MOST_CLICKS_BESIDE_ANSWERS
    sys.stdout.write(f"390 px: {clicks} clicks, {time.monotonic() - began:.1f} s\n")
    phone.open(f"{pages.address}/today")
    expect(phone.page.get_by_role("heading", name=after, exact=True)).to_be_visible()
    expect(phone.page.get_by_role("link", name=f"Go on with {after}")).to_be_visible()
    assert unit_id not in phone.page.locator("main, body").first.inner_text()
    context.close()
    assert phone.complaints == []
