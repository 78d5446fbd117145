"""The page of where to look next, in Streamlit's own harness."""

import re

import pandas as pd
from click.testing import CliRunner
from pages_in_harness import open_page, tables_of, words_of

from dashboard.presenters import look_tables as present
from demo_data.generate import generate_fleet
from demo_data.write import write_fleet
from scoring.cli.main import cli
from scoring.contract.amounts_in_words import NARROW_SPACE
from scoring.looking.look_plan import LookPlan


def test_it_shows_a_route_for_the_hours_at_each_site(monkeypatch):
    app = open_page(monkeypatch, "where_to_look")
    assert not app.exception
    assert app.title[0].value == "Where to look next"
    sites = tables_of(app)[0]
    assert 0 < len(visits_of(app)) == sum(int(one["visits"]) for one in sites)
    assert all(float(one["of them used"]) <= 8 for one in sites)
    assert f"**8 hours at {sites[0]['site']} find what may save" in words_of(app)
    assert "begin" not in route_of(app)
    assert app.expander[0].label.startswith("all sites · 8 hours at each site")
    assert "Worth:" in words_of(app)
    assert len(app.get("download_button")) == 2


def test_other_hours_and_another_state_make_another_route(monkeypatch):
    app = open_page(monkeypatch, "where_to_look")
    before = visits_of(app)
    app.number_input(key="look_hours").set_value(1.0).run()
    assert len(visits_of(app)) < len(before)
    assert app.query_params["look_hours"] == "1"
    app.radio(key="look_state").set_value("running").run()
    assert not app.exception


def test_one_site_alone_can_be_chosen(monkeypatch):
    app = open_page(monkeypatch, "where_to_look")
    site = app.multiselect(key="look_sites").options[0]
    app.multiselect(key="look_sites").set_value([site]).run()
    assert not app.exception
    route = route_of(app)
    assert len(re.findall(f'<span class="where">{site}', route)) == len(visits_of(app)) > 0
    assert f"**8 hours at {site} find what may save" in words_of(app)


def route_of(app):
    return next(e.proto.body for e in app.get("html") if 'class="listed visits"' in e.proto.body)


def visits_of(app):
    return re.findall(r'<th role="rowheader"[^>]*><a href="[^"]*">([^<]*)</a>', route_of(app))


def test_a_link_shows_what_it_says(monkeypatch):
    query = {"look_hours": "2", "look_state": "running"}
    app = open_page(monkeypatch, "where_to_look", **query)
    assert app.number_input(key="look_hours").value == 2
    assert app.radio(key="look_state").value == "running"


def test_a_day_without_units_is_told(monkeypatch):
    app = open_page(monkeypatch, "where_to_look", spoken_of="1999-01-01")
    assert not app.exception
    assert "No unit was in service" in app.info[0].value


def test_over_a_store_every_visit_leads_to_its_walkdown(monkeypatch, tmp_path):
    write_fleet(generate_fleet(20, 1), tmp_path / "plant")
    store = f"sqlite:///{tmp_path}/plant.db"
    load = ["load", str(tmp_path / "plant"), "--store", store, "--by", "Ann Bell"]
    assert CliRunner().invoke(cli, load).exit_code == 0
    app = open_page(monkeypatch, "where_to_look", fleet=store)
    assert not app.exception
    units = visits_of(app)
    begun = re.findall(r'href="/walkdown/new\?unit=([^"]*)">begin</a>', route_of(app))
    assert len(units) > 0
    assert begun == units


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
            "currency": ["EUR"],
            "chance_of_finding": [0.1],
            "chance_of_hold": [0.0],
            "why": ["not seen"],
        }
    )
    shown = present.visits_list(visits, with_links=True)
    assert 'href="/walkdown/new?unit=A+%26+B">begin</a>' in shown
    assert '<a href="/unit?unit=A+%26+B">A &amp; B</a>' in shown
    assert "worth, EUR" in shown
    rows = pd.DataFrame({"site": ["Pit", "Shed"], "hours": [2.0, None]})
    assert present.own_hours(rows) == {"Pit": 2.0}


def test_worth_piles_up_over_hours_the_best_an_hour_first():
    visits = pd.DataFrame({"minutes": [60.0, 30.0, 30.0], "value": [10.0, 40.0, 2.0]})
    table = present.worth_over_hours(visits)
    assert table["hours"].tolist() == [0, 0.5, 1.5, 2]
    assert table["worth"].tolist() == [0, 40, 50, 52]
    assert present.half_found(table) == "Half of the worth is found in the first 0.5 of 2 hours"


def test_the_sentence_says_hours_sites_and_what_they_may_save():
    visits = pd.DataFrame({"currency": ["EUR", "EUR"]})
    sites = pd.DataFrame({"site": ["Pit", "Shed"], "hours": [8.0, 8.0], "value": [120.0, 4100.0]})
    thin = NARROW_SPACE
    assert present.sentence(LookPlan(visits, sites)) == (
        f"8 hours at each of 2 sites find what may save 4{thin}200 EUR; most at Shed: 4{thin}100 "
        "for 8 hours."
    )
    own = LookPlan(visits, sites.assign(hours=[2.0, 8.0]))
    assert present.sentence(own).startswith("10 hours at 2 sites find what may save ")
    one = LookPlan(visits, sites.tail(1))
    assert present.sentence(one) == f"8 hours at Shed find what may save 4{thin}100 EUR."
