"""Since when units are on hold, and what re-work cost, by hand."""

import pandas as pd
import pytest

from scoring.risk.loss_of_the_fleet import LossOfFleet
from scoring.trends import cost_of_rework, held_since, holds_by_age
from scoring.trends.month_ends import AGE_LABELS, StateAtMonthEnd, at_sites

DAYS = pd.to_datetime(["2026-03-31", "2026-04-30", "2026-05-31", "2026-06-30"])


def state(day, held):
    table = pd.DataFrame({"unit_id": list(held), "seen_on": pd.to_datetime(list(held.values()))})
    return StateAtMonthEnd(pd.DataFrame(), table, day, LossOfFleet(0.0, 0.0, 0.0, 0))


def test_a_hold_is_as_old_as_its_first_look_however_often_it_is_seen_again():
    newest_first = [
        state(DAYS[3], {"A": "2026-06-20", "B": "2026-06-10"}),
        state(DAYS[2], {"A": "2026-05-20"}),
        state(DAYS[1], {"A": "2026-03-01", "B": "2026-04-15"}),
        state(DAYS[0], {"A": "2026-03-01"}),
    ]
    held = held_since(newest_first)
    now = held[held["month_end"] == DAYS[3]].set_index("unit_id")
    assert now["since"].astype(str).to_dict() == {"A": "2026-03-01", "B": "2026-06-10"}
    assert now["days"].to_dict() == {"A": 121, "B": 20}
    table = holds_by_age(newest_first).pivot_table("holds", "month_end", "age")[list(AGE_LABELS)]
    assert table.to_numpy().tolist() == [[1, 0, 0], [1, 1, 0], [0, 0, 1], [1, 0, 1]]


def test_of_some_sites_only_their_units_are_held():
    by_site = pd.DataFrame({"site": ["Quay", "Pit"], "units": [2, 3]})
    held = pd.DataFrame({"unit_id": ["A", "B"], "seen_on": pd.to_datetime(["2026-06-01"] * 2)})
    whole = [StateAtMonthEnd(by_site, held, DAYS[3], LossOfFleet(0.0, 0.0, 0.0, 0))]
    site_of = pd.Series({"A": "Quay", "B": "Pit", "C": "Pit"})
    (pit,) = at_sites(whole, ["Pit"], site_of)
    assert pit.held["unit_id"].tolist() == ["B"]
    assert pit.by_site["units"].tolist() == [3]
    assert pit.day == DAYS[3]
    assert at_sites(whole, [], site_of) == whole


def test_a_job_costs_its_hours_and_the_usual_parts_and_assumed_hours_are_told():
    gain = pd.DataFrame(
        {
            "rework_id": ["R1", "R2"],
            "unit_id": "U",
            "site": "Pit",
            "done_on": pd.Timestamp("2026-01-01"),
            "actions": ["fit_guard", "fit_guard"],
            "after_failure": False,
            "crew_hours": [6.0, None],
            "loss_removed": [10.0, 20.0],
        }
    )
    costs = cost_of_rework(gain)
    assert costs["hours_assumed"].tolist() == [False, True]
    an_hour = costs["labour"][0] / 6
    assert costs["labour"][1] == pytest.approx(an_hour * costs["hours"][1])
    assert costs["parts"].tolist() == [200, 200]
    assert cost_of_rework(gain.iloc[:0]).empty
