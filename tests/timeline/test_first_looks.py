"""First looks at every check of whole fleets, against a plain loop over units, looks and checks."""

from datetime import date

import numpy as np
import pandas as pd
import pytest
from fleets import Book, exceedance_by_look, plain, timeline_of
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from naive_timeline import Exceedance, day_of
from naive_timeline import _in_order as records_in_order
from random_books import books

from demo_data.generate import generate_fleet
from demo_data.write import write_fleet
from scoring.contract import CHECKS
from scoring.timeline import Known, Status
from scoring.timeline.first_looks import first_looks

TABLES = ("units", "walkdowns", "events", "rework")
REPAIRED = ("low_speed_bearing", "seal_leak", "joint_slip")
Look = tuple[str, float, date]


def naive_first_looks(
    book: Book, unit_id: str, as_of: date, exceedance: Exceedance
) -> dict[str, Look]:
    """Go through the records of one unit, known by a day, up to its first re-work or repair."""
    first: dict[str, Look] = {}
    for table, row in records_in_order(book, unit_id, as_of):
        if table == "rework" or (table == "events" and row["mode"] in REPAIRED):
            break
        if table == "walkdowns" and row["kind"] != "after_rework":
            for check in CHECKS:
                if row.get(check.name):
                    bad = exceedance[row["walkdown_id"], check.name]
                    look = row[check.name], bad, day_of(row["inspected_on"])
                    first.setdefault(check.name, look)
    return first


def assert_same(found: Known, book: Book, as_of: date, exceedance: Exceedance) -> int:
    """Compare every unit and check, and return how many looks there were."""
    assert found.units["unit_id"].tolist() == [unit["unit_id"] for unit in book.units]
    assert found.place.tolist() == list(range(len(book.units)))
    crews = [plain(crew) or "" for crew in found.history["crew"]]
    assert crews == [unit.get("installer", "") for unit in book.units]
    values = {check.name: found.found[check.name].astype(object) for check in CHECKS}
    n_looks = 0
    for place, unit in enumerate(book.units):
        first = naive_first_looks(book, unit["unit_id"], as_of, exceedance)
        n_looks += len(first)
        for check in CHECKS:
            value, day = values[check.name][place], found.seen_on[check.name][place]
            bad, status = found.exceedance[check.name][place], found.status[check.name][place]
            if check.name not in first:
                assert status == Status.NOT_SEEN
                assert pd.isna(value)
                assert np.isnan(bad)
                assert pd.isna(day)
                continue
            said, naive_bad, naive_day = first[check.name]
            assert (status, bad, day.date()) == (Status.SEEN, naive_bad, naive_day)
            assert value == (float(said) if check.is_numeric else said)
    return n_looks


@pytest.fixture(scope="module")
def generated(tmp_path_factory) -> Book:
    folder = tmp_path_factory.mktemp("fleet")
    write_fleet(generate_fleet(60, 3), folder)
    tables = {
        name: pd.read_csv(folder / f"{name}.csv", dtype=str, keep_default_na=False)
        for name in TABLES
    }
    return Book(**{name: table.to_dict("records") for name, table in tables.items()})


@pytest.mark.parametrize("day", ["2026-06-30", "2024-03-15"])
def test_a_generated_fleet_is_told_as_by_a_plain_loop(generated, day):
    fleet = generated.fleet()
    found = first_looks(timeline_of(fleet), pd.Timestamp(day))
    exceedance = exceedance_by_look(fleet)
    n_looks = assert_same(found, generated, date.fromisoformat(day), exceedance)
    assert n_looks > 5 * len(generated.units)


@settings(
    deadline=None,
    derandomize=True,
    max_examples=15,
    phases=(Phase.generate,),
    suppress_health_check=[HealthCheck.too_slow],
)
@given(books(), st.sampled_from((-400, -40, -1, 0)))
def test_random_records_written_down_late_and_out_of_order_too(drawn, step):
    book, as_of = drawn
    day = as_of + pd.Timedelta(days=step)
    fleet = book.fleet()
    found = first_looks(timeline_of(fleet), pd.Timestamp(day))
    assert_same(found, book, day, exceedance_by_look(fleet))


def first(book: Book, check: str, as_of: str = "2030-01-01") -> object:
    found = first_looks(book.timeline(), pd.Timestamp(as_of))
    return plain(found.found[check].iloc[0])


def test_the_first_look_stands_though_a_later_one_finds_otherwise():
    book = Book().unit().look("2024-01-02", arm_bolts="loose").look("2024-02-01", arm_bolts="tight")
    assert first(book, "arm_bolts") == "loose"


def test_another_check_may_be_seen_first_at_a_later_look():
    book = Book().unit().look("2024-01-02", arm_bolts="loose").look("2024-02-01", breather="open")
    assert first(book, "breather") == "open"


@pytest.mark.parametrize(
    ("what", "counts"), [("low_speed_bearing", False), ("seal_leak", False), ("other", True)]
)
def test_a_look_after_a_repair_tells_of_another_day_s_work(what, counts):
    book = Book().unit().failed("2024-01-20", what).look("2024-02-01", breather="open")
    assert first(book, "breather") == ("open" if counts else None)


def test_a_look_after_re_work_or_called_so_does_not_count():
    book = Book().unit().look("2024-01-02", kind="after_rework", breather="open")
    book.reworked("2024-01-20", "fit_guard").look("2024-02-01", breather="plugged")
    assert first(book, "breather") is None


def test_on_one_day_a_look_comes_before_re_work_and_after_a_failure():
    book = Book().unit().look("2024-02-01", breather="open").reworked("2024-02-01", "fit_guard")
    assert first(book, "breather") == "open"
    book = Book().unit().look("2024-02-01", breather="open").failed("2024-02-01", "seal_leak")
    assert first(book, "breather") is None


def test_nothing_counts_before_it_was_written_down():
    book = Book().unit().look("2024-01-02", arm_bolts="loose", recorded_at="2024-05-01")
    book.look("2024-03-01", arm_bolts="tight")
    assert first(book, "arm_bolts", "2024-04-30") == "tight"
    assert first(book, "arm_bolts", "2024-05-01") == "loose"


def test_re_work_written_down_late_hides_no_look_before():
    book = Book().unit().reworked("2024-02-01", "fit_guard", recorded_at="2024-05-01")
    book.look("2024-03-01", arm_bolts="tight")
    assert first(book, "arm_bolts", "2024-04-30") == "tight"
    assert first(book, "arm_bolts", "2024-05-01") is None


def test_a_unit_out_of_service_still_tells_how_it_was_hung():
    book = Book().unit(out_of_service_on="2024-06-01").look("2024-01-02", breather="plugged")
    assert first(book, "breather") == "plugged"
