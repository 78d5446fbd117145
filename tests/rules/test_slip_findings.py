"""A joint whose margin is low is a finding: held, cured, or watched until more is on record."""

import numpy as np
import pandas as pd
import pytest
from fleets import Book
from joints import joints

from scoring.limits import unit_limits
from scoring.rules.rule import Circumstances, Severity
from scoring.rules.slip import CURES, slip_findings

CURE_OF = {
    "friction": "clean_and_refit",
    "preload": "retorque_in_passes",
    "fit": "renew_shaft",
    "engagement": "reseat_on_shaft",
    "offset": "recentre_disc",
}
LOW = "slip margin 1.10: "
LOAD = "running torque, peak over running torque"
ON_RECORD = "check rated torque of the joint, running torque, peak over running torque"


EVERY_CAUSE = {
    "bore_condition": "oil_film",
    "torque_passes": "1",
    "shaft_diameter_measured_mm": "79.5",
    "engagement_mm": "60",
    "seated": "short",
    "disc_offset_mm": "5",
}


def looked_at(size, **seen):
    """Return what is known of units at which every cause was found, but for what is given."""
    book = Book()
    stated = {"shaft_diameter_mm": "80", "required_engagement_mm": "100", "screw_torque_nm": "100"}
    for n in range(size):
        book.unit(f"U{n}", mounting="shrink_disc", **stated)
        book.look("2024-01-02", f"U{n}", **(EVERY_CAUSE | seen))
    known = book.known("2024-06-01")
    return Circumstances(known, unit_limits(known.units).table)


def found(high, margin, worst, seen=None, **more):
    """Return the findings at units whose worst cause leaves half, and the others nine tenths."""
    factors = {name: np.array([0.5 if w == name else 0.9 for w in worst]) for name in CURES}
    more = {"ratio": [0.5] * len(high)} | more
    return slip_findings(
        joints(margin, high, factors, **more), looked_at(len(high), **(seen or {}))
    )


@pytest.mark.parametrize("cause", CURE_OF)
@pytest.mark.parametrize(
    ("high", "severity", "reason"),
    [
        (0.8, Severity.HOLD, "joint slips: it carries at most 0.80 of its peak torque"),
        (
            1.3,
            Severity.CORRECT,
            "joint may slip: it carries 0.60 of its peak torque, and 0.50 of what it should",
        ),
    ],
)
def test_what_takes_most_of_the_grip_is_cured(cause, high, severity, reason):
    (row,) = found([high], [0.6], [cause]).to_dict("records")
    assert row["action"] == CURE_OF[cause]
    assert row["exceedance"] == pytest.approx(0.6)
    assert row["severity"] == severity
    assert row["reason"] == reason
    assert (row["unit"], row["unit_id"], row["check"]) == (0, "U0", "slip_margin")
    assert pd.isna(row["seen_on"])


def test_held_only_where_the_upper_end_of_the_interval_is_below_1():
    table = found(
        [1.0, 0.999, np.nan, 3.0, 0.5], [0.5, 0.5, np.nan, 2.0, 0.25], ["fit"] * 4 + ["offset"]
    )
    assert table["unit"].tolist() == [0, 1, 4]
    assert table["rule"].tolist() == ["joint_may_slip", "joint_slips", "joint_slips"]
    assert table["action"].tolist() == ["renew_shaft", "renew_shaft", "recentre_disc"]
    assert table["exceedance"].tolist() == pytest.approx([0.7, 0.7, 0.95])


@pytest.mark.parametrize(
    ("margin", "ratio", "severity"),
    [
        (0.99, 0.89, Severity.CORRECT),
        (0.99, 0.9, Severity.WATCH),
        (1.0, 0.5, Severity.WATCH),
        (1.19, 1.0, Severity.WATCH),
        (1.2, 0.5, None),
    ],
)
def test_a_low_margin_is_cured_only_where_something_takes_a_tenth(margin, ratio, severity):
    table = found([2.0], [margin], ["fit"], ratio=[ratio])
    assert table["severity"].tolist() == ([] if severity is None else [severity])


