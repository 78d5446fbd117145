"""The rules of time at risk, each as an example."""

import numpy as np
import pandas as pd
import pytest
from fleets import Book, plain

from scoring.learning.exposure_periods import ExposurePeriods, exposure_periods
from scoring.timeline import Status

AS_OF = "2024-12-31"


def periods(book: Book, as_of: str = AS_OF) -> ExposurePeriods:
    return exposure_periods(book.timeline(), pd.Timestamp(as_of))


def kept(**cells: str) -> Book:
    """Begin a fleet whose failures are written down; one unit fails on another shaft."""
    return Book().unit(**cells).unit("other").failed("2024-01-05", "other", "other")


def rows(book: Book, as_of: str = AS_OF) -> pd.DataFrame:
    """Return the rows of the first unit."""
    frame = periods(book, as_of).rows
    return frame[frame["place"] == 0].reset_index(drop=True)


def starts(book: Book, as_of: str = AS_OF) -> list[str]:
    return rows(book, as_of)["start_on"].dt.strftime("%m-%d").tolist()


def ends(book: Book, as_of: str = AS_OF) -> tuple[object, object]:
    """Return the first day, after which, and the last on which the unit is observed."""
    frame = rows(book, as_of)
    return plain(frame["start_on"].iloc[0]), plain(frame["stop_on"].iloc[-1])


def failures(book: Book, mode: str, as_of: str = AS_OF) -> list[str]:
    frame = rows(book, as_of)
    return frame.loc[frame[mode] == 1, "stop_on"].dt.strftime("%m-%d").tolist()


AGES_OF_A_NEW_UNIT = ["01-01", "04-01"]


def test_observation_begins_with_the_first_run_or_else_with_hanging() -> None:
    assert ends(kept())[0] == "2024-01-01"
    assert ends(kept(started_on="2024-01-20"))[0] == "2024-01-20"


def test_observation_begins_when_failures_are_written_down_if_that_is_later() -> None:
    assert ends(kept(failures_recorded_from="2024-05-01"))[0] == "2024-05-01"
    assert ends(kept(failures_recorded_from="2020-05-01"))[0] == "2024-01-01"


def test_observation_ends_with_service_or_on_the_day_asked_for() -> None:
    assert ends(kept())[1] == AS_OF
    assert ends(kept(out_of_service_on="2024-06-01"))[1] == "2024-06-01"
    assert ends(kept(out_of_service_on="2025-06-01"))[1] == AS_OF


def test_a_unit_that_was_never_observed_has_no_rows() -> None:
    assert rows(kept(started_on="2024-12-31")).empty
    assert rows(kept(failures_recorded_from="2025-01-01")).empty
    assert rows(kept(out_of_service_on="2024-01-01")).empty


def test_where_failures_are_not_kept_there_are_no_rows() -> None:
    book = Book().unit().look("2024-02-01", seal_weep="dripping")
    assert len(periods(book)) == 0
    assert len(periods(book).known().found) == 0
    assert len(periods(Book().unit(failures_recorded_from="2024-01-01"))) > 0
    late = Book().unit().failed("2024-05-01", "other")
    assert len(periods(late, "2024-04-30")) == 0
    assert len(periods(late, "2024-05-01")) > 0


def test_without_records_only_age_cuts_a_life() -> None:
    assert starts(kept()) == AGES_OF_A_NEW_UNIT
    assert rows(kept(), "2026-06-01")["bearing_age_start_days"].tolist() == [0, 91, 365, 730]


def test_exposure_is_days_over_the_length_of_a_year() -> None:
    years = periods(kept()).rows.query("place == 0")["exposure_years"].sum()
    assert years == pytest.approx(365 / 365.25)


def test_a_walkdown_a_rework_and_a_failure_each_begin_a_row() -> None:
    book = kept().look("2024-02-01", guard="missing").reworked("2024-02-10", "fit_guard")
    book.failed("2024-03-01", "joint_slip")
    assert starts(book) == ["01-01", "02-01", "02-10", "03-01", "04-01"]


def test_what_is_learned_on_a_day_explains_from_the_next_day_on() -> None:
    book = kept().look("2024-02-01", guard="missing").failed("2024-02-01", "low_speed_bearing")
    reported = periods(book)
    here = reported.rows["place"].to_numpy() == 0
    guard = reported.known(here).found["guard"]
    failed = reported.rows.loc[here, "low_speed_bearing"].to_numpy()
    assert failed.tolist()[:2] == [1, 0]
    assert [plain(value) for value in guard[:2]] == [None, "missing"]


