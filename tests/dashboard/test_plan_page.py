"""The page of what to do in a shutdown, in Streamlit's own harness."""

import pandas as pd
import pytest
from pages_in_harness import metrics, open_page, words_of

from dashboard import fleet_results
from dashboard.presenters import plan_tables as present
from dashboard.presenters import shutdown_windows as asked
from scoring.errors import FixableError
from scoring.planning.choose import Choice

SITES = pd.Series(["Stone shed", "Sand plant"])
DAY = pd.Timestamp("2026-06-30")


def hours_used(app):
    return float(metrics(app)["crew-hours used"].split(" of ")[0])


def test_it_shows_the_plan_what_it_comes_to_and_what_missed_the_cut(monkeypatch):
    app = open_page(monkeypatch, "shutdown_plan")
    assert not app.exception
    assert app.title[0].value == "What to do in a shutdown"
    assert 0 < hours_used(app) <= 40
    said = words_of(app)
    assert "No plan lifts more holds" in said
    assert "planning values of ours" in said
    table = next(one.value for one in app.dataframe if "crew-hours" in one.value)
    assert table["crew-hours"].sum() == pytest.approx(hours_used(app))
    assert table["what to do"].str.contains("_").sum() == 0
    assert len(app.get("vega_lite_chart")) == 1
    assert len(app.get("download_button")) == 3


def test_other_hours_make_another_plan_and_the_weighing_is_kept(monkeypatch):
    app = open_page(monkeypatch, "shutdown_plan")
    monkeypatch.setattr(fleet_results, "weigh_bundles", None)  # not asked for a second time
    app.number_input(key="crew_hours").set_value(6.0).run()
    assert not app.exception
    assert hours_used(app) <= 6


def test_holds_that_do_not_fit_stand_before_everything_else(monkeypatch):
    app = open_page(monkeypatch, "shutdown_plan")
    app.number_input(key="crew_hours").set_value(0.5).run()
    assert app.subheader[0].value.startswith("■ Must not run, and not freed by this plan: 3")
    assert len(app.dataframe[0].value) == 3
    assert "fits. Give more hours" in app.info[0].value


def test_by_loss_alone_nothing_is_said_of_lifting_more_holds(monkeypatch):
    app = open_page(monkeypatch, "shutdown_plan")
    app.button_group(key="order").select("by loss alone").run()
    assert not app.exception
    assert "No plan for these hours avoids" in words_of(app)
    assert "No plan lifts" not in words_of(app)


def test_several_shutdowns_are_told_one_by_one(monkeypatch):
    app = open_page(monkeypatch, "shutdown_plan")
    app.button_group(key="how_many").select("several").run()
    assert not app.exception
    assert not app.error


def test_a_day_without_units_is_told(monkeypatch):
    app = open_page(monkeypatch, "shutdown_plan", as_of="1999-01-01")
    assert not app.exception
    assert "No unit was in service" in app.info[0].value


def test_shutdowns_of_a_table_and_of_a_file_are_checked_alike():
    rows = pd.concat(
        [
            asked.one_row(crew_hours=16, sites=["Sand plant"], people=2, name="July"),
            asked.one_row(crew_hours=8, starts_on=DAY, crane=False, name="June"),
        ],
        ignore_index=True,
    )
    windows = asked.shutdowns_of(rows, SITES, DAY).table
    assert windows["window"].tolist() == ["June", "July"]
    file = b"window,sites,starts_on,crew_hours,people,crane\nJune,,2026-06-30,8,,no\n"
    read = asked.windows_in_file("windows.csv", file, SITES, DAY)
    assert read.loc[0, "crew_hours"] == 8
    assert read.loc[0, "crane"] == "no"
    assert asked.shutdowns_of(read, SITES, DAY).table["crew_hours"].tolist() == [8]


def test_a_wrong_cell_is_named_by_row_and_column():
    rows = asked.one_row(crew_hours=8, sites=["Nowhere"])
    with pytest.raises(FixableError, match="row 1, sites: 'Nowhere' is no site"):
        asked.shutdowns_of(rows, SITES, DAY)
    with pytest.raises(FixableError, match="0 windows"):
        asked.shutdowns_of(rows[:0], SITES, DAY)


def test_how_near_the_best_is_said_for_both_orders():
    near = Choice(pd.Series([0]).to_numpy(), 90.0, 100.0, 2, 3)
    assert present.how_good(near, holds_first=True) == (
        "No plan lifts more than 3 holds; of those that lift as many none avoids 10.000% more."
    )
    assert present.how_good(near, holds_first=False) == (
        "No plan for these hours avoids 10.000% more."
    )