@pytest.mark.parametrize(
    ("blank", "reason"),
    [
        ((), f"{LOW}the rating on record is low or the torque high; {ON_RECORD}"),
        (
            ("joint_rated_torque_nm",),
            f"{LOW}the rating is estimated from the screws; enter rated torque of the joint",
        ),
        (
            ("output_torque_nm", "peak_factor"),
            f"{LOW}the running torque is assumed and the peak is assumed; enter {LOAD}",
        ),
    ],
)
def test_what_is_watched_says_what_to_enter(blank, reason):
    (row,) = found([2.0], [1.1], ["fit"], ratio=[1.0], blank=blank).to_dict("records")
    assert (row["reason"], row["action"]) == (reason, "")


def test_what_is_watched_and_has_lost_grip_says_what_to_cure_too():
    (row,) = found([2.0], [1.1], ["offset"], ratio=[0.8]).to_dict("records")
    assert "; cure: centre the disc on its hub extension; then bring the screws" in row["reason"]
    assert row["action"] == ""


def test_a_margin_below_1_with_a_torque_read_far_too_low_is_held():
    for read, rule in (("79", "joint_slips_by_torque_read"), ("80", "little_slip_margin")):
        seen = {"final_torque_nm": read}
        (row,) = found([2.0], [0.95], ["preload"], seen, ratio=[0.95]).to_dict("records")
        assert row["rule"] == rule


@pytest.mark.parametrize("cause", ["friction", "preload", "fit", "offset"])
def test_grip_that_is_not_relied_on_is_held_in_words_without_a_number(cause):
    nothing = [np.nan]
    (row,) = found(nothing, nothing, [cause], ratio=[0.0], relied_on=[False]).to_dict("records")
    assert row["severity"] == Severity.HOLD
    assert row["reason"].startswith("grip cannot be relied on for any torque: ")
    assert not any(letter.isdigit() for letter in row["reason"])
    assert row["action"] == CURE_OF[cause]


def test_a_disc_over_an_empty_hub_is_told_by_the_rule_on_its_engagement_alone():
    factors = {name: np.array([0.0 if name == "engagement" else 1.0]) for name in CURES}
    grip = joints([np.nan], [np.nan], factors, ratio=[0.0], relied_on=[False])
    assert slip_findings(grip, looked_at(1)).empty


NOTHING_FOUND = {
    "bore_condition": "clean_dry",
    "torque_passes": "3",
    "shaft_diameter_measured_mm": "",
    "engagement_mm": "100",
    "disc_offset_mm": "1",
}


def test_where_nothing_was_found_there_is_nothing_to_cure():
    (row,) = found([2.0], [0.6], ["offset"], NOTHING_FOUND).to_dict("records")
    assert (row["severity"], row["action"]) == (Severity.WATCH, "")
    assert "cure" not in row["reason"]
    (row,) = found([0.8], [0.6], ["fit"], NOTHING_FOUND).to_dict("records")
    assert (row["severity"], row["action"]) == (Severity.HOLD, "")


def test_a_bore_that_nobody_saw_is_not_what_is_cured():
    factors = {name: np.array([0.9]) for name in CURES} | {"friction": np.array([0.1])}
    unseen = looked_at(1, bore_condition="")
    (row,) = slip_findings(joints([0.5], [0.6], factors, ratio=[0.5]), unseen).to_dict("records")
    assert row["action"] != CURE_OF["friction"]


def test_a_small_share_is_never_told_as_nothing():
    (row,) = found([0.0032], [0.003], ["fit"]).to_dict("records")
    assert "at most 0.003 of" in row["reason"]


def test_no_joint_no_finding():
    assert len(found([2.0], [1.5], ["fit"])) == 0
