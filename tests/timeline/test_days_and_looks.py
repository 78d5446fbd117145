"""What a walkdown tells, from when on, and for how long."""

import pandas as pd
from fleets import Book

from scoring.timeline import Status
from scoring.timeline.order import natural_key


def test_the_newest_look_counts() -> None:
    book = Book().unit().look("2024-01-02", oil_level="low").look("2024-02-02", oil_level="right")
    assert book.found("oil_level", "2024-02-01") == "low"
    assert book.found("oil_level", "2024-02-02") == "right"


def test_nothing_is_known_before_it_happens() -> None:
    book = Book().unit().look("2024-01-05", oil_level="low")
    assert book.status("oil_level", "2024-01-04") == Status.NOT_SEEN
    assert book.status("oil_level", "2024-01-05") == Status.SEEN


def test_a_record_is_known_from_the_day_it_was_written_down() -> None:
    book = Book().unit().look("2024-01-05", recorded_at="2024-01-09T16:00", oil_level="low")
    assert book.status("oil_level", "2024-01-08") == Status.NOT_SEEN
    assert book.status("oil_level", "2024-01-09") == Status.SEEN
    seen_on = book.known("2024-01-09").seen_on["oil_level"].iloc[0]
    assert seen_on == pd.Timestamp("2024-01-05")


def test_a_record_is_never_known_before_its_own_day() -> None:
    book = Book().unit().look("2024-01-05", recorded_at="2024-01-03", oil_level="low")
    assert book.status("oil_level", "2024-01-04") == Status.NOT_SEEN


def test_a_time_of_day_in_the_question_means_the_whole_day() -> None:
    book = Book().unit().look("2024-01-05T18:00", oil_level="low")
    assert book.status("oil_level", "2024-01-05T06:00") == Status.SEEN


def test_a_blank_never_erases_an_earlier_value() -> None:
    book = Book().unit().look("2024-01-02", guard="missing")
    book.look("2024-02-02", guard="", oil_level="right")
    assert book.found("guard", "2024-03-01") == "missing"


def test_blank_is_not_seen_and_never_good() -> None:
    book = Book().unit().look("2024-01-02", oil_level="right")
    assert book.status("guard", "2024-01-02") == Status.NOT_SEEN
    assert book.found("guard", "2024-01-02") is None
    assert pd.isna(book.known("2024-01-02").exceedance["guard"].iloc[0])


def test_a_day_runs_failure_walkdown_rework_walkdown_after_rework() -> None:
    day = "2024-03-01"
    failure_first = Book().unit().look(day, seal_weep="damp").failed(day, "low_speed_bearing")
    assert failure_first.found("seal_weep", day) == "damp"
    then_rework = failure_first.reworked(day, "renew_seal")
    assert then_rework.status("seal_weep", day) == Status.REPORTED_CURED
    last = then_rework.look(day, kind="after_rework", seal_weep="dry")
    assert last.found("seal_weep", day) == "dry"


def test_ties_go_by_natural_order_of_the_id() -> None:
    book = Book().unit()
    book.look("2024-01-02", walkdown_id="W10", oil_level="low")
    book.look("2024-01-02", walkdown_id="W9", oil_level="right")
    assert book.found("oil_level", "2024-01-02") == "low"


def test_natural_order_takes_numbers_as_numbers() -> None:
    ids = ["W10", "W9", "W", "W09", "X1", "W9-2", "9", "W9-10"]
    assert sorted(ids, key=natural_key) == ["W", "W09", "W9", "W9-2", "W9-10", "W10", "X1", "9"]


def test_where_all_records_of_a_day_have_times_the_times_decide() -> None:
    book = Book().unit().reworked("2024-01-02T08:00", "correct_oil_level")
    book.look("2024-01-02T10:00", oil_level="low")
    assert book.found("oil_level", "2024-01-02") == "low"


def test_one_record_without_a_time_puts_the_day_back_in_its_usual_order() -> None:
    book = Book().unit().reworked("2024-01-02T08:00", "correct_oil_level")
    book.look("2024-01-02T10:00", oil_level="low").failed("2024-01-02", "other")
    assert book.status("oil_level", "2024-01-02") == Status.REPORTED_CURED


def test_a_record_of_another_unit_or_day_does_not_touch_the_order() -> None:
    book = Book().unit().unit("U2").reworked("2024-01-02T08:00", "correct_oil_level")
    book.look("2024-01-02T10:00", oil_level="low")
    book.failed("2024-01-02", "other", "U2").failed("2024-01-03", "other")
    assert book.found("oil_level", "2024-01-04") == "low"


def test_a_record_written_down_late_does_not_change_the_order_known_before() -> None:
    book = Book().unit().reworked("2024-01-02T08:00", "correct_oil_level")
    book.look("2024-01-02T10:00", oil_level="low")
    book.failed("2024-01-02", "other", recorded_at="2024-02-01")
    assert book.found("oil_level", "2024-01-31") == "low"
    assert book.status("oil_level", "2024-02-01") == Status.REPORTED_CURED


def test_temperature_vibration_and_damp_are_forgotten_after_12_months() -> None:
    symptoms = ["running_temperature_c", "vibration_mm_s", "seal_weep"]
    book = Book().unit()
    book.look("2024-03-01", running_temperature_c="95", vibration_mm_s="9", seal_weep="damp")
    assert (book.known("2025-03-01").status[symptoms] == Status.SEEN).all(axis=None)
    later = book.known("2025-03-02")
    assert (later.status[symptoms] == Status.NOT_SEEN).all(axis=None)
    assert later.seen_on[symptoms].isna().all(axis=None)
    assert later.found[symptoms].isna().all(axis=None)


def test_on_leap_day_12_months_go_back_to_the_end_of_february() -> None:
    book = Book().unit(installed_on="2023-01-01").look("2023-02-28", seal_weep="damp")
    assert book.status("seal_weep", "2024-02-29") == Status.SEEN


def test_causes_are_never_forgotten() -> None:
    book = Book().unit().look("2024-01-02", guard="missing", bore_condition="oil_film")
    assert book.found("guard", "2029-01-01") == "missing"
    assert book.found("bore_condition", "2029-01-01") == "oil_film"


def test_a_good_look_at_a_symptom_takes_the_place_of_a_bad_one() -> None:
    book = Book().unit().look("2024-01-02", vibration_mm_s="9")
    book.look("2024-02-02", vibration_mm_s="2")
    assert book.found("vibration_mm_s", "2024-02-02") == 2


def test_units_are_in_service_from_hanging_to_the_day_their_service_ends() -> None:
    book = Book().unit(installed_on="2024-01-10T14:00", out_of_service_on="2024-02-10")
    days = ["2024-01-09", "2024-01-10", "2024-02-09", "2024-02-10"]
    timeline = book.timeline()
    in_service = [len(timeline.known(pd.Timestamp(day)).units) for day in days]
    assert in_service == [0, 1, 1, 0]


def test_failures_are_recorded_since_the_start_where_nothing_is_said() -> None:
    def since(**cells: str) -> object:
        return Book().unit(**cells).history("failures_recorded_from", "2024-06-01")

    assert since() == "2024-01-01"
    assert since(started_on="2024-01-05") == "2024-01-05"
    assert since(started_on="2024-01-05", failures_recorded_from="2024-03-01") == "2024-03-01"


def test_a_fleet_without_any_record_is_all_not_seen() -> None:
    known = Book().unit().known("2024-06-01")
    assert (known.status == Status.NOT_SEEN).all(axis=None)
    assert known.better_but_ignored.empty