def test_a_symptom_never_explains_a_failure_within_30_days() -> None:
    for day, explained in (("2024-07-01", False), ("2024-07-02", True)):
        book = kept().look("2024-06-01", vibration_mm_s="9").failed(day, "low_speed_bearing")
        reported = periods(book)
        failed = np.flatnonzero(reported.rows["low_speed_bearing"])
        assert (reported.known(failed).status["vibration_mm_s"] == Status.SEEN).tolist() == [
            explained
        ]


def test_a_symptom_begins_a_row_when_it_counts_and_when_it_is_forgotten() -> None:
    book = kept(installed_on="2022-01-01").look("2023-03-01", vibration_mm_s="9")
    cuts = rows(book)["start_on"].dt.strftime("%Y-%m-%d").tolist()
    assert {"2023-03-01", "2023-03-31", "2024-03-02"} <= {*cuts}


def test_a_symptom_seen_anew_is_not_forgotten_but_replaced() -> None:
    book = kept(installed_on="2022-01-01").look("2023-03-01", vibration_mm_s="9")
    cuts = rows(book.look("2023-09-01", vibration_mm_s="8"))["start_on"].astype(str).tolist()
    assert "2023-10-01" in cuts
    assert "2024-03-02" not in cuts
    assert "2024-09-02" in cuts


def test_a_damp_look_beside_a_leak_that_an_event_tells_of_is_forgotten_in_time() -> None:
    book = kept(installed_on="2022-01-01").failed("2023-03-01", "seal_leak")
    book.look("2023-03-01", seal_weep="damp").look("2023-03-01", seal_weep="dripping")
    assert "2024-03-02" in rows(book)["start_on"].astype(str).tolist()


def test_a_symptom_written_down_after_it_would_be_forgotten_cuts_nothing_before() -> None:
    book = kept(installed_on="2022-01-01")
    book.look("2022-03-01", recorded_at="2024-06-01", vibration_mm_s="9")
    assert "2023-03-02" not in rows(book)["start_on"].astype(str).tolist()
    assert "2024-06-01" in rows(book)["start_on"].astype(str).tolist()


def test_a_failure_on_the_day_of_entry_does_not_count_but_what_it_renewed_is_new() -> None:
    book = kept(failures_recorded_from="2024-05-01").failed("2024-05-01", "low_speed_bearing")
    assert failures(book, "low_speed_bearing") == []
    assert rows(book)["bearing_age_start_days"].iloc[0] == 0


def test_a_failure_before_failures_are_written_down_counts_only_as_a_renewal() -> None:
    book = kept(failures_recorded_from="2024-05-01").failed("2024-04-01", "seal_leak")
    assert failures(book, "seal_leak") == []
    first = rows(book).iloc[0]
    assert (first["seal_age_start_days"], first["bearing_age_start_days"]) == (30, 121)


def test_a_failure_on_the_last_day_counts() -> None:
    last = kept(out_of_service_on="2024-06-01").failed("2024-06-01", "low_speed_bearing")
    assert failures(last, "low_speed_bearing") == ["06-01"]
    assert failures(kept().failed(AS_OF, "seal_leak"), "seal_leak") == ["12-31"]


def test_a_failure_after_the_day_asked_for_or_written_down_later_does_not_count() -> None:
    book = kept().failed("2024-05-01", "seal_leak", recorded_at="2024-07-01")
    assert failures(book, "seal_leak", "2024-04-30") == []
    assert failures(book, "seal_leak", "2024-06-30") == []
    assert failures(book, "seal_leak", "2024-07-01") == ["05-01"]


def test_a_failure_written_down_late_renews_nothing_that_was_known_before() -> None:
    book = kept().failed("2024-05-01", "low_speed_bearing", recorded_at="2024-07-01")
    frame = rows(book).set_index("start_on")["bearing_age_start_days"]
    assert frame[pd.Timestamp("2024-05-01")] == 121
    assert frame[pd.Timestamp("2024-07-01")] == 61


def test_two_failures_of_one_mode_on_one_day_are_one() -> None:
    book = kept().failed("2024-05-01", "seal_leak").failed("2024-05-01", "seal_leak")
    assert failures(book, "seal_leak") == ["05-01"]
    both = kept().failed("2024-05-01", "seal_leak").failed("2024-05-01", "low_speed_bearing")
    assert failures(both, "seal_leak") == failures(both, "low_speed_bearing") == ["05-01"]


def test_the_same_unit_may_fail_again() -> None:
    book = kept().failed("2024-05-01", "seal_leak").failed("2024-05-02", "seal_leak")
    assert failures(book, "seal_leak") == ["05-01", "05-02"]


def leak_days(book: Book) -> list[tuple[str, str]]:
    """Return from when until when the seal is not at risk, rows joined."""
    frame = rows(book)
    frame = frame[~frame["seal_leak_at_risk"]]
    anew = (frame["start_on"] != frame["stop_on"].shift()).cumsum()
    spans = frame.groupby(anew).agg({"start_on": "first", "stop_on": "last"})
    return [(str(a)[5:10], str(b)[5:10]) for a, b in spans.itertuples(index=False)]


