"""The pages with Streamlit's own harness: wiring, empty states, errors, no traceback."""

import base64
import csv
import gc
import html
import re
from dataclasses import replace

import pytest
from kept_plants import SMALL_QUARRY
from pages_in_harness import APP, folded_of, open_page, tables_of, words_of
from streamlit.testing.v1 import AppTest

from dashboard import launch_settings, results_in_use
from dashboard.presenters.unit_pictures import ShownPicture, opens_with


def open_app(monkeypatch, fleet=SMALL_QUARRY, as_of="2026-06-30", **query):
    monkeypatch.setenv(launch_settings.FLEET, fleet)
    monkeypatch.setenv(launch_settings.AS_OF, as_of)
    app = AppTest.from_file(APP, default_timeout=600)
    for name, value in query.items():
        app.query_params[name] = value
    return app.run()


def test_the_first_page_says_whose_plant_how_it_stands_and_where_to_go(monkeypatch):
    app = open_app(monkeypatch)
    assert not app.exception
    assert app.title[0].value == "Small quarry"
    assert "Of 56 units in service 3 must not run" in app.markdown[0].value
    assert any("as of 30 June 2026" in caption.value for caption in app.caption)
    shown = "".join(element.proto.body for element in app.get("html"))
    for verdict, count in (("hold", 3), ("correct", 28), ("watch", 20), ("no_finding", 5)):
        assert f'<a href="/fix?verdict={verdict}">{count} units</a>' in shown
    assert [to for to in ("/walkdowns", "/fix", "/trend") if f'href="{to}"' not in shown] == []


def test_the_ranking_shows_counts_and_holds(monkeypatch):
    app = open_page(monkeypatch, "what_to_fix_first")
    assert not app.exception
    assert app.title[0].value == "What to fix first"
    assert any(said.value.startswith("**3 must not run") for said in app.markdown)
    assert listed(app, "holds", "<li>") == 3
    assert listed(app, "units", '<tr role="row">') == 1 + 50
    app.selectbox(key="page").set_value(2).run()
    assert listed(app, "units", '<tr role="row">') == 1 + 6


def listed(app, name, row):
    """Count the rows of a list that a page shows."""
    [body] = [e.proto.body for e in app.get("html") if f'class="{name}"' in e.proto.body[:40]]
    return body.count(row)


def html_of(app, name):
    """Return the first block of HTML of a class that a page shows."""
    return next(e.proto.body for e in app.get("html") if f'class="{name}"' in e.proto.body[:60])


def test_filters_narrow_the_ranking_and_leave_the_holds_alone(monkeypatch):
    app = open_page(monkeypatch, "what_to_fix_first")
    app.multiselect(key="verdict").set_value(["no_finding"]).run()
    assert listed(app, "units", '<tr role="row">') == 1 + 5
    assert listed(app, "holds", "<li>") == 3
    app.text_input(key="search").set_value("no such thing").run()
    said = words_of(app)
    assert "No unit fits what is asked for: search  no such thing ; verdict  · no finding ." in said


@pytest.mark.parametrize("unit_id", ["SS-005", "SS-004", "SS-010"])
def test_a_unit_opens_whether_anything_was_found_or_not(monkeypatch, unit_id):
    app = open_unit(monkeypatch, unit_id)
    assert not app.exception
    assert app.title[0].value == unit_id.replace("-", r"\-")


def test_one_unit_opens_by_its_link(monkeypatch):
    app = open_unit(monkeypatch, "SS-039")
    assert not app.exception
    assert app.title[0].value == r"SS\-039"
    block = html_of(app, "must-not-run")
    assert "<h2>■ must not run</h2><p><b>Shaft end does not reach what is required.</b>" in block
    assert "Last seen on 21 May 2026 by inspector 1." in block
    assert "Told: nobody on record." in block
    first = html_of(app, "first")
    assert "<b>First:</b> take the unit off and fit a shaft of the right length" in first
    assert "30 crew-hours; 3 people at once; with a crane; parts: shaft of the right" in first
    assert "parts take 28 days to come." in first
    assert "Lifts the hold; avoids " in first
    assert "rank 1 of 56." in html_of(app, "chances")
    assert html_of(app, "chances").count('class="bar"') == 3
    assert not app.get("vega_lite_chart")
    app = open_page(monkeypatch, "one_unit", unit="SS-039", unfolded=folded_of("SS-039"))
    assert not app.exception
    assert len(app.get("vega_lite_chart")) >= 3
    assert len(tables_of(app)) > 40  # inputs of each number, checks, nameplate


@pytest.mark.parametrize("unit_id", ["SS-001", "SS-002", "SS-004", "SS-029"])
def test_a_unit_of_each_mounting_opens(monkeypatch, unit_id):
    app = open_unit(monkeypatch, unit_id)
    assert not app.exception
    assert app.title[0].value == unit_id.replace("-", r"\-")
    assert "Stone shed" in app.text[0].value


def test_an_unknown_unit_is_told_and_a_choice_offered(monkeypatch):
    app = open_unit(monkeypatch, "nobody")
    assert "was in service" in app.warning[0].value
    assert "Choose a unit" in app.info[0].value


