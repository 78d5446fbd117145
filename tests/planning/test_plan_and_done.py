"""A kept plan against what was done: by hand, and by a second, plain way over drawn plans."""

import numpy as np
import pandas as pd
import pytest

from scoring.contract.rework import ACTION_BY_NAME, with_brought
from scoring.planning.plan_and_done import DONE, IN_PART, NOT_DONE, PLANNED, plan_and_done

KEPT, TODAY = pd.Timestamp("2026-07-01"), pd.Timestamp("2026-07-31")


def plan_of(rows):
    """Return jobs: unit, actions, verdict before and after, hours, loss avoided."""
    columns = ["unit_id", "actions", "verdict", "verdict_after", "hours", "loss_avoided"]
    jobs = pd.DataFrame(rows, columns=columns)
    there = jobs.assign(
        order=np.arange(1, len(jobs) + 1), window="July", starts_on=pd.NaT, site="quay", line=None
    )
    return there.assign(currency="EUR")[list(PLANNED)]


def done_of(rows):
    """Return re-work: key, unit, day, day written down, actions, hours, people."""
    columns = ["rework_id", "unit_id", "done_on", "recorded_at", "actions", "hours", "crew_size"]
    table = pd.DataFrame(rows, columns=columns)
    for name in ("done_on", "recorded_at"):
        table[name] = pd.to_datetime(table[name], format="ISO8601")
    return table.astype({"hours": float, "crew_size": float})


PLAN = plan_of(
    [
        ("A", "back_off_isolators;fit_guard", "hold", "watch", 3.0, 900.0),
        ("B", "retorque_in_passes", "hold", "correct", 4.0, 500.0),
        ("C", "renew_seal;open_breather", "correct", "watch", 6.0, 250.0),
        ("D", "fit_guard", "hold", "hold", 1.0, 0.0),
        ("E", "fit_guard", "hold", "watch", 1.5, 40.0),
    ]
)
REWORK = done_of(
    [
        ("R-0", "E", "2026-06-30", None, "fit_guard", 1.0, 1),  # the day before
        ("R-1", "A", "2026-07-04", None, "fit_guard", 1.0, 2),
        ("R-2", "A", "2026-07-01 06:00", None, "back_off_isolators;correct_oil_level", None, None),
        ("R-3", "B", "2026-07-05", None, "recentre_disc", 3.0, None),  # brings the re-torque
        ("R-4", "C", "2026-07-06", None, "open_breather", 0.5, 1),
        ("R-5", "C", "2026-07-07", "2026-08-02", "renew_seal", 5.0, 1),  # not known yet
        ("R-6", "Z", "2026-07-06", None, "fit_guard", 9.0, 1),  # no unit of the plan
        ("R-7", "E", "2026-08-01", None, "fit_guard", 1.0, 1),  # after the day
    ]
)
VERDICT = pd.Series({"A": "watch", "B": "hold", "C": "watch", "D": "hold"})  # E went


def compared(plan=PLAN, rework=REWORK, verdict=VERDICT, kept_on=KEPT, as_of=TODAY):
    return plan_and_done(plan, rework, verdict, kept_on=kept_on, as_of=as_of)


def test_each_job_is_done_done_in_part_or_not():
    jobs = compared().jobs
    assert jobs["outcome"].tolist() == [DONE, DONE, IN_PART, NOT_DONE, NOT_DONE]
    assert jobs["done_on"].dt.strftime("%m-%d").tolist()[:3] == ["07-04", "07-05", "07-06"]
    assert jobs["done_on"].isna().tolist() == [False, False, False, True, True]
    assert jobs["actions_done"].tolist() == [
        "back_off_isolators;fit_guard",
        "retorque_in_passes",
        "open_breather",
        "",
        "",
    ]
    assert jobs["actions_left"].tolist()[2:] == ["renew_seal", "fit_guard", "fit_guard"]
    assert jobs["unit_id"].tolist() == list("ABCDE")