def test_dripping_is_a_failure_of_that_day_and_the_seal_is_at_risk_no_more() -> None:
    book = kept().look("2024-02-01", seal_weep="dripping").look("2024-03-01", seal_weep="dripping")
    assert failures(book, "seal_leak") == ["02-01"]
    assert leak_days(book) == [("02-01", "12-31")]
    reported = periods(book)
    here = reported.rows["place"].to_numpy() == 0
    assert reported.exposure_years("low_speed_bearing")[here].sum() == pytest.approx(365 / 365.25)
    assert reported.exposure_years("seal_leak")[here].sum() == pytest.approx(31 / 365.25)


def test_a_renewed_seal_is_at_risk_again_from_the_next_day() -> None:
    book = kept().look("2024-02-01", seal_weep="dripping").reworked("2024-03-01", "renew_seal")
    book.failed("2024-03-02", "seal_leak")
    assert leak_days(book) == [("02-01", "03-01")]
    assert failures(book, "seal_leak") == ["02-01", "03-02"]


def test_a_leak_seen_and_later_told_by_an_event_is_one_failure_on_the_day_it_was_seen() -> None:
    book = kept().look("2024-02-01", seal_weep="dripping").failed("2024-02-20", "seal_leak")
    assert failures(book, "seal_leak") == ["02-01"]
    assert leak_days(book) == [("02-01", "02-20")]


def test_a_leak_told_by_an_event_on_the_same_day_leaves_no_leak_behind() -> None:
    book = kept().look("2024-02-01", seal_weep="dripping").failed("2024-02-01", "seal_leak")
    assert failures(book, "seal_leak") == ["02-01"]
    assert leak_days(book) == []


def test_a_bearing_may_fail_while_the_seal_leaks_and_ends_the_leak() -> None:
    book = kept().look("2024-02-01", seal_weep="dripping")
    book.failed("2024-03-01", "low_speed_bearing")
    assert failures(book, "low_speed_bearing") == ["03-01"]
    assert leak_days(book) == [("02-01", "03-01")]


def test_a_leak_from_before_entry_is_no_failure_and_no_time_at_risk() -> None:
    book = kept(failures_recorded_from="2024-03-01").look("2024-02-01", seal_weep="dripping")
    book.reworked("2024-04-01", "renew_seal")
    assert failures(book, "seal_leak") == []
    assert leak_days(book) == [("03-01", "04-01")]


def test_re_work_on_a_unit_does_not_lend_it_the_time_before() -> None:
    book = kept().look("2024-02-01", guard="missing").reworked("2024-09-01", "fit_guard")
    reported = periods(book)
    here = reported.rows["place"].to_numpy() == 0
    cured = reported.known(here).status["guard"] == Status.REPORTED_CURED
    years = reported.exposure_years("low_speed_bearing")[here][cured.to_numpy()].sum()
    assert years == pytest.approx((pd.Timestamp(AS_OF) - pd.Timestamp("2024-09-01")).days / 365.25)


def test_a_finding_written_down_late_explains_nothing_before() -> None:
    book = kept().look("2024-02-01", guard="missing", recorded_at="2024-04-15")
    reported = periods(book)
    here = reported.rows["place"].to_numpy() == 0
    seen = (reported.known(here).status["guard"] == Status.SEEN).to_numpy()
    assert plain(reported.rows.loc[here, "start_on"][seen].iloc[0]) == "2024-04-15"


def test_age_follows_a_reducer_to_its_next_shaft() -> None:
    one = {"asset_id": "reducer 1"}
    book = kept(out_of_service_on="2024-02-10", **one).unit("U3", installed_on="2024-03-01", **one)
    frame = periods(book).rows
    later = frame[frame["place"] == 2]
    assert later["seal_age_start_days"].iloc[0] == 40
    assert later["start_on"].astype(str).tolist()[:2] == ["2024-03-01", "2024-04-21"]  # 91 days


def test_a_renewal_on_an_earlier_shaft_written_down_late_counts_from_then() -> None:
    one = {"asset_id": "reducer 1"}
    book = kept(out_of_service_on="2024-02-10", **one).unit("U3", installed_on="2024-03-01", **one)
    book.reworked("2024-02-05", "renew_seal", recorded_at="2024-03-11")
    frame = periods(book).rows
    age = frame[frame["place"] == 2].set_index("start_on")["seal_age_start_days"]
    assert age[pd.Timestamp("2024-03-01")] == 40
    assert age[pd.Timestamp("2024-03-11")] == 15
