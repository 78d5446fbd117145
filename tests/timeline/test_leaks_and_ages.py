"""Seals that drip, and how long bearing and seal have been in service."""

from dataclasses import replace

import pandas as pd
import pytest
from fleets import Book, timeline_of

from scoring.timeline import Status


def dripping(**cells: str) -> Book:
    return Book().unit(**cells).look("2024-02-01", seal_weep="dripping")


def test_dripping_without_an_event_is_a_leak_of_that_day_and_stands() -> None:
    book = dripping()
    assert book.leaks("2024-01-31") == []
    assert book.leaks("2026-01-01") == [("2024-02-01", True)]
    assert book.history("leak_since", "2026-01-01") == "2024-02-01"
    assert book.found("seal_weep", "2026-01-01") == "dripping"


def test_a_dry_look_does_not_mend_a_leak() -> None:
    book = dripping().look("2024-03-01", seal_weep="dry")
    assert book.found("seal_weep", "2024-03-01") == "dripping"
    assert book.leaks("2024-03-01") == [("2024-02-01", True)]
    assert book.ignored("2024-03-01") == [("W2", "seal_weep", "dry")]


def test_seen_dripping_again_it_is_the_same_leak() -> None:
    book = dripping().look("2024-03-01", seal_weep="dripping")
    assert book.leaks("2024-03-01") == [("2024-02-01", True)]


@pytest.mark.parametrize("action", ["renew_seal", "renew_bearing"])
def test_a_leak_stands_until_the_seal_is_renewed(action: str) -> None:
    book = dripping().reworked("2024-03-01", action)
    assert book.leaks("2024-02-29") == [("2024-02-01", True)]
    assert book.leaks("2024-03-01") == [("2024-02-01", False)]
    assert book.history("leak_since", "2024-03-01") is None
    assert book.status("seal_weep", "2024-03-01") == Status.REPORTED_CURED


def test_a_new_seal_that_drips_is_a_new_leak() -> None:
    book = dripping().reworked("2024-03-01", "renew_seal").look("2024-04-01", seal_weep="dripping")
    assert book.leaks("2024-05-01") == [("2024-02-01", False), ("2024-04-01", True)]


def test_hanging_the_unit_anew_with_its_old_seal_does_not_mend_a_leak() -> None:
    book = dripping().reworked("2024-03-01", "renew_key")
    assert book.leaks("2024-03-01") == [("2024-02-01", True)]
    assert book.history("leak_since", "2024-03-01") == "2024-02-01"


def test_dripping_on_the_day_of_a_seal_leak_is_that_event() -> None:
    book = dripping().failed("2024-02-01", "seal_leak")
    assert book.leaks("2024-03-01") == []
    assert book.status("seal_weep", "2024-03-01") == Status.REPORTED_CURED


def test_an_event_of_another_mode_on_that_day_does_not_tell_of_the_leak() -> None:
    book = dripping().failed("2024-02-01", "joint_slip").failed("2024-02-01", "other")
    assert book.leaks("2024-03-01") == [("2024-02-01", True)]


def test_a_leak_that_ends_with_a_recorded_seal_leak_is_that_event() -> None:
    book = dripping().failed("2024-02-20", "seal_leak")
    assert book.leaks("2024-02-19") == [("2024-02-01", True)]
    assert book.leaks("2024-02-20") == []


def test_a_leak_that_ends_with_a_new_bearing_was_not_recorded() -> None:
    book = dripping().failed("2024-02-20", "low_speed_bearing")
    assert book.leaks("2024-02-20") == [("2024-02-01", False)]


def test_an_event_written_down_late_is_not_known_before() -> None:
    book = dripping().failed("2024-02-01", "seal_leak", recorded_at="2024-04-01")
    assert book.leaks("2024-03-31") == [("2024-02-01", True)]
    assert book.leaks("2024-04-01") == []


def test_a_seal_renewed_and_written_down_late_leaks_until_then() -> None:
    book = dripping().reworked("2024-03-01", "renew_seal", recorded_at="2024-04-01")
    assert book.leaks("2024-03-31") == [("2024-02-01", True)]
    assert book.leaks("2024-04-01") == [("2024-02-01", False)]


def test_a_seal_leak_renews_the_seal() -> None:
    book = Book().unit().look("2024-01-02", seal_weep="damp").failed("2024-03-01", "seal_leak")
    assert book.status("seal_weep", "2024-03-01") == Status.REPORTED_CURED
    assert book.history("seal_age_days", "2024-03-11") == 10
    assert book.history("bearing_age_days", "2024-03-11") == 70


