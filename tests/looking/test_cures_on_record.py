"""How likely the cures on record succeeded: by what was done last, and only what was known."""

import numpy as np
import pandas as pd
import pytest
from fleets import Book

from scoring.assessment import FleetAssessor
from scoring.looking.cures_on_record import chance_that_cures_succeeded
from scoring.what_if.action_arrays import ACTION_AT, ACTION_NAMES
from scoring.what_if.rework_success import rework_success

DAY = pd.Timestamp("2025-01-01")


def chances(book, day=DAY):
    looks = np.zeros(len(ACTION_NAMES), dtype=np.int64)
    succeeded = looks.copy()
    for name, (n, good) in {"back_off_isolators": (80, 40), "open_breather": (100, 99)}.items():
        looks[ACTION_AT[name]], succeeded[ACTION_AT[name]] = n, good
    success = rework_success(looks, succeeded)
    table = chance_that_cures_succeeded(FleetAssessor(book.fleet()).timeline, day, success)
    return table, dict(zip(ACTION_NAMES, success.chance, strict=True))


def test_each_check_goes_by_what_cured_it():
    book = Book().unit().unit("U2").reworked("2024-02-01", "back_off_isolators;replace_isolators")
    table, success = chances(book)
    both = 1 - (1 - success["back_off_isolators"]) * (1 - success["replace_isolators"])
    assert table["isolators_free"].tolist() == pytest.approx([both, np.nan], nan_ok=True)
    assert table["isolator_stack"].iloc[0] == pytest.approx(success["replace_isolators"])
    assert table["breather"].isna().all()


def test_the_latest_cure_counts_and_the_repair_of_a_failure_takes_as_usual():
    book = (
        Book()
        .unit(mounting="shrink_disc")
        .reworked("2024-02-01", "back_off_isolators")
        .reworked("2024-03-01", "replace_isolators")
        .reworked("2024-03-02", "recentre_disc")
        .failed("2024-04-01", "seal_leak")
    )
    table, success = chances(book)
    assert table["isolators_free"].iloc[0] == pytest.approx(success["replace_isolators"])
    assert table["screws_low"].iloc[0] == pytest.approx(success["retorque_in_passes"]), "brought"
    assert table["seal_weep"].iloc[0] == 0.85


def test_what_was_written_down_later_does_not_count():
    book = Book().unit().reworked("2024-02-01", "open_breather", recorded_at="2025-06-01")
    assert chances(book)[0].isna().all(axis=None)
    later, success = chances(book, pd.Timestamp("2025-06-02"))
    assert later["breather"].iloc[0] == pytest.approx(success["open_breather"])


def test_no_rework_at_all():
    assert chances(Book().unit())[0].isna().all(axis=None)
