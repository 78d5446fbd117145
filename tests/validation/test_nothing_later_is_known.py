"""What happens after a day changes what came true, never what was predicted as of the day."""

from dataclasses import replace
from datetime import date, timedelta
from functools import cache

import numpy as np
import pandas as pd
import pytest
from generated_fleets import AS_OF
from tried_fleets import book_of_sites

from scoring.assessment import FleetAssessor
from scoring.learning.failure_rows import failure_rows
from scoring.learning.past_states import PastStates
from scoring.validation.choose_basis import days_to_try
from scoring.validation.schemes import SCHEMES, predict_in_schemes

WAYS = ["handbook", "handbook and fleet", "count of findings", "plain regression"]
PREDICTED = [*WAYS, "site", "horizon_years"]
KEYS = ["scheme", "failure_mode", "since", "place"]
FLEET = (120, 8)
DAYS = days_to_try(AS_OF, 1)
DAY = DAYS[1].item()


def predicted_up_to_the_day(book):
    """Predict, how usual faults are being the same in every book: as known before the change."""
    original = FleetAssessor(book_of_sites(*FLEET).fleet())
    assessor = FleetAssessor(book.fleet())
    past = PastStates(assessor.timeline, assessor.limits)
    rows = failure_rows(assessor.timeline, past, original.prevalence(AS_OF), DAYS)
    _, table = predict_in_schemes(rows, assessor.fleet.units["unit_id"], 1)
    return table[table["since"] <= np.datetime64(DAY)].set_index(KEYS).sort_index()


@cache
def predicted_before():
    return predicted_up_to_the_day(book_of_sites(*FLEET))


def without_later_events(book):
    events = [row for row in book.events if row["occurred_on"][:10] <= DAY.isoformat()]
    kept = {row["event_id"] for row in events}
    rework = [
        {**row, "event_id": row["event_id"] * (row["event_id"] in kept)} for row in book.rework
    ]
    return replace(book, events=events, rework=rework)


def with_more_later_events(book):
    later = replace(book, events=list(book.events))
    for n, unit in enumerate(book.units[::3]):
        on = DAY + timedelta(days=20 + 3 * n)
        ends = unit.get("out_of_service_on") or "9999-12-31"
        if unit["installed_on"][:10] < DAY.isoformat() and ends > on.isoformat():
            mode = ("seal_leak", "low_speed_bearing")[n % 2]
            later.events.append(
                {
                    "event_id": f"later {n}",
                    "unit_id": unit["unit_id"],
                    "occurred_on": on.isoformat(),
                    "mode": mode,
                }
            )
    return later


@pytest.mark.parametrize("change", [without_later_events, with_more_later_events])
def test_later_failures_change_nothing_that_was_predicted(change):
    before, after = predicted_before(), predicted_up_to_the_day(change(book_of_sites(*FLEET)))
    assert set(before.index.get_level_values("scheme")) == set(SCHEMES)
    assert before.index.equals(after.index)
    pd.testing.assert_frame_equal(before[PREDICTED], after[PREDICTED], rtol=1e-12)
    that_day = before.index.get_level_values("since") == np.datetime64(DAY)
    assert before["failed"][~that_day].equals(after["failed"][~that_day])
    assert not before["failed"][that_day].equals(after["failed"][that_day])


def test_later_looks_and_re_work_change_nothing_that_was_predicted():
    early = without_later_events(book_of_sites(*FLEET))
    early = replace(
        early,
        walkdowns=[r for r in early.walkdowns if date.fromisoformat(r["inspected_on"][:10]) <= DAY],
        rework=[r for r in early.rework if date.fromisoformat(r["done_on"][:10]) <= DAY],
    )
    before, after = predicted_before(), predicted_up_to_the_day(early)
    assert before.index.equals(after.index)
    pd.testing.assert_frame_equal(before[PREDICTED], after[PREDICTED], rtol=1e-12)
