"""What is said of kept plans and of what became of them, by hand."""

import io

import pandas as pd
import pytest

from dashboard.presenters import kept_plan_lists as lists
from dashboard.presenters import kept_plan_words as say
from scoring.contract.amounts_in_words import NARROW_SPACE
from scoring.entering.kept_plans import KeptPlan
from scoring.files.write_table import table_bytes
from scoring.planning.plan_and_done import PLANNED, plan_and_done

DAY = pd.Timestamp("2026-07-31")
PLAN = KeptPlan(
    "P-1",
    "July <b>",
    "Ann Bell",
    "2026-07-01T12:00:00.000+00:00",
    "2026-06-30",
    90,
    "/plan?people=2",
)
JOBS = [  # unit, actions, verdict before and after, hours, loss avoided
    ("A", "back_off_isolators;fit_guard", "hold", "watch", 3.0, 90_512.0),
    ("B", "fit_guard", "hold", "correct", 4.5, 512.0),
    ("C", "fit_guard;open_breather", "correct", "watch", 6.0, 250.0),
]


def jobs(rows=JOBS, window="July"):
    table = pd.DataFrame(
        rows, columns=["unit_id", "actions", "verdict", "verdict_after", "hours", "loss_avoided"]
    )
    more = {"order": range(1, len(rows) + 1), "window": window, "starts_on": pd.NaT}
    return table.assign(**more, site="quay", line=None, currency="EUR")[list(PLANNED)]


def became(rows=JOBS, done=(("A", JOBS[0][1], 2.0), ("C", "open_breather", None)), **verdicts):
    rework = pd.DataFrame(
        [(f"R-{n}", *row) for n, row in enumerate(done)],
        columns=["rework_id", "unit_id", "actions", "hours"],
    ).assign(done_on=pd.Timestamp("2026-07-04"), recorded_at=pd.NaT, crew_size=2.0)
    now = pd.Series({"A": "watch", "B": "hold", "C": "correct", **verdicts})
    kept_on = pd.Timestamp("2026-07-01")
    return plan_and_done(jobs(rows), rework, now, kept_on=kept_on, as_of=DAY)


def test_one_sentence_says_what_became_of_a_plan():
    assert say.became_said(became(), "EUR").replace(NARROW_SPACE, " ") == (
        "Of 3 planned jobs 1 is done, 1 is done in part and 1 is not done: 3 of 13.5 planned "
        "crew-hours, 91 000 of 91 000 EUR of loss that was to be avoided; 1 of 2 holds that it "
        "was to lift no longer stands."
    )
    one = became([JOBS[2]], done=[("C", "open_breather;fit_guard", 1.0)])
    assert say.became_said(one, None) == (
        "Of 1 planned job 1 is done: 6 of 6 planned crew-hours, 250 of 250 of loss that was to be "
        "avoided."
    )
    none = say.became_said(became(done=[]), "EUR")
    assert none.startswith("Of 3 planned jobs 0 are done and 3 are not done: 0 of 13.5 planned")


def test_recorded_hours_are_said_as_far_as_they_are_known():
    assert say.hours_said(became()) == (
        "Planned work on record took 4 crew-hours; 1 record does not say."
    )
    assert say.hours_said(became(done=[])) == ""


def test_who_kept_it_and_from_which_day_on_work_is_seen():
    assert say.kept_said(PLAN) == (
        "Kept by Ann Bell on 1 July 2026, from the records as of 30 June 2026; losses within 90 "
        "days of that day."
    )
    assert say.too_early(PLAN, pd.Timestamp("2026-07-01")) == ""
    assert "30 June 2026, before the plan was kept" in say.too_early(
        PLAN, pd.Timestamp("2026-06-30")
    )


def test_the_list_says_of_each_job_what_became_of_it():
    rows = lists.list_of_compared(became(), "EUR").split("<tr")[2:]
    assert ">done, 4 July 2026<" in rows[0]
    assert "lifted" in rows[0]
    assert ">not done<" in rows[1]
    assert '<span class="v-hold">stands</span>' in rows[1]
    assert "done in part, 4 July 2026" in rows[2]
    assert "to do still: fit guard" in rows[2]
    assert "lift" not in rows[2]
    assert "July<" not in rows[0].replace("4 July 2026", "")  # one shutdown needs no name


def test_a_unit_that_left_service_lifts_no_hold():
    gone = became(A=None)
    assert gone.holds_lifted == 0
    assert "not in service now" in lists.list_of_compared(gone, None)


def test_the_list_of_plans_says_what_each_promised_and_shows_names_as_they_are():
    there = jobs().assign(plan_id="P-1")
    said = lists.list_of_plans([PLAN], there).replace(NARROW_SPACE, " ")
    assert "lifts 2 holds, avoids 91 000 EUR" in said
    assert 'href="/plan?kept=P-1">July &lt;b&gt;</a>' in said
    assert 'href="/plan?people=2"' in said
    assert '3<span class="of"> units' in said
    assert "13.5<span" in said


def test_planned_hours_are_drawn_by_what_became_of_them():
    drawn = say.hours_by_outcome(became())
    assert drawn["hours"].tolist() == [3.0, 6.0, 4.5]
    assert drawn["said"].tolist() == ["3 h, 1 job", "6 h, 1 job", "4.5 h, 1 job"]
    assert say.chart_title(became()) == "22 % of the planned crew-hours are done"
    assert drawn["hours"].sum() == pytest.approx(jobs()["hours"].sum())


def test_a_file_has_the_jobs_with_what_became_of_them():
    text = table_bytes(lists.jobs_in_a_file(became()), ".csv").decode()
    rows = pd.read_csv(io.StringIO(text))
    assert rows["outcome"].tolist() == ["done", "not done", "done in part"]
    assert rows["done_on"].tolist()[::2] == ["2026-07-04", "2026-07-04"]
    assert rows["lifts_hold"].tolist() == ["yes", "yes", "no"]
    assert rows["hold_lifted"].tolist() == ["yes", "no", "no"]
    assert rows["actions_left"].tolist()[2] == "fit_guard"
