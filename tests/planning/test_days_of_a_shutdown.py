from itertools import pairwise

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scoring.planning.days_of_a_shutdown import lay_out_by_days

ONE = st.tuples(
    st.integers(1, 30).map(lambda n: n / 2),  # hours of one person
    st.integers(1, 4),  # people at once
    st.booleans(),  # crane
    st.booleans(),  # lifts a hold
)


def table(rows):
    return pd.DataFrame(
        {
            "verdict": ["hold" if row[3] else "correct" for row in rows],
            "verdict_after": "watch",
            "hours": [row[0] for row in rows],
            "people": [row[1] for row in rows],
            "crane": ["yes" if row[2] else "no" for row in rows],
        }
    )


def laid_out(rows, crew_hours=None, people=None, hours_a_day=8.0):
    walk = np.arange(len(rows))
    return lay_out_by_days(
        table(rows), walk, crew_hours=crew_hours, people=people, hours_a_day=hours_a_day
    )


def in_minutes(laid):
    """Say of each job who is at it at which minute of working time."""
    day = round(laid.hours_a_day * 60)
    at = {}
    for row in laid.spells.to_dict("records"):
        start = (row["day"] - 1) * day
        begin, end = (start + round(row[name] * 60) for name in ("begins_h", "ends_h"))
        assert 0 <= begin - start < end - start <= day
        at.setdefault(row["job"], []).append((begin, end, row["who"], row["goes_on"]))
    return at


@settings(max_examples=150, deadline=None)
@given(
    rows=st.lists(ONE, min_size=1, max_size=9),
    people=st.one_of(st.none(), st.integers(4, 6)),
    crew_hours=st.one_of(st.none(), st.integers(4, 120)),
    hours_a_day=st.sampled_from([6.0, 8.0, 10.5, 24.0]),
)
def test_a_schedule_can_be_worked(rows, people, crew_hours, hours_a_day):
    laid = laid_out(rows, crew_hours, people, hours_a_day)
    at = in_minutes(laid)
    assert set(at) | set(laid.not_fitting) == set(range(len(rows)))
    assert not set(at) & set(laid.not_fitting)
    busy, cranes, last = {}, {}, 0
    for job, spells in at.items():
        hours, needed, crane, _ = rows[job]
        assert len({who for _, _, who, _ in spells}) == 1  # its people stay with it
        (who, *_) = (one for _, _, one, _ in spells)
        assert len(set(who)) == needed
        assert all(1 <= one <= laid.people for one in who)
        worked = sum(end - begin for begin, end, _, _ in spells)
        assert 0 <= worked * needed - hours * 60 < needed  # no more than a begun minute
        for (_, end, _, goes_on), (begin, *_) in pairwise(spells):
            assert goes_on
            assert begin == end  # it goes on the next morning, nothing between
        assert not spells[-1][3]
        last = max(last, spells[-1][1])
        for begin, end, _, _ in spells:
            for minute in range(begin, end):
                assert not busy.setdefault(minute, set()) & set(who)  # nobody is at two places
                busy[minute] |= set(who)
                if crane:
                    assert minute not in cranes
                    cranes[minute] = job
    assert all(len(there) <= laid.people for there in busy.values())
    if people is not None and crew_hours is not None:
        assert last <= np.ceil(crew_hours * 60 / people)
    else:
        assert len(laid.not_fitting) == 0


def earliest_by_trying(rows, placed, job, end, day):
    """Try every minute: the first at which people and crane are free all along."""
    hours, needed, crane, _ = rows[job]
    lasts = int(np.ceil(hours * 60 / needed - 1e-6))
    for begin in range(max(end - lasts + 1, 0)):
        if 0 < day >= lasts and begin // day != (begin + lasts - 1) // day:
            continue
        others = [
            (a, b, other)
            for a, b, other in placed
            if a < begin + lasts and begin < b and other != job
        ]
        moments = {begin, *(a for a, _, _ in others if a > begin)}
        if all(
            sum(rows[other][1] for a, b, other in others if a <= moment < b) + needed <= PEOPLE
            and not (crane and any(rows[other][2] for a, b, other in others if a <= moment < b))
            for moment in moments
        ):
            return begin, begin + lasts
    return None


PEOPLE = 4


def laid_out_by_trying(rows, end, day):
    order = sorted(range(len(rows)), key=lambda job: (not rows[job][3], job))
    placed = []
    for job in order:
        found = earliest_by_trying(rows, placed, job, end, day)
        if found:
            placed.append((*found, job))
    return {job: (begin, end) for begin, end, job in placed}


@settings(max_examples=60, deadline=None)
@given(rows=st.lists(ONE, min_size=1, max_size=6), crew_hours=st.integers(8, 80))
def test_it_is_as_if_every_minute_had_been_tried(rows, crew_hours):
    end, day = int(np.ceil(crew_hours * 60 / PEOPLE)), 8 * 60
    kind = laid_out_by_trying(rows, end, day)
    with_nights = laid_out_by_trying(rows, end, 0)
    expected = with_nights if len(with_nights) > len(kind) else kind
    at = in_minutes(laid_out(rows, crew_hours, PEOPLE))
    assert {job: (spells[0][0], spells[-1][1]) for job, spells in at.items()} == expected


def test_a_lifted_hold_comes_first_then_the_walk():
    rows = [(8, 2, False, False), (8, 2, False, True), (8, 2, False, False)]
    laid = lay_out_by_days(table(rows), np.array([2, 1, 0]), crew_hours=24, people=2)
    assert laid.spells["job"].tolist() == [1, 2, 0]
    assert laid.spells["day"].tolist() == [1, 1, 2]


def test_two_cranes_are_never_at_work_though_there_are_people_for_both():
    laid = laid_out([(6, 2, True, False), (6, 2, True, False)], crew_hours=32, people=4)
    assert laid.spells["begins_h"].tolist() == [0, 3]
    assert laid.spells["who"].tolist() == [(1, 2), (1, 2)]


def test_a_job_longer_than_a_day_goes_on_in_the_morning_with_the_same_people():
    laid = laid_out([(30, 3, False, False)], people=3)
    assert laid.spells[["day", "begins_h", "ends_h", "goes_on"]].to_numpy().tolist() == [
        [1, 0, 8, True],
        [2, 0, 2, False],
    ]
    assert laid.days == 2


def test_nights_are_allowed_where_more_jobs_fit_so():
    rows = [(10, 2, False, False)] * 4  # 20 h of working time, five hours each
    laid = laid_out(rows, crew_hours=40, people=2)
    assert len(laid.not_fitting) == 0
    assert laid.spells["goes_on"].any()
    roomy = laid_out(rows, crew_hours=80, people=2)
    assert not roomy.spells["goes_on"].any()


def test_what_finds_no_room_is_told():
    laid = laid_out([(8, 1, True, False)] * 3, crew_hours=24, people=2)  # the crane is the strait
    assert laid.not_fitting.tolist() == [1, 2]
    assert laid.spells["job"].tolist() == [0]


@pytest.mark.parametrize("people", [None, 3])
def test_no_job_takes_no_day(people):
    laid = laid_out([], 40, people)
    assert laid.days == 0
    assert laid.spells.empty
