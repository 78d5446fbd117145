"""A joint whose margin is surely below 1 is a finding, with the cure of what takes most."""

import numpy as np
import pandas as pd
import pytest
from joints import joints

from scoring.rules.rule import Severity
from scoring.rules.slip import CURES, slip_findings

CURE_OF = {
    "friction": "clean_and_refit",
    "preload": "retorque_in_passes",
    "fit": "renew_shaft",
    "engagement": "reseat_on_shaft",
    "offset": "recentre_disc",
}


def found(high, margin, worst):
    """Return the findings at units whose worst cause leaves half, and the others nine tenths."""
    factors = {name: np.array([0.5 if w == name else 0.9 for w in worst]) for name in CURES}
    ids = pd.Series([f"U{n}" for n in range(len(high))])
    return slip_findings(joints(margin, high, factors), ids)


@pytest.mark.parametrize("cause", CURE_OF)
def test_what_takes_most_of_the_grip_is_cured(cause):
    (row,) = found([0.8], [0.6], [cause]).to_dict("records")
    assert row["action"] == CURE_OF[cause]
    assert row["exceedance"] == pytest.approx(0.4)
    assert row["severity"] == Severity.HOLD
    assert row["reason"] == "joint slips: it carries at most 0.80 of its peak torque"
    assert (row["unit"], row["unit_id"], row["check"]) == (0, "U0", "slip_margin")
    assert row["rule"] == "joint_slips"
    assert pd.isna(row["seen_on"])


def test_only_where_the_upper_end_of_the_interval_is_below_1():
    table = found(
        [1.0, 0.999, np.nan, 3.0, 0.5], [0.5, 0.5, np.nan, 2.0, 0.25], ["fit"] * 4 + ["offset"]
    )
    assert table["unit"].tolist() == [1, 4]
    assert table["unit_id"].tolist() == ["U1", "U4"]
    assert table["action"].tolist() == ["renew_shaft", "recentre_disc"]
    assert table["exceedance"].tolist() == [0.5, 0.75]


def test_no_joint_no_finding():
    assert len(found([2.0], [1.5], ["fit"])) == 0
