"""A record without a time, written down late, ends the order that times gave a day; by hand.

Until it is known the times decide: re-work at eight, a look at ten. From then on the look counts as
done before the re-work, as on any day of which a time is missing.
"""

import numpy as np
import pandas as pd
import pytest
from fleets import Book, plain

from scoring.timeline.first_looks import first_looks
from scoring.timeline.states_over_time import states_over_time

DAY, LAST_DAY, FROM_THEN = "2024-01-02", "2024-01-31", "2024-02-01"


def day_of(actions, **seen):
    book = Book().unit().reworked(f"{DAY}T08:00", actions).look(f"{DAY}T10:00", **seen)
    return book.failed(DAY, "other", recorded_at=FROM_THEN)


def test_first_looks_go_by_the_order_known():
    timeline = day_of("correct_oil_level", oil_level="low").timeline()
    found = [
        plain(first_looks(timeline, pd.Timestamp(day)).found["oil_level"].iloc[0])
        for day in (LAST_DAY, FROM_THEN)
    ]
    assert found == [None, "low"]  # a look after re-work tells of another day's work


def test_leaks_go_by_the_order_known():
    book = day_of("renew_seal", seal_weep="dripping")
    assert book.leaks(LAST_DAY) == [(DAY, True)]  # the new seal drips
    assert book.leaks(FROM_THEN) == [(DAY, False)]  # the old one dripped and was renewed
    assert book.history("leak_since", LAST_DAY) == DAY
    assert book.history("leak_since", FROM_THEN) is None


@pytest.mark.parametrize(("day", "same"), [(LAST_DAY, False), (FROM_THEN, True)])
def test_the_timeline_itself_serves_where_no_order_has_changed(day, same):
    timeline = day_of("correct_oil_level", oil_level="low").timeline()
    assert (timeline.in_the_order_known(pd.Timestamp(day)) is timeline) is same
    plain_day = Book().unit().look(DAY, oil_level="low").timeline()
    assert plain_day.in_the_order_known(pd.Timestamp(day)) is plain_day


def test_seen_leaks_tell_when_the_seal_was_renewed_by_the_order_known():
    timeline = day_of("renew_seal", seal_weep="dripping").timeline()
    renewed = [
        plain(timeline.leaks_seen(pd.Timestamp(day))["renewed_on"].astype("M8[s]").iloc[0])
        for day in (LAST_DAY, FROM_THEN)
    ]
    assert renewed == [None, DAY]


def test_many_days_at_once_go_by_the_order_known():
    timeline = day_of("renew_seal", seal_weep="dripping").timeline()
    days = np.array([LAST_DAY, FROM_THEN], dtype="datetime64[D]")
    stood = states_over_time(timeline, np.zeros(2, dtype=np.int64), days)
    assert [plain(one) for one in stood.history["leak_since"]] == [DAY, None]
    day_before = np.array(["2024-01-01"], dtype="datetime64[D]")
    stood = states_over_time(timeline, np.zeros(1, dtype=np.int64), day_before)
    assert plain(stood.history["leak_since"].iloc[0]) is None
