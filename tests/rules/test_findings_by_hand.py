"""Rows of findings by hand: words, order, severity, exceedance, what is open; and verdicts."""

import numpy as np
import pandas as pd
import pytest
from fleets import Book
from joints import joints

from scoring.limits import unit_limits
from scoring.rules.findings import COLUMNS, Findings, find
from scoring.rules.look_status import LookStatus
from scoring.rules.rule import Severity
from scoring.rules.slip import CURES
from scoring.rules.verdict import give_verdicts

STATED = {"required_engagement_mm": "100", "screw_torque_nm": "200"}


def found(book, slipping=()):
    """Apply the rules to a book, the joints of some units slipping."""
    known, timeline = book.known("2024-06-01"), book.timeline()
    size = len(known.units)
    high = np.array([0.5 if n in slipping else 9.0 for n in range(size)])
    grip = joints(high, high, {name: np.ones(size) for name in CURES})
    return find(timeline, known, unit_limits(known.units), grip)


@pytest.mark.parametrize(
    ("mounting", "seen", "reason"),
    [
        (
            "shrink_disc",
            {"engagement_mm": "60.5"},
            "shaft short: 60.5 mm in the bore, 100 mm asked for",
        ),
        (
            "shrink_disc",
            {"final_torque_nm": "150"},
            "final torque not reached: 150 N·m read, 200 N·m stated",
        ),
        (
            "shrink_disc",
            {"final_torque_nm": "250"},
            (
                "final torque passed: 250 N·m read, 200 N·m stated, more than hand tools scatter; "
                "new screws"
            ),
        ),
        (
            "shrink_disc",
            {"torque_passes": "2"},
            "torque passes skipped: 2 made, 3 asked for",
        ),
        (
            "tapered_bushing",
            {"collar_gap_mm": "2.25"},
            "collar gap 2.25 mm, outside its range by 0.25 mm",
        ),
        (
            "keyed_bore",
            {"isolator_squeeze_mm": "5"},
            "isolator squeezed by 5 mm, 1.25 mm too much",
        ),
        (
            "shrink_disc",
            {"bore_condition": "antiseize_or_grease"},
            "lubricant where only friction holds: bore and shaft found with antiseize or grease",
        ),
        ("keyed_bore", {"vibration_mm_s": "7.123"}, "7.123 mm/s at the low-speed bearing"),
        ("keyed_bore", {"seal_weep": "damp"}, "output seal damp"),
    ],
)
def test_reasons_in_words(mounting, seen, reason):
    book = Book().unit(mounting=mounting, **STATED).look("2024-05-02", **seen)
    (row,) = found(book).table.to_dict("records")
    assert row["reason"] == reason
    assert row["seen_on"] == pd.Timestamp("2024-05-02")


def test_each_unit_has_the_words_of_its_own_values():
    book = Book().unit("U1", **STATED).unit("U2", required_engagement_mm="80").unit("U3", **STATED)
    book.look("2024-05-02", "U1", engagement_mm="60").look("2024-05-03", "U2", engagement_mm="70")
    book.look("2024-05-04", "U3", engagement_mm="60")
    table = found(book).table
    assert table["reason"].tolist() == [
        "shaft short: 60 mm in the bore, 100 mm asked for",
        "shaft short: 70 mm in the bore, 80 mm asked for",
        "shaft short: 60 mm in the bore, 100 mm asked for",
    ]
    assert table["exceedance"].tolist() == [40, 10, 40]
    assert table["unit_id"].tolist() == ["U1", "U2", "U3"]
    assert table["seen_on"].dt.day.tolist() == [2, 3, 4]


def test_findings_stand_by_unit_then_the_most_urgent_first_then_in_the_order_of_the_book():
    book = Book().unit("U1", mounting="keyed_bore").unit("U2", mounting="keyed_bore")
    seen = {"vibration_mm_s": "9", "breather": "plugged", "arm_bolts": "loose"}
    holds = {"guard": "missing", "key_condition": "missing"}
    book.look("2024-05-02", "U2", **seen, **holds).look("2024-05-02", "U1", **seen)
    table = found(book).table
    assert list(table.columns) == list(COLUMNS)
    assert list(zip(table["unit"], table["rule"], strict=True)) == [
        (0, "arm_bolt_loose"),
        (0, "breather_plugged"),
        (0, "vibrates"),
        (1, "key_missing"),
        (1, "guard_missing"),
        (1, "arm_bolt_loose"),
        (1, "breather_plugged"),
        (1, "vibrates"),
    ]
    assert table["severity"].tolist() == [2, 2, 1, 3, 3, 2, 2, 1]


