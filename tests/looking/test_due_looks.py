"""Which units are due for a look, and why, in the order in which one walks past them; by hand."""

import pandas as pd
import pytest
from fleets import GOOD, Book

from scoring.assessment import FleetAssessor
from scoring.looking.due_looks import COLUMNS, due_looks
from scoring.looking.walking_order import walking_order
from scoring.trends import overdue_looks, seen_after_rework


def due(book, day, visits=None):
    assessor, as_of = FleetAssessor(book.fleet()), pd.Timestamp(day)
    overdue = overdue_looks(seen_after_rework(assessor, as_of), assessor.fleet.units, as_of)
    return due_looks(assessor.judge(as_of), overdue, visits)


def test_the_walk_goes_by_site_line_place_and_then_by_the_number_within_an_id():
    rows = [
        ("CH-10", "quarry", "line 2", None),
        ("CH-2", "quarry", "line 2", None),
        ("CH-99", "quarry", "line 2", 7),
        ("CH-98", "quarry", "line 2", 11),
        ("CH-1", "quarry", "line 10", 1),
        ("ZZ-1", "pit", None, None),
    ]
    units = pd.DataFrame(rows, columns=["unit_id", "site", "line", "walk_order"])
    walked = units.assign(at=walking_order(units)).sort_values("at")["unit_id"].tolist()
    assert walked == ["ZZ-1", "CH-99", "CH-98", "CH-2", "CH-10", "CH-1"]
    assert walking_order(units.sample(frac=1, random_state=1)).sum() == 15
    assert walking_order(units[:0]).tolist() == []


def test_what_was_never_seen_is_due_and_what_was_seen_good_lately_is_not():
    book = Book().unit("U10", mounting="keyed_bore").unit("U2", mounting="keyed_bore")
    book.look("2024-01-02", "U10", **{**GOOD, "guard": ""}).look("2024-01-02", "U2", **GOOD)
    found = due(book, "2024-02-01")
    assert found.columns.tolist() == list(COLUMNS)
    assert found[["unit_id", "never seen"]].to_numpy().tolist() == [["U10", "guard"]]
    # a guard takes 2 minutes, a walk there is in every visit
    assert found["minutes"].iloc[0] > 0


def test_what_was_seen_good_is_due_again_after_730_days():
    book = Book().unit(mounting="keyed_bore").look("2024-01-02", **GOOD)
    assert due(book, "2026-01-01").empty
    found = due(book, "2026-01-02").iloc[0]
    assert set(found["seen too long ago"].split(";")) == set(GOOD) - {"key_condition"}
    assert found["never seen"] == found["after re-work"] == ""


@pytest.mark.parametrize(("days", "is_due"), [(90, False), (91, True)])
def test_re_work_is_to_be_looked_at_within_ninety_days(days, is_due):
    book = Book().unit(mounting="keyed_bore").look("2024-01-02", **{**GOOD, "oil_level": "low"})
    book.reworked("2024-02-01", "correct_oil_level")
    day = pd.Timestamp("2024-02-01") + pd.Timedelta(days=days)
    found = due(book, day)
    assert len(found) == is_due
    if is_due:
        assert found.loc[0, ["after re-work", "never seen"]].tolist() == ["oil_level", ""]
        assert found["done_on"].iloc[0] == pd.Timestamp("2024-02-01")


def test_a_visit_that_is_suggested_stands_in_the_walk_with_what_it_is_worth():
    book = Book().unit("U1", mounting="keyed_bore").unit("U2", mounting="keyed_bore")
    book.look("2024-01-02", "U1", **GOOD).look("2024-01-02", "U2", **{**GOOD, "guard": ""})
    row = {"unit_id": ["U1"], "checks": ["oil_condition;bore_condition"], "value": [40.0]}
    visits = pd.DataFrame({**row, "currency": ["EUR"]})
    found = due(book, "2024-02-01", visits).set_index("unit_id")
    assert found.index.tolist() == ["U1", "U2"]
    # how a bore was before hanging cannot be seen any more
    assert found["suggested"].tolist() == ["oil_condition", ""]
    assert found.loc["U1", "value"] == 40.0
    assert pd.isna(found.loc["U2", "value"])


def test_a_check_stands_under_its_first_reason_only():
    book = Book().unit("U1", mounting="keyed_bore").look("2024-01-02", **{**GOOD, "guard": ""})
    visits = pd.DataFrame(
        {"unit_id": ["U1"], "checks": ["guard"], "value": [1.0], "currency": [None]}
    )
    found = due(book, "2024-02-01", visits).iloc[0]
    assert (found["never seen"], found["suggested"]) == ("guard", "")


def test_a_unit_off_its_shaft_is_not_walked_to():
    book = Book().unit("U1", mounting="keyed_bore", out_of_service_on="2024-01-20")
    assert due(book, "2024-02-01").empty
