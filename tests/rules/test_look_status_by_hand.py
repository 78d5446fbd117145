"""What nobody has seen lately: check by check and day by day, by hand."""

import pandas as pd
import pytest
from fleets import GOOD, Book

from scoring.contract import CHECKS
from scoring.limits import unit_limits
from scoring.rules.look_status import look_status

MUST_BE_SEEN = {
    "keyed_bore": {
        "shaft end",
        "key",
        "torque-arm bolts",
        "anchor joint",
        "isolators that turn by hand",
        "metal to metal",
        "oil level",
        "guard",
    },
    "tapered_bushing": {
        "bore and shaft surface",
        "shaft end",
        "torque passes",
        "screws low or missing",
        "torque-arm bolts",
        "anchor joint",
        "isolators that turn by hand",
        "metal to metal",
        "oil level",
        "guard",
    },
}
MUST_BE_SEEN["shrink_disc"] = MUST_BE_SEEN["tapered_bushing"] | {"seat of the disc on the hub"}
MUST_BE_SEEN["shrink_disc_support_bushings"] = MUST_BE_SEEN["shrink_disc"] | {"support bushings"}


def must_be_seen(mounting):
    """Return what is typed above, and critical checks that were declared since."""
    return MUST_BE_SEEN[mounting] | {c.label for c in CHECKS if mounting in c.critical_for}


def look_status_of(book, as_of="2024-06-01"):
    known = book.known(as_of)
    return look_status(known, unit_limits(known.units))


def labels(words):
    return set(words.split("; ")) - {""}


@pytest.mark.parametrize("mounting", MUST_BE_SEEN)
def test_what_must_be_seen_by_mounting(mounting):
    found = look_status_of(Book().unit(mounting=mounting))
    assert labels(found.not_seen[0]) == must_be_seen(mounting)
    assert found.due_again[0] == found.reported_cured[0] == ""
    assert found.complete.tolist() == [False]


@pytest.mark.parametrize(
    ("cells", "seen", "shown"),
    [
        ({"required_engagement_mm": "90"}, {"engagement_mm": "50"}, {"shaft end"}),
        ({}, {"engagement_mm": "50"}, set()),
        ({"screw_torque_nm": "100"}, {"final_torque_nm": "80"}, {"screws low or missing"}),
        ({}, {"final_torque_nm": "80"}, set()),
        ({"required_engagement_mm": "90"}, {"final_torque_nm": "80"}, set()),
        ({}, {"guard": "missing", "oil_level": "right"}, {"guard", "oil level"}),
    ],
)
def test_what_is_seen_by_itself_or_by_a_measured_check_whose_limit_is_known(cells, seen, shown):
    book = Book().unit(mounting="tapered_bushing", **cells).look("2024-01-02", **seen)
    assert labels(look_status_of(book).not_seen[0]) == must_be_seen("tapered_bushing") - shown


def test_a_good_look_is_due_again_after_730_days_and_a_finding_is_not():
    book = Book().unit(mounting="keyed_bore").look("2024-01-02", guard="fitted", oil_level="low")
    later = [pd.Timestamp("2024-01-02") + pd.Timedelta(days=days) for days in (730, 731)]
    due = [look_status_of(book, day.strftime("%Y-%m-%d")).due_again[0] for day in later]
    assert due == ["", "guard"]


def test_what_is_no_critical_check_of_the_mounting_or_seen_while_hanging_is_never_due():
    book = Book().unit(mounting="tapered_bushing")
    book.look("2024-01-02", breather="open", bore_condition="clean_dry", arm_bolts="tight")
    assert look_status_of(book, "2030-01-01").due_again[0] == "torque-arm bolts"


def test_what_re_work_is_said_to_have_cured_is_told_where_the_mounting_has_it():
    book = Book().unit(mounting="keyed_bore").unit("U2", mounting="shrink_disc")
    for unit in ("U1", "U2"):
        book.reworked("2024-02-01", "clean_and_refit", unit)
    keyed, disc = (labels(words) for words in look_status_of(book).reported_cured)
    # off its shaft a keyed bore has no screws that are brought to their torque, and no disc's seat
    assert keyed == {"bore and shaft surface"}
    assert disc == {
        "bore and shaft surface",
        "seat of the disc on the hub",
        "torque passes",
        "tightening order",
        "final torque",
        "screws low or missing",
    }


def test_a_unit_of_which_everything_was_seen_is_complete():
    critical = [check for check in CHECKS if "keyed_bore" in check.critical_for]
    since = {check.name: check.allowed[0] for check in critical if check.name not in GOOD}
    book = Book().unit(mounting="keyed_bore").look("2024-01-02", **GOOD, **since)
    assert look_status_of(book).complete.tolist() == [True]
    assert look_status_of(book.reworked("2024-02-01", "open_breather")).complete.tolist() == [False]
