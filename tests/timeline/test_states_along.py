"""Many units at many days at once, against one day at a time."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pandas as pd
import pytest
from fleets import TODAY, Book, plain, timeline_of
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from random_books import books

from scoring.contract import CHECKS
from scoring.contract.details import DETAILS
from scoring.records import TEXT, Fleet
from scoring.timeline import Known, Status, Timeline
from scoring.timeline.check_over_time import at
from scoring.timeline.states_over_time import states_over_time
from scoring.timeline.symptom_days import forgotten_from

FEW = settings(
    deadline=None,
    derandomize=True,
    max_examples=10,
    phases=(Phase.generate,),
    suppress_health_check=[HealthCheck.too_slow],
)
FRAMES = ("units", "found", "exceedance", "status", "seen_on", "history")
SYMPTOMS = [check.name for check in CHECKS if check.symptom]
STEPS = st.lists(st.sampled_from((-400, -30, -1, 0, 1, 2, 30, 365)), min_size=2, max_size=4)


def days_around(as_of: date, steps: list[int]) -> list[pd.Timestamp]:
    return [pd.Timestamp(as_of + timedelta(days=step)) for step in sorted({*steps, 0})]


def by_day(timeline: Timeline, days: list[pd.Timestamp]) -> tuple[np.ndarray, np.ndarray, Known]:
    """Ask one day at a time; return units, days and all that was said, in one object."""
    known = [timeline.known(day) for day in days]
    place = np.concatenate([k.place for k in known])
    day = np.concatenate([np.full(len(k.place), k.as_of.to_datetime64()) for k in known])
    frames = {f: pd.concat([getattr(k, f) for k in known], ignore_index=True) for f in FRAMES}
    return place, day.astype("datetime64[D]"), replace(known[-1], place=place, **frames)


def assert_same(answer: Known, expected: Known, frames: tuple[str, ...] = FRAMES) -> None:
    assert answer.place.tolist() == expected.place.tolist()
    for name in frames:
        pd.testing.assert_frame_equal(getattr(answer, name), text(getattr(expected, name)))


def text(frame: pd.DataFrame) -> pd.DataFrame:
    """Return the crew as text also where nobody is named, without the details of looks."""
    frame = frame.drop(columns=[one.name for one in DETAILS if one.name in frame])
    return frame.astype({"crew": TEXT}) if "crew" in frame else frame


@FEW
@given(books(), STEPS)
def test_many_days_at_once_say_what_each_day_says(
    drawn: tuple[Book, date], steps: list[int]
) -> None:
    book, as_of = drawn
    timeline = timeline_of(book.fleet())
    place, day, expected = by_day(timeline, days_around(as_of, steps))
    if len(place):
        assert_same(states_over_time(timeline, place, day), expected)


@FEW
@given(books(), STEPS, st.sampled_from([True, False]))
def test_some_checks_alone_say_what_all_say_of_them(
    drawn: tuple[Book, date], steps: list[int], symptoms: bool
) -> None:
    book, as_of = drawn
    timeline = timeline_of(book.fleet())
    place, day, _ = by_day(timeline, days_around(as_of, steps))
    if not len(place):
        return
    some = tuple(check for check in CHECKS if check.symptom == symptoms)
    every = states_over_time(timeline, place, day, symptom_lag_days=30)
    alone = states_over_time(timeline, place, day, symptom_lag_days=30, only=some)
    for frame in ("found", "exceedance", "status"):
        expected = getattr(every, frame)[[check.name for check in some]]
        pd.testing.assert_frame_equal(getattr(alone, frame), expected)
    for frame in ("units", "history"):
        ours, theirs = getattr(alone, frame), getattr(every, frame)
        pd.testing.assert_frame_equal(ours, theirs[list(ours)])
    assert {"mounting", "screw_thread", "ambient_c"} <= set(alone.units)
    assert list(alone.history) == ["crew", "hung_on", "joint_age_days"]


@pytest.mark.parametrize("size", [0, 2, 9])
def test_what_stands_at_places_of_few_and_of_many_values(size: int) -> None:
    values, places = np.arange(10.0, 10.0 + size), np.array([-1, 0, -1, 1, 0][: 5 if size else 1])
    expected = [np.nan if place < 0 else 10.0 + place for place in places]
    np.testing.assert_array_equal(at(values, places, np.nan), expected)


@FEW
@given(books(), STEPS, st.integers(0, 2**32 - 1))
def test_rows_come_as_asked_in_any_order(
    drawn: tuple[Book, date], steps: list[int], seed: int
) -> None:
    book, as_of = drawn
    timeline = timeline_of(book.fleet())
    place, day, _ = by_day(timeline, days_around(as_of, steps))
    shuffled = np.random.default_rng(seed).permutation(len(place))
    if len(place):
        inorder = states_over_time(timeline, place, day)
        answer = states_over_time(timeline, place[shuffled], day[shuffled])
        for name in FRAMES:
            frame = getattr(inorder, name).iloc[shuffled].reset_index(drop=True)
            pd.testing.assert_frame_equal(getattr(answer, name), frame)


def without_late_symptoms(fleet: Fleet, day: pd.Timestamp, lag: int) -> Fleet:
    walkdowns = fleet.walkdowns.copy()
    age = day - walkdowns["inspected_on"].dt.normalize()
    late = (age < pd.Timedelta(days=lag)).to_numpy()
    for check in SYMPTOMS:
        walkdowns[check] = walkdowns[check].where(~late)
    return replace(fleet, walkdowns=walkdowns)


@FEW
@given(books(), st.sampled_from((1, 30, 400)))
def test_a_symptom_within_its_lag_is_as_if_nobody_had_seen_it(
    drawn: tuple[Book, date], lag: int
) -> None:
    book, as_of = drawn
    fleet, day = book.fleet(), pd.Timestamp(as_of)
    expected = timeline_of(without_late_symptoms(fleet, day, lag)).known(day)
    if len(expected.place):
        timeline = timeline_of(fleet)
        days = np.full(len(expected.place), np.datetime64(as_of, "D"))
        answer = states_over_time(timeline, expected.place, days, symptom_lag_days=lag)
        assert_same(answer, expected, FRAMES[:-1])
        history = timeline.known(day).history  # a leak is no symptom: it is known at once
        pd.testing.assert_frame_equal(answer.history, text(history))


@FEW
@given(st.dates(date(1999, 1, 1), date(2030, 1, 1)), st.integers(330, 400))
def test_symptoms_are_forgotten_on_the_day_that_months_say(seen: date, later: int) -> None:
    as_of = seen + timedelta(days=later)
    kept = pd.Timestamp(seen) >= pd.Timestamp(as_of) - pd.DateOffset(months=12)
    assert kept == (np.datetime64(as_of, "D") < forgotten_from(np.datetime64(seen, "D")))


def one(book: Book, day: str, lag: int = 30) -> Known:
    days = np.array([day], dtype="datetime64[D]")
    return states_over_time(book.timeline(), np.array([0]), days, symptom_lag_days=lag)


def status(book: Book, check: str, day: str) -> int:
    return int(one(book, day).status[check].iloc[0])


def test_a_symptom_counts_from_30_days_after_it_was_seen_and_for_12_months() -> None:
    book = Book().unit().look("2024-03-01", vibration_mm_s="9", guard="missing")
    assert status(book, "guard", "2024-03-01") == Status.SEEN
    assert status(book, "vibration_mm_s", "2024-03-30") == Status.NOT_SEEN
    assert status(book, "vibration_mm_s", "2024-03-31") == Status.SEEN
    assert status(book, "vibration_mm_s", "2025-03-01") == Status.SEEN
    assert status(book, "vibration_mm_s", "2025-03-02") == Status.NOT_SEEN


def test_a_good_look_at_a_symptom_waits_as_long_as_a_bad_one() -> None:
    book = Book().unit().look("2024-03-01", seal_weep="damp").look("2024-06-01", seal_weep="dry")
    assert one(book, "2024-06-30").found["seal_weep"].iloc[0] == "damp"
    assert one(book, "2024-07-01").found["seal_weep"].iloc[0] == "dry"


def test_a_leak_is_known_at_once() -> None:
    book = Book().unit().look("2024-03-01", seal_weep="dripping")
    assert plain(one(book, "2024-03-01").history["leak_since"].iloc[0]) == "2024-03-01"
    assert status(book, "seal_weep", "2024-03-30") == Status.NOT_SEEN
    assert one(book, "2029-03-31").found["seal_weep"].iloc[0] == "dripping"


def test_written_down_later_than_the_lag_it_counts_from_then() -> None:
    book = Book().unit().look("2024-03-01", recorded_at="2024-05-01", vibration_mm_s="9")
    assert status(book, "vibration_mm_s", "2024-04-30") == Status.NOT_SEEN
    assert status(book, "vibration_mm_s", "2024-05-01") == Status.SEEN


def test_hung_anew_within_the_lag_a_symptom_of_the_old_bearing_never_counts() -> None:
    book = Book().unit().look("2024-03-01", vibration_mm_s="9")
    book.failed("2024-03-20", "low_speed_bearing")
    assert status(book, "vibration_mm_s", "2024-03-31") == Status.NOT_SEEN


def test_several_re_hangs_written_down_late_let_older_looks_stand_until_then() -> None:
    book = Book().unit().look("2024-01-02", bore_condition="oil_film")
    book.reworked("2024-02-01", "renew_key", recorded_at="2024-06-01")
    book.look("2024-03-01", bore_condition="dust_or_dirt")
    book.reworked("2024-04-01", "renew_key", recorded_at="2024-05-01")
    book.look("2024-04-02", bore_condition="clean_dry", recorded_at="2024-05-20")
    days = np.array(["2024-03-01", "2024-04-30", "2024-05-01", "2024-05-20"], "datetime64[D]")
    found = states_over_time(book.timeline(), np.zeros(4, int), days).found["bore_condition"]
    assert [plain(value) for value in found] == ["oil_film", "oil_film", "oil_film", "clean_dry"]


def test_a_unit_that_is_not_in_service_is_refused() -> None:
    book = Book().unit(out_of_service_on="2024-06-01")
    for day in ("2023-12-31", "2024-06-01"):
        with pytest.raises(ValueError, match="U1"):
            one(book, day)


def test_the_order_known_at_each_day_is_the_one_that_counts() -> None:
    book = Book().unit().unit("U2").reworked("2024-01-02T08:00", "correct_oil_level", "U2")
    book.look("2024-01-02T10:00", "U2", oil_level="low")
    book.failed("2024-01-02", "other", "U2", recorded_at="2024-02-01")
    days = np.array(["2024-01-02", "2024-01-31", "2024-02-01"], dtype="datetime64[D]")
    found = states_over_time(book.timeline(), np.ones(3, int), days).found["oil_level"]
    assert [plain(value) for value in found] == ["low", "low", None]


def test_nothing_asked_nothing_said() -> None:
    book = Book().unit()
    none = states_over_time(book.timeline(), np.array([], int), np.array([], "datetime64[D]"))
    assert len(none.found) == len(none.units) == 0
    assert none.found.columns.tolist() == [check.name for check in CHECKS]
    assert none.as_of is pd.NaT
    assert TODAY not in none.units.to_numpy()


def test_a_cure_before_the_first_look_of_all_is_forgotten_with_that_look():
    """The seal was renewed, then seen dry; a year later nothing is known of it, on either way."""
    book = Book().unit().reworked("2024-01-05", "renew_seal").look("2024-01-10", seal_weep="dry")
    timeline = book.timeline()
    days = np.array(["2024-01-07", "2024-06-01", "2025-06-01"], dtype="datetime64[D]")
    status = states_over_time(timeline, np.zeros(3, dtype=np.int64), days).status["seal_weep"]
    assert status.tolist() == [Status.REPORTED_CURED, Status.SEEN, Status.NOT_SEEN]
    each = [timeline.known(pd.Timestamp(day)).status["seal_weep"].iloc[0] for day in days]
    assert status.tolist() == each
