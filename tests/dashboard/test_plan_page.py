"""The page of what to do in a shutdown, in Streamlit's own harness."""

import re

import pandas as pd
import pytest
from pages_in_harness import open_page, words_of

from dashboard import fleet_results
from dashboard.presenters import front_words as say
from dashboard.presenters import plan_tables as present
from dashboard.presenters import shutdown_windows as asked
from scoring.contract.amounts_in_words import NARROW_SPACE
from scoring.errors import FixableError
from scoring.planning.choose import Choice
from scoring.planning.shutdowns import one_shutdown

SITES = pd.Series(["Stone shed", "Sand plant"])
DAY = pd.Timestamp("2026-06-30")


def plan_said(app):
    """Return the line that says what the plan comes to."""
    return next(one.value for one in app.text if "crew-hours;" in one.value)


def hours_used(app):
    return float(plan_said(app).split(" crew-hours")[0].split(", ")[1].split(" of ")[0])


def html_of(app):
    return "\n".join(one.proto.body for one in app.get("html"))


def test_it_says_what_the_hours_buy_and_shows_the_plan_and_what_missed_the_cut(monkeypatch):
    app = open_page(monkeypatch, "shutdown_plan")
    assert not app.exception
    assert app.title[0].value == "What to do in a shutdown"
    assert 0 < hours_used(app) <= 40
    said = words_of(app)
    assert "40 crew\\-hours: " in said.replace("\\:", ":")
    assert "No plan lifts more holds" in said
    assert "planning values of ours" in said
    table = html_of(app)
    assert 'class="jobs"' in table
    assert "leave out" in table
    assert not re.search(r">[a-z]+_[a-z_]+<", table)
    assert [one.label for one in app.get("download_button")] == [
        "Save the plan as CSV",
        "Save the plan as XLSX",
        "Save all that was weighed as CSV",
        "Save the work order as PDF",
    ]
    assert "[Link of this plan](/plan)" in said


def test_other_hours_make_another_plan_and_the_weighing_is_kept(monkeypatch):
    app = open_page(monkeypatch, "shutdown_plan")
    monkeypatch.setattr(fleet_results, "weigh_bundles", None)  # not asked for a second time
    app.number_input(key="crew_hours").set_value(6.0).run()
    assert not app.exception
    assert hours_used(app) <= 6


def test_holds_that_do_not_fit_are_named_with_why(monkeypatch):
    app = open_page(monkeypatch, "shutdown_plan")
    app.number_input(key="crew_hours").set_value(0.5).run()
    assert any(
        one.value.startswith("■ Must not run, and not freed by this plan: 3") for one in app.header
    )
    assert "it takes more hours than any window has" in html_of(app)
    assert "fits. Give more hours" in app.info[0].value


def test_a_link_with_an_end_or_a_number_of_holds_shows_that_plan(monkeypatch):
    app = open_page(monkeypatch, "shutdown_plan", order="by loss alone", crew_hours="8")
    assert not app.exception
    assert "No plan for these hours avoids" in words_of(app) or "order" not in {
        one.key for one in app.radio
    }
    assert hours_used(app) <= 8
    odd = open_page(monkeypatch, "shutdown_plan", order="moon", crew_hours="8")
    assert not odd.exception
    assert "No plan lifts more holds" in words_of(odd)


def test_a_unit_is_left_out_and_put_in_by_the_address(monkeypatch):
    app = open_page(monkeypatch, "shutdown_plan")
    first = re.search(r'/unit\?unit=([^"]+)"', html_of(app)).group(1)
    out = open_page(monkeypatch, "shutdown_plan", must_out=first)
    assert not out.exception
    jobs = html_of(out).partition("</table>")[0]
    assert f"unit={first}" not in jobs
    assert "1 unit left out" in out.expander[0].label
    both = open_page(monkeypatch, "shutdown_plan", must_out=first, must_in=first)
    assert "asked to be in and to be left out" in both.error[0].value.replace("\\", "")


def test_several_shutdowns_are_told_one_by_one(monkeypatch):
    app = open_page(monkeypatch, "shutdown_plan")
    app.button_group(key="how_many").select("several").run()
    assert not app.exception
    assert not app.error


def test_a_day_without_units_is_told(monkeypatch):
    app = open_page(monkeypatch, "shutdown_plan", spoken_of="1999-01-01")
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


def test_how_near_the_best_is_said_for_every_point():
    window = pd.Series([0]).to_numpy()
    near = Choice(window, 90.0, 100.0, 2, 3)
    assert present.how_good(near) == (
        "No plan lifts more than 3 holds; of those that lift as many none avoids 10.000% more."
    )
    loss = Choice(window, 90.0, 100.0, 2, 3, holds_first=False)
    assert present.how_good(loss) == "No plan for these hours avoids 10.000% more."
    between = Choice(window, 90.0, 90.0, 1, 1, holds_first=False, at_least=1)
    assert present.how_good(between) == "No plan that lifts at least 1 hold avoids more."


def points(*rows):
    columns = ["holds_lifted", "holds_left", "loss_avoided", "hours", "jobs"]
    return pd.DataFrame(rows, columns=columns)


def test_what_hours_buy_is_said_by_hand():
    shutdown = one_shutdown(DAY, 40)
    ends = points((19, 38, 19_911, 40.0, 18), (10, 47, 63_000, 40.0, 20), (1, 56, 86_585, 40.0, 21))
    said = say.what_hours_buy(ends, shutdown, "AUD").replace(NARROW_SPACE, " ")
    assert said == (
        "40 crew-hours: lift 19 holds and avoid 20 000 AUD, or lift 1 hold and avoid 87 000 AUD, "
        "or anything between."
    )
    two = say.what_hours_buy(ends.iloc[[0, 2]], shutdown, None)
    assert two.endswith("87\u202f000.")
    alone = say.what_hours_buy(points((1, 0, 910.0, 8.0, 3)), shutdown, None)
    assert alone == "40 crew-hours: lift 1 hold and avoid 910 of loss. No plan does more of either."
    nothing = say.what_hours_buy(points((0, 3, 0.0, 0.0, 0)), shutdown, None)
    assert nothing == "40 crew-hours: nothing that avoids a loss, or lifts a hold, fits."