def test_sums_and_holds_by_hand():
    became = compared()
    assert [became.count(one) for one in (DONE, IN_PART, NOT_DONE)] == [2, 1, 2]
    assert (became.sum_of("hours"), became.sum_of("hours", DONE)) == (15.5, 7.0)
    assert (became.sum_of("loss_avoided"), became.sum_of("loss_avoided", DONE)) == (1690.0, 1400.0)
    assert became.jobs["lifts_hold"].tolist() == [True, True, False, False, True]
    assert became.jobs["hold_lifted"].tolist() == [True, False, False, False, False]
    assert (became.holds_planned, became.holds_lifted) == (3, 1)
    # R-1 is 2 h of work, R-3 3 h, R-4 half an hour; R-2 does not say
    assert (became.hours_recorded, became.hours_not_recorded) == (5.5, 1)


def test_work_that_was_not_planned_is_told_without_what_was():
    others = compared().not_planned
    assert others["rework_id"].tolist() == ["R-2", "R-3"]
    assert others["actions"].tolist() == ["correct_oil_level", "recentre_disc"]
    assert others["crew_hours"].tolist()[1] == 3.0
    assert np.isnan(others["crew_hours"].tolist()[0])


def test_on_the_day_before_it_was_kept_nothing_is_done():
    early = compared(as_of=pd.Timestamp("2026-06-30"))
    assert early.count(NOT_DONE) == 5
    assert early.not_planned.empty
    assert (early.hours_recorded, early.hours_not_recorded) == (0, 0)


def test_a_later_day_knows_more():
    later = compared(as_of=pd.Timestamp("2026-08-02"))
    assert [later.count(one) for one in (DONE, IN_PART, NOT_DONE)] == [4, 0, 1]


def test_without_any_rework_on_record():
    nothing = compared(rework=REWORK[:0])
    assert nothing.count(NOT_DONE) == 5
    assert nothing.jobs["actions_left"].tolist() == PLAN["actions"].map(in_contract_order).tolist()


def in_contract_order(names):
    return ";".join(name for name in ACTION_BY_NAME if name in names.split(";"))


def plainly(plan, rework, kept_on, as_of):
    """Say what became of each job, one record after the other, in the plainest way."""
    said = []
    for job in plan.to_dict("records"):
        first = {}
        for row in rework.sort_values("done_on").to_dict("records"):
            written = row["done_on"] if pd.isna(row["recorded_at"]) else row["recorded_at"]
            counts = kept_on <= row["done_on"].normalize() and written.normalize() <= as_of
            if row["unit_id"] == job["unit_id"] and counts and row["done_on"].normalize() <= as_of:
                for name in row["actions"].split(";"):
                    for one in with_brought(name):
                        first.setdefault(one.name, row["done_on"].normalize())
        wanted = job["actions"].split(";")
        days = [first[name] for name in wanted if name in first]
        outcome = NOT_DONE if not days else DONE if len(days) == len(wanted) else IN_PART
        said.append((outcome, max(days, default=None)))
    return said


@pytest.mark.parametrize("seed", range(12))
def test_a_plain_second_way_says_the_same(seed):
    draw = np.random.default_rng(seed)
    names = list(ACTION_BY_NAME)[:9]
    units = [f"U{n}" for n in range(8)]

    def some():
        return ";".join(draw.choice(names, draw.integers(1, 4), replace=False))

    plan = plan_of([(unit, some(), "hold", "watch", 1.0, 1.0) for unit in units])
    days = pd.to_datetime("2026-06-25") + pd.to_timedelta(draw.integers(0, 45, 40), "D")
    late = pd.to_timedelta(draw.integers(0, 9, 40), "D")
    rework = done_of(
        [
            (f"R-{n}", draw.choice([*units, "other"]), day, later, some(), 1.0, 1)
            for n, (day, later) in enumerate(zip(days, days + late, strict=True))
        ]
    )
    became = compared(plan, rework)
    found = [
        (outcome, None if pd.isna(day) else day)
        for outcome, day in zip(became.jobs["outcome"], became.jobs["done_on"], strict=True)
    ]
    assert found == plainly(plan, rework, KEPT, TODAY)
    assert {outcome for outcome, _ in found} & {DONE, IN_PART}
