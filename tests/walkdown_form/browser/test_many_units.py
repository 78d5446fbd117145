"""A long route on a phone: quick to open, easy to search, and it says how far each unit is."""

from pathlib import Path

import pytest
from phone import Phone, settings_of, steps_seen

from scoring.walkdown_form.document import form_document
from scoring.walkdown_form.without_network import MOST_UNITS, route_page

pytestmark = [pytest.mark.browser, pytest.mark.slow]


def test_a_long_route_is_searched_and_walked_without_waiting(browser, fleet, tmp_path: Path):
    units = fleet.units.head(MOST_UNITS)
    unit_ids = units["unit_id"].astype(str).tolist()
    path = tmp_path / "long.html"
    path.write_text(route_page(units, unit_ids, "long"), encoding="utf-8")
    assert path.stat().st_size < 3_000_000
    context = browser.new_context(**settings_of(390))
    phone = Phone(context.new_page())
    phone.open(path.as_uri())
    assert phone.page.locator(".row").count() == MOST_UNITS
    last = unit_ids[-1]
    phone.write("search", last.lower())
    assert phone.page.locator(".row").count() == 1
    phone.begin(last, "stopped")
    phone.tap("reason=no_access")
    phone.go("#/")
    assert phone.find("search").input_value() == last.lower()
    (unit,) = form_document(units, [last])["units"]
    asked = len(steps_seen(unit, {"S"}))
    assert f"1 of {asked}" in phone.find(f"unit={last}").inner_text()
    phone.write("search", "no such unit")
    assert "No unit of this route is so called" in phone.words
    rows_by_the_second_frame = """() => new Promise((done) => {
      document.querySelector('[data-key="to-route"]').click();
      requestAnimationFrame(() => requestAnimationFrame(() =>
        done(document.querySelectorAll('.row').length)));
    })"""
    phone.write("search", "")
    phone.tap(f"unit={last}")
    assert phone.page.evaluate(rows_by_the_second_frame) == MOST_UNITS
    context.close()
