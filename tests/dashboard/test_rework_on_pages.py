"""Re-work on the page of a unit and on that of the trend, in Streamlit's own harness."""

import re

import pandas as pd
import pytest
from pages_in_harness import metrics, open_page, tables_of, words_of

from dashboard.presenters import rework_tables as present

HELD = "SS-039"
FOLDED = (
    "How often re-work succeeds",
    "Succeeded or not, check by check",
    "Found again after the cure had been seen good",
)


@pytest.fixture
def unit_page(monkeypatch):
    return open_page(monkeypatch, "one_unit", unit=HELD)


def test_actions_that_cure_what_was_found_come_first_and_nothing_is_shown_unasked(unit_page):
    options = unit_page.multiselect(key="rework").options
    marked = [words.startswith("▲") for words in options]
    assert marked[0]
    assert marked == sorted(marked, reverse=True)
    assert "loss avoided" not in metrics(unit_page)


def test_re_work_changes_risk_verdict_and_loss_at_once(unit_page):
    chosen = unit_page.multiselect(key="rework")
    cures = [words for words in chosen.options if words.startswith("▲")]
    chosen.set_value([words.removeprefix("▲ ").replace(" ", "_") for words in cures]).run()
    assert not unit_page.exception
    shown = metrics(unit_page)
    assert "EUR" in shown["loss avoided"]
    said = words_of(unit_page)
    assert "■ hold → " in said
    assert "hours of one person, set-ups included" in said


def test_another_finding_changes_the_verdict(unit_page):
    checks = unit_page.multiselect(key=f"checks of {HELD}")
    checks.set_value(["guard", "shaft_runout_mm"]).run()
    unit_page.selectbox(key=f"guard of {HELD}").set_value("missing")
    unit_page.number_input(key=f"shaft_runout_mm of {HELD}").set_value(0.2).run()
    assert not unit_page.exception
    assert not unit_page.error
    said = words_of(unit_page)
    assert "■ hold → ■ hold" in said
    assert "counts as found today" in said
    assert "loss avoided" not in metrics(unit_page)


def test_the_page_of_the_trend_tells_what_re_work_did(monkeypatch):
    app = open_page(monkeypatch, "getting_better")
    assert not app.exception
    assert re.search(r"Of \d+ cures of what had been found wrong \d+ were seen", words_of(app))
    folded = [part.label for part in app.expander]
    said = "Not looked at within 90 days of re-work"
    assert any(said in words for words in [*folded, words_of(app)])
    by_year = next(table for table in tables_of(app) if "labour, assumed price" in table[0])
    assert {row["occasion"] for row in by_year} == {"before a failure", "repair of a failure"}


def test_what_is_folded_away_is_made_when_it_is_opened(monkeypatch):
    app = open_page(monkeypatch, "getting_better")
    assert "the nearer to the usual chance" not in words_of(app)
    for words in FOLDED:
        app.session_state[words] = True
    app.run()
    assert not app.exception
    assert "the nearer to the usual chance" in words_of(app)


def test_without_re_work_it_says_so(monkeypatch, tmp_path):
    (tmp_path / "units.csv").write_text(
        "unit_id,site,installed_on,mounting,shaft_diameter_mm\nA-1,Pit,2024-01-01,keyed_bore,80\n",
        encoding="utf-8",
    )
    (tmp_path / "walkdowns.csv").write_text(
        "walkdown_id,unit_id,inspected_on,kind,guard\nW1,A-1,2024-01-02,post_install,missing\n",
        encoding="utf-8",
    )
    app = open_page(monkeypatch, "getting_better", fleet=str(tmp_path))
    assert not app.exception
    assert "No re-work is on record." in words_of(app)
    app = open_page(monkeypatch, "shutdown_plan", fleet=str(tmp_path))
    assert not app.exception


def test_only_cures_of_what_was_found_wrong_count():
    seen = pd.DataFrame(
        {
            "check": ["guard", "guard", "guard", "breather"],
            "before": ["found wrong", "found wrong", "found good", "found wrong"],
            "after": ["succeeded", "did not succeed", "succeeded", "not looked at since"],
        }
    )
    assert present.fates_said(seen) == (
        "Of 3 cures of what had been found wrong 2 were seen since: 1 succeeded (50 %), 1 did not."
    )
    unseen = seen.assign(after="not looked at since")
    assert present.fates_said(unseen).endswith(
        "cures of what had been found wrong none was seen since."
    )
    table = present.by_check(seen)
    assert table["cures"].tolist() == [2, 1]
    assert table["share that succeeded"].isna().tolist() == [False, True]


def test_gain_is_summed_by_year_and_only_hours_that_are_known_divide_it():
    gain = pd.DataFrame(
        {
            "done_on": pd.to_datetime(["2025-02-01", "2025-03-01", "2026-01-01"]),
            "after_failure": [False, False, True],
            "crew_hours": [4.0, None, 2.0],
            "loss_removed": [400.0, 100.0, None],
            "currency": "AUD",
        }
    )
    table = present.gain_by_year(gain)
    assert table["loss removed a year"].tolist() == [500]
    assert table["removed a crew-hour"].tolist() == [100]
