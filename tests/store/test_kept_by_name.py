"""Plans and views kept by name, on both databases: as they were, and for whom they are listed."""

import numpy as np
import pandas as pd
import pytest
from small_fleet import DAY, jobs_of_a_plan
from sqlalchemy import select, text

from scoring.entering.kept_plans import (
    jobs_of_plans,
    keep_plan,
    kept_plan,
    kept_plans,
    withdraw_plan,
)
from scoring.entering.kept_views import keep_view, kept_views, remove_view
from scoring.entering.refusals import RefusedError
from scoring.planning.plan_and_done import PLANNED
from scoring.store.schema import HISTORY
from scoring.store.store_errors import UnknownRecordError


def keep(store, name="July", by="Ann Bell", jobs=None):
    rows = jobs_of_a_plan() if jobs is None else jobs
    with store.writing(by) as writing:
        return keep_plan(
            writing, name, rows, as_of=DAY, horizon_days=180, link="/plan?crew_hours=64"
        )


def withdraw(store, plan_id, by="Bo Carr"):
    with store.writing(by) as writing:
        withdraw_plan(writing, plan_id)


def listed(store):
    with store.reading() as connection:
        return kept_plans(connection)


def test_a_plan_comes_back_as_it_was_kept(store):
    plan = keep(store, " the   July shutdown ")
    assert listed(store) == [plan]
    assert (plan.name, plan.kept_by, plan.as_of) == ("the July shutdown", "Ann Bell", "2026-06-30")
    assert plan.horizon_days == 180
    assert plan.kept_on == pd.Timestamp.now().normalize()
    with store.reading() as connection:
        assert kept_plan(connection, plan.plan_id) == plan
        rows = jobs_of_plans(connection, [plan.plan_id])
        none = jobs_of_plans(connection, [])
    given = jobs_of_a_plan()[list(PLANNED)].astype({"line": rows["line"].dtype})
    pd.testing.assert_frame_equal(rows[list(PLANNED)], given, check_dtype=False)
    assert rows["hours"].dtype == none["hours"].dtype == np.float64
    assert rows["starts_on"].dtype == none["starts_on"].dtype


def test_two_plans_have_two_names_until_one_is_withdrawn(store):
    first = keep(store)
    with pytest.raises(RefusedError, match="Ann Bell keeps a plan as 'July' already"):
        keep(store, by="Bo Carr")
    withdraw(store, first.plan_id)
    withdraw(store, first.plan_id)  # who presses twice is told nothing new
    second = keep(store, by="Bo Carr")
    assert listed(store) == [second]
    with store.reading() as connection:
        gone = kept_plan(connection, first.plan_id)
        changes = connection.execute(
            select(HISTORY.c.actor, HISTORY.c.change).where(HISTORY.c.about == "kept_plans")
        ).all()
    assert gone.withdrawn_by == "Bo Carr"
    assert gone.withdrawn_at > gone.kept_at
    assert [tuple(one) for one in changes] == [
        ("Ann Bell", "kept"),
        ("Bo Carr", "withdrawn"),
        ("Bo Carr", "kept"),
    ]


@pytest.mark.parametrize(
    "change",
    [
        "UPDATE kept_plans SET name = 'x'",
        "DELETE FROM kept_plans",
        "UPDATE kept_plan_jobs SET hours = 1",
        "DELETE FROM kept_plan_jobs",
        "DELETE FROM withdrawn_plans",
    ],
)
def test_a_kept_plan_refuses_every_change(store, change):
    withdraw(store, keep(store).plan_id)

    def change_it():
        with store.changing_layout() as connection:
            connection.execute(text(change))

    with pytest.raises(Exception, match="kept plans are only added to"):
        change_it()


@pytest.mark.parametrize(("name", "wrong"), [("  ", "is empty"), ("x" * 81, "is longer than 80")])
def test_a_name_that_cannot_be_kept_is_told(store, name, wrong):
    with pytest.raises(RefusedError, match=wrong):
        keep(store, name)
    assert listed(store) == []


def test_a_plan_without_a_job_and_one_that_is_not_there(store):
    with pytest.raises(RefusedError, match="without a job"):
        keep(store, jobs=jobs_of_a_plan()[:0])
    with pytest.raises(UnknownRecordError, match="no kept plan 'P-0'"):
        withdraw(store, "P-0")


def view(store, name="holds", by="Ann Bell", page="fix"):
    with store.writing(by) as writing:
        return keep_view(writing, name, page, "/fix?verdict=hold")


def views(store, page="fix"):
    with store.reading() as connection:
        return kept_views(connection, page)


def test_views_are_kept_by_page_person_and_name_and_one_is_removed(store):
    mine, other = view(store), view(store, page="look")
    theirs = view(store, by="Bo Carr")
    with pytest.raises(RefusedError, match="you keep a view as 'holds' already"):
        view(store)
    assert views(store) == [mine, theirs]
    assert views(store, "look") == [other]
    with store.writing("Bo Carr") as writing:
        remove_view(writing, mine.view_id)
    assert views(store) == [theirs]
    assert view(store).name == "holds"
    with store.writing("Bo Carr") as writing, pytest.raises(UnknownRecordError, match="no longer"):
        remove_view(writing, mine.view_id)
