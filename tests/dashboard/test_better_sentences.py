"""Sentences of the page that says whether it gets better, with numbers worked out by hand."""

import numpy as np
import pandas as pd

from dashboard.presenters.better_tables import half_years, sites_shown
from scoring.contract.amounts_in_words import NARROW_SPACE
from scoring.trends import better_sentences as say
from scoring.trends.funnel import funnel

AS_OF = pd.Timestamp("2026-06-30")


def plant(rise):
    units = 100
    loss = np.arange(units, dtype=float) * 20
    return pd.DataFrame(
        {
            "unit_id": [f"U{n}" for n in range(units)],
            "site": "<Pit>",
            "loss_now": loss + rise,
            "loss_before": loss,
            "held_now": np.where(np.arange(units) < 4, 1.0, 0.0),
            "held_before": np.where(np.arange(units) < 4, 1.0, 0.0),
        }
    )


def hung(right, judged, days_ago):
    return pd.DataFrame(
        {
            "unit_id": "U",
            "site": "Pit",
            "installer": "crew A",
            "hung_on": AS_OF - pd.Timedelta(days=days_ago),
            "judged": True,
            "right": np.arange(judged) < right,
        }
    )


def test_money_is_better_worse_or_cannot_be_told():
    worse, same = (say.money_sentence(plant(rise), "AUD") for rise in (11.0, 0.0))
    assert worse.verdict == "Worse"
    assert worse.rest.replace(NARROW_SPACE, " ").startswith(
        "100 000 AUD expected to be lost within a year, 1 000 a unit; a year ago 990 a unit. "
        "Change 11,"
    )
    assert same.verdict == "Cannot be told"
    assert say.money_sentence(plant(-11.0), None).verdict == "Better"


def test_holds_say_how_many_and_whether_it_is_on_record_who_was_told():
    over_files = say.holds_sentence(plant(0.0), (), None)
    assert over_files.rest == (
        "4 of 100 units must not run, a year ago 4 of 100; who was told is not on record in files."
    )
    in_store = say.holds_sentence(plant(0.0), (), 3)
    assert "of 3 it is on record who was told" in in_store.rest


def test_first_time_right_compares_a_year_with_the_year_before():
    table = pd.concat([hung(90, 100, 10), hung(60, 100, 400)])
    sentence = say.first_time_right_sentence(table, AS_OF)
    assert sentence.verdict == "Better"
    assert "90 had no critical fault, 90 % (84 to 94 %)" in sentence.rest
    assert "60 of 100, 60 %. Change +30, 90 % interval +20 to +39" in sentence.rest
    few = pd.concat([hung(3, 4, 10), hung(2, 4, 400)])
    assert say.first_time_right_sentence(few, AS_OF).verdict == "Cannot be told"
    assert say.first_time_right_sentence(hung(3, 4, 900), AS_OF) is None
    assert half_years(table)["half_year"].tolist() == ["2025 H1", "2026 H1"]


def test_only_who_lies_outside_luck_is_named():
    crews = funnel(pd.Series({"A": 95, "B": 60, "C": 2}), pd.Series({"A": 100, "B": 100, "C": 4}))
    sites = funnel(pd.Series({"Pit": 157}), pd.Series({"Pit": 204}))
    said = say.groups_sentence(sites, crews).rest
    assert said.startswith("more often right than the rest: A; less often right than the rest: B.")
    alike = funnel(pd.Series({"A": 7, "B": 6}), pd.Series({"A": 10, "B": 10}))
    assert "no site and no crew differs" in say.groups_sentence(sites, alike).rest
    assert say.groups_sentence(sites, sites) is None


def test_what_re_work_cost_says_what_is_assumed_and_leaves_repairs_out():
    costs = pd.DataFrame(
        {
            "done_on": AS_OF,
            "after_failure": [False, False, True],
            "labour": [500.0, 300.0, 9000.0],
            "parts": [200.0, 0.0, 0.0],
            "hours": [10.0, 6.0, 99.0],
            "hours_assumed": [False, True, True],
            "loss_removed": [1500.0, 300.0, 5.0],
        }
    )
    said = say.rework_sentence(costs, AS_OF, "EUR").rest.replace(NARROW_SPACE, " ")
    assert (
        "2 jobs before a failure in the last year cost about 1 000 EUR (16 hours, of 1 jobs" in said
    )
    assert "removed 1 800 EUR" in said
    assert say.rework_sentence(costs[2:], AS_OF, "EUR") is None


def test_what_nobody_sees_is_named():
    checks = pd.DataFrame(
        {"check": ["key", "guard"], "units": [10, 100], "never_seen": [5, 9], "overdue": [0, 3]}
    )
    assert say.unseen_sentence(checks).rest == (
        "key was not seen at 5 of 10 units since they were hung; guard is overdue at 3 of 100."
    )


def test_names_of_sites_are_text():
    shown = sites_shown(plant(0.0), funnel(pd.Series({"<Pit>": 1}), pd.Series({"<Pit>": 2})))
    assert "<Pit>" not in shown
    assert 'href="/fix?site=%3CPit%3E"' in shown
    assert "1 of 2, 50 %" in shown
