"""Plans and views kept by name on their pages, in Streamlit's own harness over a store."""

import re

import pandas as pd
import pytest
from pages_in_harness import open_page, words_of
from stored_quarry import copy_of, load_quarry

from dashboard import kept_by_name, results_in_use, session
from dashboard.presenters.kept_plan_words import KEPT
from scoring.entering.enter_record import enter_record
from scoring.entering.kept_plans import jobs_of_plans, kept_plans
from scoring.entering.kept_views import kept_views
from scoring.entering.new_keys import new_key
from scoring.planning.shutdowns import one_shutdown
from scoring.planning.wishes import NO_WISHES
from scoring.store.open_store import open_store

TODAY = str(pd.Timestamp.now().date())


@pytest.fixture(scope="module")
def loaded(tmp_path_factory):
    file = tmp_path_factory.mktemp("quarry") / "quarry.db"
    load_quarry(file)
    return file


@pytest.fixture(autouse=True)
def nobody(monkeypatch):
    """Let nobody hold the device: the harness has no cookies."""
    monkeypatch.setattr(kept_by_name, "person", lambda: "")


@pytest.fixture
def url(loaded, tmp_path):
    return copy_of(loaded, tmp_path)


@pytest.fixture
def store(url):
    opened = open_store(url)
    yield opened
    opened.close()


def html_of(app):
    return "\n".join(one.proto.body for one in app.get("html"))


def press(app, words):
    return next(one for one in app.button if one.label == words).click().run()


def keep(app, name="July", by="Ann Bell"):
    app.text_input(key="name of the plan").set_value(name)
    app.text_input(key="who keeps the plan").set_value(by)
    return press(app, "Keep this plan")


def kept_in(store):
    with store.reading() as connection:
        plans = kept_plans(connection)
        return plans, jobs_of_plans(connection, [one.plan_id for one in plans])


def test_over_files_it_says_that_a_plan_and_a_view_live_in_their_links(monkeypatch):
    plan = open_page(monkeypatch, "shutdown_plan")
    assert "over files a plan lives in its link" in words_of(plan)
    assert not [one for one in plan.expander if "Keep" in one.label or "Kept" in one.label]
    fix = open_page(monkeypatch, "what_to_fix_first", verdict="hold")
    assert "[Link of this view](/fix?verdict=hold)" in words_of(fix)
    gone = open_page(monkeypatch, "shutdown_plan", kept="P-1")
    assert "these pages show files" in gone.error[0].value.replace("\\", "")


def test_a_plan_is_kept_as_it_stands_and_listed(monkeypatch, url, store):
    app = open_page(monkeypatch, "shutdown_plan", fleet=url, spoken_of=TODAY, crew_hours="12")
    rows = session.plan(*planned_by(12)).jobs
    app = keep(app)
    assert not app.exception
    (plan,), jobs = kept_in(store)
    assert (plan.name, plan.kept_by, plan.as_of) == ("July", "Ann Bell", TODAY)
    assert plan.link == f"/plan?crew_hours=12&as_of={TODAY}"
    assert jobs["unit_id"].tolist() == rows["unit_id"].tolist()
    assert jobs["actions"].tolist() == rows["actions"].tolist()
    assert jobs["loss_avoided"].tolist() == rows["loss_avoided"].tolist()
    assert f"](/plan?kept={plan.plan_id})" in app.success[0].value
    assert "Kept plans: 1" in [one.label for one in app.expander]
    assert f'href="/plan?kept={plan.plan_id}"' in html_of(app)
    again = keep(app)
    assert "Ann Bell keeps a plan as 'July' already" in again.error[0].value.replace("\\", "")
    nameless = keep(again, name=" ")
    assert "the name of the plan is empty" in nameless.error[0].value.replace("\\", "")
    assert len(kept_in(store)[0]) == 1


def planned_by(hours):
    shutdowns = one_shutdown(session.open_fleet().as_of, hours)
    return session.front(shutdowns, NO_WISHES, None).most_holds, shutdowns, NO_WISHES


def enter(store, unit_id, actions, hours):
    row = {"rework_id": new_key("rework"), "unit_id": unit_id, "done_on": TODAY}
    row |= {"actions": actions, "hours": hours, "crew_size": "2"}
    enter_record(store, "rework", row, actor="Bo Carr")


