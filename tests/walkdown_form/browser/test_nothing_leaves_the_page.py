"""The page asks for nothing, and a name is never more than a name."""

import json
import re
from pathlib import Path

import pytest
from phone import Phone, settings_of

from scoring.walkdown_form.page.page import online_page, page_without_network
from scoring.walkdown_form.without_network import route_page

HOSTILE = '</script><img src=x onerror="document.title=1">&lt;b&gt;<!-- \u2028 {0} ${x}'


def test_the_text_holds_no_address_and_no_open_door(route_file: Path):
    text = route_file.read_text(encoding="utf-8")
    outside = {
        found
        for found in re.findall(r"https?://[^\"'\s<>\\]+", text)
        if found != "http://www.w3.org/2000/svg"
    }
    assert outside == set()
    assert "default-src 'none'" in text
    assert "unsafe" not in text
    assert not re.search(r"innerHTML|insertAdjacentHTML|document\.write|\beval\b", text)


@pytest.mark.parametrize("write", [page_without_network, None])
def test_hostile_names_stay_data(form, write):
    hostile = {**form, "units": [{**form["units"][0], "unit_id": HOSTILE, "line": HOSTILE}]}
    if write:
        text = write(hostile, HOSTILE)
    else:
        text = online_page(hostile, {"draft_id": HOSTILE}, "/walkdown/api")
    assert "<img" not in text
    (data,) = re.findall(r'<script type="application/json" id="data">(.*?)</script>', text)
    assert json.loads(data)["form"]["units"][0]["unit_id"] == HOSTILE


@pytest.mark.browser
def test_hostile_names_are_shown_as_they_are(browser, fleet, tmp_path: Path):
    units = fleet.units.head(1).copy()
    for column in ("unit_id", "site", "line", "driven_equipment"):
        units[column] = HOSTILE
    path = tmp_path / "hostile.html"
    path.write_text(route_page(units, [HOSTILE], HOSTILE), encoding="utf-8")
    context = browser.new_context(**settings_of(390))
    context.set_offline(True)
    phone = Phone(context.new_page())
    phone.open(path.as_uri())
    assert HOSTILE in phone.page.locator("h1").text_content()
    phone.page.locator(".row").first.tap()
    phone.tap("kind=periodic")
    phone.tap("machine_state=stopped")
    phone.write("inspector", HOSTILE)
    phone.tap("begin")
    phone.tap("reason=no_access")
    phone.tap("to-list")
    phone.tap("to-end")
    phone.tap("sign")
    assert phone.title == "Signed"
    assert HOSTILE[:20] in phone.words
    assert phone.page.locator("main img").count() == 0
    phone.tap("to-route")
    assert HOSTILE in phone.page.locator(".row strong").text_content()
    kept = json.loads(phone.copy(tmp_path).read_text(encoding="utf-8"))
    assert kept["walkdowns"][0]["unit_id"] == HOSTILE
    assert phone.asked == []
    assert phone.complaints == []
    context.close()