def test_of_the_rules_of_one_check_only_the_first_that_holds_counts():
    book = Book().unit(mounting="keyed_bore").look("2024-05-02", oil_level="low")
    assert found(book).table["rule"].tolist() == ["oil_low"]
    assert found(book).table["exceedance"].tolist() == [2]


def test_a_joint_that_slips_is_a_finding_too_after_the_holds_of_the_book():
    book = Book().unit("U1", mounting="shrink_disc").unit("U2", mounting="shrink_disc")
    book.look("2024-05-02", "U2", guard="missing", breather="plugged")
    table = found(book, slipping={1}).table
    assert table["rule"].tolist() == ["guard_missing", "joint_slips", "breather_plugged"]
    assert found(book, slipping={0}).table["rule"].tolist() == [
        "joint_slips",
        "guard_missing",
        "breather_plugged",
    ]


def test_a_leak_stands_though_the_unit_was_hung_anew():
    book = Book().unit(mounting="keyed_bore").look("2024-02-02", seal_weep="dripping")
    book.reworked("2024-03-02", "renew_key")
    assert found(book).table["rule"].tolist() == ["seal_leaks"]
    renewed = book.reworked("2024-04-02", "renew_seal")
    assert found(renewed).table.empty


def test_without_findings_the_table_is_empty_and_whole():
    table = found(Book().unit(mounting="keyed_bore")).table
    assert table.empty
    assert list(table.columns) == list(COLUMNS)
    assert table["unit"].dtype == np.int64


# Verdicts from findings


def findings(*rows):
    """Return findings, given as unit, severity and by whom accepted."""
    table = pd.DataFrame(rows, columns=["unit", "severity", "accepted"])
    return Findings(table.astype({"unit": "int64", "severity": "int64", "accepted": object}))


def seen(*complete):
    words = np.array(["" if one else "guard" for one in complete], dtype=object)
    nothing = np.full(len(complete), "", dtype=object)
    return LookStatus(words, nothing, nothing)


HOLD, CORRECT, WATCH = Severity.HOLD, Severity.CORRECT, Severity.WATCH


@pytest.mark.parametrize(
    ("rows", "complete", "verdict"),
    [
        ([], True, "no_finding"),
        ([], False, "watch"),
        ([(0, WATCH, "")], True, "watch"),
        ([(0, CORRECT, "")], True, "correct"),
        ([(0, CORRECT, ""), (0, WATCH, "")], False, "correct"),
        ([(0, HOLD, ""), (0, CORRECT, "")], True, "hold"),
        ([(0, HOLD, "by somebody")], True, "watch"),
        ([(0, WATCH, "by somebody")], True, "watch"),
        ([(0, HOLD, "by somebody"), (0, CORRECT, "")], True, "correct"),
    ],
)
def test_the_verdict_by_hand(rows, complete, verdict):
    assert list(give_verdicts(findings(*rows), seen(complete), 1).verdict) == [verdict]


def test_each_unit_has_its_own_verdict_and_counts_of_what_is_open():
    rows = [
        (3, HOLD, ""),
        (3, HOLD, ""),
        (3, WATCH, ""),
        (1, CORRECT, ""),
        (1, HOLD, "by somebody"),
        (2, WATCH, "by somebody"),
    ]
    verdicts = give_verdicts(findings(*rows), seen(True, True, True, True), 4)
    assert list(verdicts.verdict) == ["no_finding", "correct", "watch", "hold"]
    assert verdicts.counts["HOLD"].tolist() == [0, 0, 0, 2]
    assert verdicts.counts["CORRECT"].tolist() == [0, 1, 0, 0]
    assert verdicts.counts["WATCH"].tolist() == [0, 0, 0, 1]
    assert list(verdicts.counts.columns) == ["HOLD", "CORRECT", "WATCH"]
