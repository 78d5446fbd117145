"""The page that tells how far to trust the numbers, in Streamlit's own harness."""

from types import SimpleNamespace

import pandas as pd
import pytest
from kept_plants import SMALL_QUARRY
from pages_in_harness import open_page, words_of

from dashboard.presenters import trust_tables as present
from scoring.assessment import FleetAssessor
from scoring.explanation.what_the_fleet_says import what_the_fleet_says
from scoring.files.read_fleet import read_fleet
from scoring.files.write_table import write_table
from scoring.intake import check_fleet

AS_OF = pd.Timestamp("2026-06-30")


def trust_page(monkeypatch, fleet):
    return open_page(monkeypatch, "how_far_to_trust", fleet)


def test_it_says_which_basis_is_used_why_and_what_would_improve_it(monkeypatch):
    app = trust_page(monkeypatch, SMALL_QUARRY)
    assert not app.exception
    said = words_of(app)
    assert "low-speed-bearing failure: handbook and fleet" in said
    assert "expected by the handbook" in said
    assert "too few to speak against it" in said
    assert "Look at: " in said
    assert "Few failures prove little" in said
    assert "Prior only: " in said
    assert "Prior only: so few fail that nothing but their number is learned." in said
    folded = [one.label for one in app.expander]
    assert "Is it better than counting findings, or than a plain regression?" in folded
    assert "This plant cannot tell yet whether ours is better than counting findings" in said
    assert len(app.get("vega_lite_chart")) >= 8
    assert app.selectbox(key="scheme").options[0] == "later failures of the same units"


def test_the_nameplate_is_told_like_an_effect():
    fleet = check_fleet(read_fleet(SMALL_QUARRY).tables, AS_OF).fleet
    assessor = FleetAssessor(fleet)
    rows = assessor.failure_rows(AS_OF)
    learned = what_the_fleet_says(assessor, rows, assessor.learn(AS_OF, rows))
    bearing = present.nameplate(learned, "low-speed-bearing failure").set_index("shown")
    duty = bearing.loc["running hours: twice the usual 16 h/day"]
    assert duty["handbook"] == pytest.approx(2**0.8)
    assert duty["fleet"] != duty["handbook"]
    assert 1 <= duty["fleet_low"] < duty["fleet"] < duty["fleet_high"]
    assert duty["learned"] in {"prior only", "some", "much"}
    assert bearing["accounts_for"].is_monotonic_decreasing
    assert (bearing["unit_years"] > 0).all()
    assert present.nameplate(learned, "joint slip").empty
    everything = present.everything_said(learned)
    assert set(bearing["label"]) < set(everything["what"])


def test_what_failures_taught_nothing_of_is_named():
    said = pd.DataFrame({"shown": ["key: missing", "oil: low"], "learned": ["prior only", "some"]})
    assert present.prior_only(said) == "Prior only: key: missing."
    assert present.prior_only(said.assign(learned="prior only")) == "Prior only: all of these."
    assert present.prior_only(said.assign(learned="much")) == ""


def test_another_trial_can_be_chosen(monkeypatch):
    app = trust_page(monkeypatch, SMALL_QUARRY)
    app.selectbox(key="scheme").select("later failures of other units").run()
    assert not app.exception


def test_without_failures_it_says_so_and_shows_the_handbook(monkeypatch, tmp_path):
    units = pd.DataFrame(
        {
            "unit_id": ["A-1", "A-2"],
            "site": "Pit",
            "installed_on": "2024-01-01",
            "mounting": "keyed_bore",
            "shaft_diameter_mm": 80,
        }
    )
    write_table(units, tmp_path / "units.csv")
    write_table(
        pd.DataFrame(
            {
                "walkdown_id": ["W1"],
                "unit_id": ["A-1"],
                "inspected_on": ["2024-01-02"],
                "kind": ["post_install"],
                "breather": ["plugged"],
            }
        ),
        tmp_path / "walkdowns.csv",
    )
    app = trust_page(monkeypatch, str(tmp_path))
    assert not app.exception
    said = words_of(app)
    assert "Failures of this fleet are not kept" in said
    assert "Write down every bearing failure, seal leak and joint slip" in said


def test_years_add_up_what_was_predicted_and_what_came():
    predictions = pd.DataFrame(
        {
            "failure_mode": "seal_leak",
            "since": pd.to_datetime(["2024-06-30"] * 3 + ["2025-06-30"]),
            "place": [0, 1, 2, 0],
            "failed": [True, False, True, False],
            "expected_handbook": [0.1, 0.2, 0.3, 0.4],
            "expected_fleet": [0.2, 0.2, 0.2, 0.2],
        }
    )
    table = present.years(predictions)
    assert table["observed"].tolist() == [2, 0]
    assert table["units"].tolist() == [3, 1]
    assert table["handbook"].round(9).tolist() == [0.6, 0.4]
    assert (table["low"] <= table["observed"]).all()
    assert (table["observed"] <= table["high"]).all()


def test_failures_of_the_last_year_are_counted_among_the_worst_as_predicted_and_as_counted():
    size = 20  # a fifth are 4
    failed = [n in (0, 1, 2, 5, 9, 13) for n in range(size)]
    day = {"failed": failed, "place": range(size)}
    table = pd.DataFrame(
        {
            "since": pd.Timestamp("2025-06-30"),
            "failure_mode": "seal_leak",
            "handbook": [float(size - n) for n in range(size)],  # units 0 to 3: three failed
            "handbook and fleet": 0.0,
            "count of findings": [1.0 if n in (0, 4) else 0.0 for n in range(size)],
            **day,
        }
    )
    basis = {"seal_leak": SimpleNamespace(used=False), "joint_slip": SimpleNamespace(used=False)}
    # by count: unit 0 failed; 2 of the other 18 are drawn, of which 5 failed: 1 + 2 * 5 / 18
    (said,) = present.came_true(table, basis)
    assert said == (
        "Of 6 seal leaks in the year from 30 June 2025, 3 were among the worst fifth as predicted; "
        "by counting findings 2, by lot 1."
    )
    few = table.assign(failure_mode="joint_slip", failed=[n == 0 for n in range(size)])
    assert present.came_true(few, basis) == [
        "There was 1 joint slip in the year from 30 June 2025: too few to tell."
    ]