def test_the_trend_page_shows_the_fleet_over_time(monkeypatch):
    app = open_page(monkeypatch, "getting_better")
    assert not app.exception
    assert app.title[0].value == "Is it getting better?"
    assert any("judged" in text.value for text in app.text)


def test_a_day_without_units_is_told(monkeypatch):
    app = open_app(monkeypatch, as_of="1999-01-01")
    assert not app.exception
    assert "No unit was in service" in app.info[0].value


def test_a_fleet_that_is_not_there_is_told_without_a_traceback(monkeypatch):
    app = open_app(monkeypatch, fleet="nowhere")
    assert not app.exception
    assert "there is no folder" in app.error[0].value


def hostile_fleet(folder):
    name = "![x](http://outside.invalid/x.png) $a$ <b>"
    units = [
        ["unit_id", "site", "installed_on", "mounting", "shaft_diameter_mm"],
        [name, name, "2026-01-10", "keyed_bore", "80"],
    ]
    walkdowns = [
        ["walkdown_id", "unit_id", "inspected_on", "kind", "guard"],
        ["W1", name, "2026-01-11", "post_install", "missing"],
    ]
    for table, rows in (("units", units), ("walkdowns", walkdowns)):
        with (folder / f"{table}.csv").open("w", newline="", encoding="utf-8") as file:
            csv.writer(file).writerows(rows)
    return str(folder), name


def test_names_are_shown_as_they_are_and_never_as_markup(monkeypatch, tmp_path):
    fleet, name = hostile_fleet(tmp_path)
    app = open_unit(monkeypatch, name, fleet)
    assert not app.exception
    assert r"\!\[x\]\(" in app.title[0].value


def test_faulty_records_are_told_and_shown_only_if_asked(monkeypatch, tmp_path):
    fleet, _ = hostile_fleet(tmp_path)
    path = tmp_path / "walkdowns.csv"
    path.write_text(path.read_text(encoding="utf-8").replace("missing", "gone"), encoding="utf-8")
    app = open_app(monkeypatch, fleet=fleet)
    assert app.title[0].value == "Bring in records"
    assert "1 fault in 1 of" in words_of(app)
    assert "gone" in "".join(one.proto.body for one in app.get("html"))
    results_in_use.in_use.forget()
    monkeypatch.setenv(launch_settings.KEEP_GOOD, "yes")
    app = open_app(monkeypatch, fleet=fleet)
    assert not app.error
    assert any("left out" in warning.value for warning in app.warning)


def test_what_is_read_is_taken_out_of_the_collectors_sight(monkeypatch):
    """Every rerun ends with a full collection; without the freeze it costs many times more."""
    gc.unfreeze()
    open_app(monkeypatch)
    assert gc.get_freeze_count() > 0


def open_unit(monkeypatch, unit_id, fleet=SMALL_QUARRY):
    return open_page(monkeypatch, "one_unit", fleet, unit=unit_id)


def images(app):
    """Return address and text alternative of every picture on a page."""
    bodies = [element.proto.body for element in app.get("html")]
    found = [
        re.search(r'<img src="([^"]*)" style="[^"]*" alt=("[^"]*"|\'[^\']*\')>', b) for b in bodies
    ]
    return [(one[1], html.unescape(one[2][1:-1])) for one in found if one]


def test_a_unit_is_shown_in_pictures_each_told_in_words(monkeypatch):
    app = open_unit(monkeypatch, "SS-039")
    assert not app.exception
    names = [tab.label for tab in app.tabs]
    assert names[:2] == ["Joint", "Torque arm"]
    assert names[-1] == "Walk round"
    shown = images(app)
    assert len(shown) == len(names)
    assert all(url.startswith("data:image/svg+xml;base64,") for url, _ in shown)
    assert all(len(alternative) > 40 for _, alternative in shown)


def test_findings_have_one_number_in_the_list_and_beside_each_picture(monkeypatch):
    app = open_unit(monkeypatch, "SS-039")
    table = html_of(app, "listed")
    numbers = re.findall(r'<td class="nr">(\d+)</td>', table)
    founds = [html.unescape(one) for one in re.findall(r'<td class="found">(.*?)</td>', table)]
    assert numbers == [str(number) for number in range(1, len(founds) + 1)]
    beside_the_walk = [text.value for text in app.tabs[-1].text]
    assert len(beside_the_walk) == len(founds)
    for said, number, found in zip(beside_the_walk, numbers, founds, strict=True):
        assert said.startswith(f"{number} ")
        assert said.endswith(found)


def test_names_of_units_are_text_in_pictures_too(monkeypatch, tmp_path):
    fleet, name = hostile_fleet(tmp_path)
    shown = images(open_unit(monkeypatch, name, fleet))
    assert len(shown) == 3
    for url, _ in shown:
        svg = base64.b64decode(url.partition(",")[2]).decode()
        assert "<b>" not in svg
        assert "&lt;b&gt;" in svg


def test_a_unit_opens_with_the_picture_that_marks_its_worst_finding():
    joint = ShownPicture("Joint", "", "", "", 900, "", "", ("2  shaft runs out",), 1, ())
    arm = replace(joint, name="Torque arm", marked=("1  ■ hold: metal touches metal",))
    assert opens_with([joint, arm]) == "Torque arm"
    assert opens_with([joint, replace(arm, marked=("10  bolt loose",))]) == "Joint"
