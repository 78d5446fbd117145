"""What pages lay out of results alone is laid out once, however often they run and for whomever."""

from collections import Counter

import altair as alt
import numpy as np
import pandas as pd
import pytest
import streamlit
from kept_plants import SMALL_QUARRY
from pages_in_harness import open_page

from dashboard import fleet_results, results_in_use
from dashboard.presenters import better_tables, trend_tables, trust_tables
from dashboard.shown_chart import ShownChart
from scoring.language.reading import Reading, reading_as
from scoring.planning.bundles import answered_already
from scoring.trends import better_sentences, sites_and_crews
from scoring.what_if.action_arrays import actions_of
from scoring.what_if.candidates import candidates_of
from scoring.what_if.what_if import what_if


@pytest.fixture
def counted(monkeypatch):
    """Count how often charts are described and tables laid out."""
    calls = Counter()

    def count(place, name):
        made = getattr(place, name)

        def counting(*given, **named):
            calls[name] += 1
            return made(*given, **named)

        monkeypatch.setattr(place, name, counting)

    count(alt.LayerChart, "to_dict")
    count(alt.Chart, "to_dict")
    for place, names in (
        (trust_tables, ("said", "sites", "nameplate", "years", "came_true", "everything_said")),
        (sites_and_crews, ("counted",)),
        (better_tables, ("half_years", "holds_by_month", "sites_shown", "cost_by_year")),
        (trend_tables, ("by_site", "recurring")),
        (better_sentences, ("holds_sentence", "money_sentence")),
    ):
        for name in names:
            count(place, name)
    return calls


@pytest.mark.parametrize(
    ("page", "some"),
    [("how_far_to_trust", {"said": 3, "years": 1}), ("getting_better", {"by_site": 1})],
)
def test_a_second_run_lays_nothing_out(monkeypatch, counted, page, some):
    open_page(monkeypatch, "start", SMALL_QUARRY)
    results_in_use.in_use.current().finish_trend()
    counted.clear()
    app = open_page(monkeypatch, page, SMALL_QUARRY)
    first = dict(counted)
    assert {name: first[name] for name in some} == some
    assert first["to_dict"] >= len(app.get("vega_lite_chart")) > 3
    app.run()
    other = open_page(monkeypatch, page, SMALL_QUARRY)
    assert dict(counted) == first
    for again in (app, other):
        assert not again.exception
        assert len(again.get("vega_lite_chart")) == len(app.get("vega_lite_chart"))


def test_another_day_is_laid_out_of_its_own(monkeypatch, counted):
    open_page(monkeypatch, "how_far_to_trust", SMALL_QUARRY)
    first = counted["said"]
    open_page(monkeypatch, "how_far_to_trust", SMALL_QUARRY, as_of="2026-03-31")
    assert counted["said"] == 2 * first


def test_a_chart_is_described_for_each_look_and_way_of_reading(monkeypatch):
    table = pd.DataFrame({"what": ["breather", "arm"], "times": [1.0, 2.0]})
    drawn = alt.Chart(table).mark_point().encode(x="times:Q", y=alt.Y("what:N", title="breather"))
    shown = ShownChart(drawn)
    look = {"type": "light"}
    monkeypatch.setattr(type(streamlit.context), "theme", property(lambda _: _Theme(look["type"])))
    english = shown.to_dict()
    assert english == drawn.to_dict()
    del english["datasets"]  # as Streamlit does
    assert "datasets" in shown.to_dict()
    with reading_as(Reading("de")):
        german = shown.to_dict()
    assert german["encoding"]["y"]["title"] == "Entlüfter"
    assert next(iter(german["datasets"].values()))[0]["what"] == "Entlüfter"
    assert shown.to_dict()["encoding"]["y"]["title"] == "breather"
    with alt.theme.enable("dark"):
        look["type"] = "dark"
        assert shown.to_dict() == drawn.to_dict() != {**english, "datasets": {}}
        assert shown.to_dict()["config"] != english.get("config")


class _Theme:
    def __init__(self, kind):
        self.type = kind


def test_what_first_work_buys_is_read_from_what_was_weighed(monkeypatch):
    asked = []
    monkeypatch.setattr(
        fleet_results, "what_if", lambda *given: asked.append(given) or what_if(*given)
    )
    open_page(monkeypatch, "start", SMALL_QUARRY)
    results = results_in_use.in_use.current()
    stands, bundles = results.assessed_fleet(), results.bundles()
    asked.clear()
    app = open_page(monkeypatch, "one_unit", SMALL_QUARRY, unit="SS-039")
    assert any("Lifts the hold; avoids " in one.proto.body for one in app.get("html"))
    assert asked == []
    one = bundles.iloc[[0]].reset_index(drop=True)
    question = candidates_of(
        stands.assessment.known,
        one["unit"].to_numpy(),
        actions_of(one["actions"][0])[np.newaxis],
    )
    pd.testing.assert_frame_equal(results.what_if(question), one)
    args = stands.assessor, stands.assessment, question, stands.success, stands.efforts
    pd.testing.assert_frame_equal(what_if(*args), one, rtol=1e-9)
    assert answered_already(bundles.iloc[1:], question) is None
