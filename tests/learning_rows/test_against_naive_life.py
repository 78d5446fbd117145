"""Rows of whole fleets against units told day by day, over random small fleets."""

from collections.abc import Iterator
from datetime import date

import numpy as np
import pandas as pd
from fleets import Book, exceedance_by_look, timeline_of
from hypothesis import HealthCheck, Phase, given, settings
from naive_life import Day, life_of
from naive_timeline import days_in_service
from random_books import books

from scoring.learning.exposure_cuts import AGE_BAND_DAYS
from scoring.learning.exposure_periods import ExposurePeriods, exposure_periods
from scoring.timeline.states_over_time import states_over_time

FEW = settings(
    deadline=None,
    derandomize=True,
    max_examples=10,
    phases=(Phase.generate,),
    suppress_health_check=[HealthCheck.too_slow],
)


def periods_of(book: Book, as_of: date) -> ExposurePeriods:
    return exposure_periods(timeline_of(book.fleet()), pd.Timestamp(as_of))


def day_by_day(periods: ExposurePeriods) -> Iterator[tuple[int, date, Day]]:
    """Spread every row over its days; a failure falls on the last of them."""
    for row in periods.rows.itertuples():
        for day in pd.date_range(row.start_on, row.stop_on, inclusive="right"):
            last = day == row.stop_on
            failed, leaked = row.low_speed_bearing and last, row.seal_leak and last
            reported = Day(
                bool(row.low_speed_bearing_at_risk),
                bool(failed),
                bool(row.seal_leak_at_risk),
                bool(leaked),
                bool(row.joint_slip_at_risk),
                bool(row.joint_slip and last),
            )
            yield int(row.place), day.date(), reported


@FEW
@given(books())
def test_rows_tell_the_same_days_as_a_life_told_day_by_day(drawn: tuple[Book, date]) -> None:
    book, as_of = drawn
    periods = periods_of(book, as_of)
    rows = list(day_by_day(periods))
    reported = {(place, day): one for place, day, one in rows}
    lives = [life_of(book, unit, as_of) for unit in book.units]
    expected = {(n, day): one for n, life in enumerate(lives) for day, one in life.items()}
    assert reported == expected
    assert len(reported) == len(rows)  # no day twice
    days = expected.values()
    for mode, at_risk, failed in (
        ("low_speed_bearing", "bearing_at_risk", "bearing_failed"),
        ("seal_leak", "seal_at_risk", "seal_failed"),
        ("joint_slip", "slip_at_risk", "slipped"),
    ):
        years = sum(getattr(day, at_risk) for day in days) / 365.25
        assert np.isclose(periods.exposure_years(mode).sum(), years)
        assert periods.rows[mode].sum() == sum(getattr(day, failed) for day in days)


@FEW
@given(books())
def test_ages_are_those_known_at_the_start_of_each_row(drawn: tuple[Book, date]) -> None:
    book, as_of = drawn
    periods = periods_of(book, as_of)
    exceedance = exceedance_by_look(book.fleet())
    some = periods.rows.iloc[:: max(1, len(periods) // 25)]
    for row in some.itertuples():
        start = row.start_on.date()
        days = (row.stop_on - row.start_on).days
        for part in ("bearing", "seal"):
            age = days_in_service(book, book.units[row.place], start, exceedance, part)
            assert getattr(row, f"{part}_age_start_days") == age
            assert getattr(row, f"{part}_age_stop_days") == age + days


@FEW
@given(books())
def test_nothing_known_changes_within_a_row(drawn: tuple[Book, date]) -> None:
    book, as_of = drawn
    periods = periods_of(book, as_of)
    rows = periods.rows
    for part in ("bearing", "seal"):
        last_day = rows[f"{part}_age_stop_days"].to_numpy() - 1
        first_day = rows[f"{part}_age_start_days"].to_numpy()
        bands = [np.searchsorted(AGE_BAND_DAYS, day, side="right") for day in (first_day, last_day)]
        assert (bands[0] == bands[1]).all()
    if len(rows):
        days = (rows["stop_on"] - rows["start_on"]).dt.days.to_numpy()
        again = np.repeat(np.arange(len(rows)), days)
        since = np.concatenate([np.arange(n) for n in days]).astype("timedelta64[D]")
        day = rows["start_on"].to_numpy().astype("datetime64[D]")[again] + since
        place = rows["place"].to_numpy()[again]
        each = states_over_time(periods.timeline, place, day, symptom_lag_days=30)
        whole = periods.known(again)
        for name in ("found", "exceedance", "status", "seen_on"):
            pd.testing.assert_frame_equal(getattr(each, name), getattr(whole, name))
        grows = ["bearing_age_days", "seal_age_days", "joint_age_days"]
        ages = whole.history[grows].add(pd.Series(since.astype(float)), axis=0)
        pd.testing.assert_frame_equal(each.history, whole.history.assign(**ages))


@FEW
@given(books())
def test_what_is_written_after_the_day_changes_nothing(drawn: tuple[Book, date]) -> None:
    book, as_of = drawn
    early = Book(units=book.units)
    for table, day in (
        ("walkdowns", "inspected_on"),
        ("events", "occurred_on"),
        ("rework", "done_on"),
    ):
        for row in getattr(book, table):
            if max(row[day][:10], row.get("recorded_at", "")[:10]) <= as_of.isoformat():
                getattr(early, table).append({**row})
    kept = {row["event_id"] for row in early.events}
    early.rework = [
        {**r, "event_id": r["event_id"] * (r["event_id"] in kept)} for r in early.rework
    ]
    then, now = periods_of(early, as_of), periods_of(book, as_of)
    pd.testing.assert_frame_equal(then.rows, now.rows)
