"""The page of where to look next, in Streamlit's own harness."""

import pandas as pd
from click.testing import CliRunner
from pages_in_harness import metrics, open_page, words_of

from dashboard.presenters import look_tables as present
from demo_data.generate import generate_fleet
from demo_data.write import write_fleet
from scoring.cli.main import cli


def test_it_shows_a_route_for_the_hours_at_each_site(monkeypatch):
    app = open_page(monkeypatch, "where_to_look")
    assert not app.exception
    assert app.title[0].value == "Where to look next"
    route, sites = app.dataframe[0].value, app.dataframe[1].value
    assert 0 < len(route) == int(metrics(app)["visits"])
    assert (sites["of them used"] <= 8).all()
    assert route["look at"].str.contains("_").sum() == 0
    assert "walkdown" not in route
    assert "Worth:" in words_of(app)
    assert len(app.get("download_button")) == 2


def test_other_hours_and_another_state_make_another_route(monkeypatch):
    app = open_page(monkeypatch, "where_to_look")
    before = app.dataframe[0].value
    app.number_input(key="look_hours").set_value(1.0).run()
    assert len(app.dataframe[0].value) < len(before)
    app.radio(key="look_state").set_value("running").run()
    assert not app.exception


def test_one_site_alone_can_be_chosen(monkeypatch):
    app = open_page(monkeypatch, "where_to_look")
    site = app.multiselect(key="look_sites").options[0]
    app.multiselect(key="look_sites").set_value([site]).run()
    assert not app.exception
    assert set(app.dataframe[0].value["site"]) == {site}


def test_a_day_without_units_is_told(monkeypatch):
    app = open_page(monkeypatch, "where_to_look", as_of="1999-01-01")
    assert not app.exception
    assert "No unit was in service" in app.info[0].value


def test_over_a_store_every_visit_leads_to_its_walkdown(monkeypatch, tmp_path):
    write_fleet(generate_fleet(20, 1), tmp_path / "plant")
    store = f"sqlite:///{tmp_path}/plant.db"
    load = ["load", str(tmp_path / "plant"), "--store", store, "--by", "Ann Bell"]
    assert CliRunner().invoke(cli, load).exit_code == 0
    app = open_page(monkeypatch, "where_to_look", fleet=store)
    assert not app.exception
    route = app.dataframe[0].value
    assert len(route) > 0
    assert (route["walkdown"] == "/walkdown/new?unit=" + route["unit"]).all()


def test_a_link_holds_whatever_a_unit_is_called():
    visits = pd.DataFrame(
        {
            "order": [1],
            "unit_id": ["A & B"],
            "site": ["Pit"],
            "line": [None],
            "checks": ["seal_weep;breather"],
            "minutes": [32.0],
            "value": [100.4],
            "chance_of_finding": [0.1],
            "chance_of_hold": [0.0],
            "why": ["not seen"],
        }
    )
    row = present.visits_shown(visits, with_links=True).iloc[0]
    assert row["walkdown"] == "/walkdown/new?unit=A+%26+B"
    assert row["look at"] == "output seal; breather"
    rows = pd.DataFrame({"site": ["Pit", "Shed"], "hours": [2.0, None]})
    assert present.own_hours(rows) == {"Pit": 2.0}