def test_a_kept_plan_is_shown_beside_what_was_done(monkeypatch, url, store):
    keep(open_page(monkeypatch, "shutdown_plan", fleet=url, spoken_of=TODAY))
    (plan,), jobs = kept_in(store)
    single = jobs[~jobs["actions"].str.contains(";")]
    first, other = single.iloc[0], jobs[jobs["unit_id"] != single.iloc[0]["unit_id"]].iloc[0]
    enter(store, first["unit_id"], first["actions"], "1.5")
    enter(store, other["unit_id"], "turn_backstop", "")
    results_in_use.in_use.forget()
    app = open_page(
        monkeypatch, "shutdown_plan", fleet=url, spoken_of=TODAY, **{KEPT: plan.plan_id}
    )
    assert not app.exception
    assert app.title[0].value == "July"
    said = words_of(app).replace("\\", "")
    assert f"Of {len(jobs)} planned jobs 1 is done and {len(jobs) - 1} are not done" in said
    assert f"{first['hours']:g} of {jobs['hours'].sum():g} planned crew-hours" in said
    assert "Planned work on record took 3 crew-hours." in said
    assert "Kept by Ann Bell on " in said
    table = html_of(app)
    assert "turn backstop" in table
    assert not re.search(r">[a-z]+_[a-z_]+<", table)
    assert "None" not in table
    assert [one.label for one in app.get("download_button")] == [
        "Save plan and done as CSV",
        "Save what was not planned as CSV",
        "Save the work order as PDF",
    ]
    app.text_input(key="who withdraws the plan").set_value("Bo Carr")
    gone = press(app, "Withdraw")
    assert not gone.exception
    assert "Withdrawn by Bo Carr on " in words_of(gone)
    assert kept_in(store)[0] == []


def test_pages_of_an_earlier_day_say_that_nothing_done_is_seen(monkeypatch, url, store):
    keep(open_page(monkeypatch, "shutdown_plan", fleet=url))
    (plan,), _ = kept_in(store)
    assert plan.as_of == "2026-06-30"
    app = open_page(monkeypatch, "shutdown_plan", fleet=url, **{KEPT: plan.plan_id})
    assert "before the plan was kept" in app.warning[0].value
    odd = open_page(monkeypatch, "shutdown_plan", fleet=url, **{KEPT: "P-0"})
    assert "there is no kept plan 'P-0'" in odd.error[0].value.replace("\\", "")


def test_a_view_is_kept_opened_and_removed(monkeypatch, url, store):
    app = open_page(monkeypatch, "what_to_fix_first", fleet=url, spoken_of=TODAY, verdict="hold")
    app.text_input(key="name of the view of fix").set_value("holds")
    app.text_input(key="who keeps a view of fix").set_value("Ann Bell")
    app = press(app, "Keep this view")
    assert not app.exception
    with store.reading() as connection:
        (view,) = kept_views(connection, "fix")
    assert (view.link, view.kept_by) == ("/fix?verdict=hold", "Ann Bell")
    assert '<a translate="no" href="/fix?verdict=hold">holds (Ann Bell)</a>' in html_of(app)
    box = app.selectbox(key="view of fix to remove")
    assert box.options == ["holds (Ann Bell)"]
    box.select_index(0)
    app.text_input(key="who removes a view of fix").set_value("Bo Carr")
    app = press(app, "Remove it")
    with store.reading() as connection:
        assert kept_views(connection, "fix") == []
    assert "kept views" not in html_of(app)


def test_who_holds_the_device_is_not_asked_again(monkeypatch, url, store):
    monkeypatch.setattr(kept_by_name, "person", lambda: "Cy Dow")
    app = open_page(monkeypatch, "what_to_fix_first", fleet=url, spoken_of=TODAY)
    assert "In the name of Cy Dow." in words_of(app)
    app.text_input(key="name of the view of fix").set_value("all")
    app = press(app, "Keep this view")
    with store.reading() as connection:
        assert [one.kept_by for one in kept_views(connection, "fix")] == ["Cy Dow"]
    assert '<a translate="no" href="/fix">all</a>' in html_of(app)


def test_views_of_where_to_look_are_its_own(monkeypatch, url, store):
    app = open_page(monkeypatch, "where_to_look", fleet=url, spoken_of=TODAY, look_hours="4")
    app.text_input(key="name of the view of look").set_value("half a day")
    app.text_input(key="who keeps a view of look").set_value("Ann Bell")
    app = press(app, "Keep this view")
    with store.reading() as connection:
        assert [one.link for one in kept_views(connection, "look")] == ["/look?look_hours=4"]
        assert kept_views(connection, "fix") == []
