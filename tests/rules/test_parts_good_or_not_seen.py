"""What is told of joint, arm and housing of a unit: found, never seen, or good; by hand."""

import numpy as np
import pandas as pd
import pytest
from fleets import GOOD, Book

from scoring.contract import CHECKS
from scoring.limits import unit_limits
from scoring.rules.findings import Findings
from scoring.rules.state_of_parts import state_of_parts

CRITICAL = {
    check.name: GOOD.get(check.name, (check.allowed or ("",))[0])
    for check in CHECKS
    if "keyed_bore" in check.critical_for
}


def parts(seen, *findings):
    """Return joint, arm and housing of a keyed bore of which some checks were seen."""
    book = Book().unit(mounting="keyed_bore").look("2024-01-02", **seen)
    known = book.known("2024-06-01")
    table = pd.DataFrame({"unit": [0] * len(findings), "check": np.array(findings, dtype=object)})
    told = state_of_parts(known, unit_limits(known.units), Findings(table))
    assert list(told.columns) == ["joint", "arm", "housing"]
    return told.iloc[0].tolist()


@pytest.mark.parametrize(
    ("left_out", "told"),
    [
        ((), ["good", "good", "good"]),
        (("key_condition",), ["not seen", "good", "good"]),
        (("arm_bolts",), ["good", "not seen", "good"]),
        (("guard",), ["good", "good", "not seen"]),
        (("guard", "isolators_free"), ["good", "not seen", "not seen"]),
    ],
)
def test_a_part_is_good_only_once_all_that_is_critical_of_it_was_seen(left_out, told):
    assert parts({name: CRITICAL[name] for name in CRITICAL if name not in left_out}) == told


def test_what_was_found_is_told_before_what_was_not_seen():
    seen = {name: CRITICAL[name] for name in CRITICAL if name not in ("arm_bolts", "guard")}
    assert parts(seen, "slip_margin") == ["finding", "not seen", "not seen"]
    assert parts(seen, "arm_bolts", "oil_level") == ["good", "finding", "finding"]
