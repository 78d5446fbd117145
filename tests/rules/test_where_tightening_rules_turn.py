"""The value at which a form says that a rule on screws turns is where the rule does turn."""

import numpy as np
import pytest
from fleets import Book
from joints import joints

from scoring.limits import unit_limits
from scoring.rules.findings import find
from scoring.rules.slip import CURES
from scoring.rules.tightening import TIGHTENING_RULES

RULE = {rule.name: rule for rule in TIGHTENING_RULES}


def looked_at(screws, **seen):
    """Return the names of what the rules found at a disc with so many screws of 200 N·m."""
    book = Book().unit(mounting="shrink_disc", screw_torque_nm="200", screw_count=str(screws))
    book.look("2024-05-02", **seen)
    known, good = book.known("2024-06-01"), np.array([9.0])
    limits = unit_limits(known.units)
    table = find(book.timeline(), known, limits, joints(good, good, dict.fromkeys(CURES, good)))
    return known.units, limits.table, set(table.table["rule"])


@pytest.mark.parametrize(
    ("rule", "edge", "beyond", "within"),
    [
        ("final_torque_not_reached", 180, "179.9", "180"),
        ("final_torque_passed", 230, "230.1", "230"),
    ],
)
def test_a_torque_turns_at_nine_tenths_and_at_fifteen_hundredths_more(rule, edge, beyond, within):
    units, limits, found = looked_at(8, final_torque_nm=beyond)
    assert rule in found
    assert rule not in looked_at(8, final_torque_nm=within)[2]
    assert RULE[rule].edge(units, limits).tolist() == pytest.approx([edge])


@pytest.mark.parametrize(("screws", "edge"), [(8, 1.5), (9, 2.5), (12, 2.5), (13, 3.5)])
def test_screws_low_turn_between_whole_numbers_at_a_quarter_of_the_circle(screws, edge):
    beyond, within = (str(int(edge + more)) for more in (0.5, -0.5))
    units, limits, found = looked_at(screws, screws_low=beyond)
    assert "many_screws_low" in found
    assert "many_screws_low" not in looked_at(screws, screws_low=within)[2]
    assert RULE["many_screws_low"].edge(units, limits).tolist() == [edge]