@pytest.mark.parametrize("how", ["failure", "re-work"])
def test_a_new_bearing_renews_bearing_and_seal(how: str) -> None:
    book = Book().unit()
    if how == "failure":
        book.failed("2024-03-01", "low_speed_bearing")
    else:
        book.reworked("2024-03-01", "renew_bearing")
    assert book.history("bearing_age_days", "2024-03-11") == 10
    assert book.history("seal_age_days", "2024-03-11") == 10


def test_age_runs_from_the_first_run_or_else_from_hanging() -> None:
    assert Book().unit().history("bearing_age_days", "2024-01-31") == 30
    started = Book().unit(started_on="2024-01-11")
    assert started.history("bearing_age_days", "2024-01-31") == 20
    assert started.history("bearing_age_days", "2024-01-05") == 0


def test_a_part_renewed_before_the_first_run_ages_from_the_first_run() -> None:
    book = Book().unit(started_on="2024-01-21").reworked("2024-01-11", "renew_seal")
    assert book.history("seal_age_days", "2024-01-31") == 10


def moved() -> Book:
    book = Book().unit(asset_id="reducer 1", out_of_service_on="2024-02-10")
    return book.unit("U2", asset_id="reducer 1", installed_on="2024-03-01")


def test_age_follows_a_reducer_from_shaft_to_shaft_and_rests_between() -> None:
    assert moved().history("bearing_age_days", "2024-03-11") == 40 + 10
    assert moved().history("seal_age_days", "2024-03-11") == 40 + 10


def test_a_part_renewed_on_an_earlier_shaft_is_as_old_as_since_then() -> None:
    book = moved().reworked("2024-01-31", "renew_seal")
    assert book.history("seal_age_days", "2024-03-11") == 10 + 10
    assert book.history("bearing_age_days", "2024-03-11") == 40 + 10


def test_a_part_renewed_on_the_later_shaft_is_new_there() -> None:
    book = moved().failed("2024-03-06", "low_speed_bearing", "U2")
    assert book.history("bearing_age_days", "2024-03-05") == 40 + 4
    assert book.history("bearing_age_days", "2024-03-11") == 5


def test_a_joint_is_as_old_as_since_it_was_hung_last() -> None:
    assert Book().unit().history("joint_age_days", "2024-01-31") == 30
    started = Book().unit(started_on="2024-01-11")
    assert started.history("joint_age_days", "2024-01-05") == 0
    assert started.history("joint_age_days", "2024-01-31") == 20
    hung = started.reworked("2024-01-21", "reseat_on_shaft")
    assert hung.history("joint_age_days", "2024-01-31") == 10
    # it does not follow the reducer to the next shaft
    assert moved().history("joint_age_days", "2024-03-11") == 10


def test_another_reducer_on_the_shaft_starts_anew() -> None:
    book = Book().unit(asset_id="reducer 1", out_of_service_on="2024-02-10")
    book.unit("U2", asset_id="reducer 2", installed_on="2024-03-01")
    book.unit("U3", installed_on="2024-03-01")
    assert book.known("2024-03-11").history["bearing_age_days"].tolist() == [10, 10]


def test_hung_and_taken_off_within_a_day_goes_before_the_next_shaft() -> None:
    one, day = {"asset_id": "reducer 1"}, "2024-01-01"
    book = Book().unit("U0", installed_on="2023-12-02", out_of_service_on=day, **one)
    book.unit("U1", out_of_service_on=day, **one).unit("U2", **one)
    fleet = book.reworked(day, "renew_seal").fleet()
    turned = replace(fleet, units=fleet.units.iloc[::-1].reset_index(drop=True))
    for either in (fleet, turned):
        known = timeline_of(either).known(pd.Timestamp("2024-01-11"))
        assert known.history["seal_age_days"].tolist() == [10]
        assert known.history["bearing_age_days"].tolist() == [30 + 10]


def test_what_was_found_stays_with_the_shaft_and_does_not_follow_the_reducer() -> None:
    book = moved().look("2024-01-02", guard="missing", bore_condition="oil_film")
    assert book.status("guard", "2024-03-01") == Status.NOT_SEEN
    assert book.status("bore_condition", "2024-03-01") == Status.NOT_SEEN
