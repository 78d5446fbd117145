"""Two checks of one matter that say different things: every case by hand."""

import pytest
from fleets import Book

from scoring.limits import unit_limits
from scoring.rules.contradictions import contradictions

ENGAGEMENT, END = "shaft in the bore", "shaft end"
TORQUE, LOW = "final torque", "screws low or missing"
CLEARANCE, METAL = "smallest clearance", "metal to metal"
REQUIRED = {"required_engagement_mm": "100"}
STATED = {"screw_torque_nm": "200"}


def reported(book):
    """Return unit, worse check and other check of every contradiction."""
    known = book.known("2024-06-01")
    found = contradictions(known, unit_limits(known.units))
    assert found.index.tolist() == list(range(len(found)))
    return list(found.itertuples(index=False, name=None))


@pytest.mark.parametrize(
    ("cells", "seen", "said"),
    [
        (REQUIRED, {"shaft_end": "reaches", "engagement_mm": "60"}, (ENGAGEMENT, END)),
        (REQUIRED, {"shaft_end": "short", "engagement_mm": "100"}, (END, ENGAGEMENT)),
        (REQUIRED, {"shaft_end": "short", "engagement_mm": "60"}, None),
        (REQUIRED, {"shaft_end": "reaches", "engagement_mm": "100"}, None),
        (REQUIRED, {"shaft_end": "short"}, None),
        (REQUIRED, {"engagement_mm": "60"}, None),
        ({}, {"shaft_end": "short", "engagement_mm": "100"}, None),
        (STATED, {"screws_low": "0", "final_torque_nm": "150"}, (TORQUE, LOW)),
        (STATED, {"screws_low": "2", "final_torque_nm": "200"}, (LOW, TORQUE)),
        (STATED, {"screws_low": "2", "final_torque_nm": "150"}, None),
        (STATED, {"screws_low": "0", "final_torque_nm": "200"}, None),
        ({}, {"screws_low": "2", "final_torque_nm": "200"}, None),
        ({}, {"metal_contact": "no", "smallest_clearance_mm": "0"}, (CLEARANCE, METAL)),
        ({}, {"metal_contact": "yes", "smallest_clearance_mm": "5"}, (METAL, CLEARANCE)),
        ({}, {"metal_contact": "yes", "smallest_clearance_mm": "1"}, (METAL, CLEARANCE)),
        ({}, {"metal_contact": "yes", "smallest_clearance_mm": "0"}, None),
        ({}, {"metal_contact": "no", "smallest_clearance_mm": "5"}, None),
        ({}, {"metal_contact": "no", "smallest_clearance_mm": "1"}, None),
        ({}, {"metal_contact": "yes"}, None),
        ({}, {"smallest_clearance_mm": "0"}, None),
    ],
)
def test_the_worse_of_two_that_differ_is_told_first(cells, seen, said):
    book = Book().unit(mounting="shrink_disc", **cells).look("2024-01-02", **seen)
    assert reported(book) == ([] if said is None else [("U1", *said)])


def test_each_unit_is_told_by_its_own_name():
    book = Book().unit("U1").unit("U2", **REQUIRED).unit("U3", **STATED)
    book.look("2024-01-02", "U1", metal_contact="yes", smallest_clearance_mm="4")
    book.look("2024-01-02", "U2", shaft_end="reaches", engagement_mm="60")
    book.look("2024-01-02", "U3", metal_contact="no", smallest_clearance_mm="0")
    assert sorted(reported(book)) == [
        ("U1", METAL, CLEARANCE),
        ("U2", ENGAGEMENT, END),
        ("U3", CLEARANCE, METAL),
    ]


def test_the_later_look_counts():
    book = Book().unit(**REQUIRED).look("2024-01-02", shaft_end="reaches", engagement_mm="60")
    book.look("2024-02-02", engagement_mm="100")
    assert reported(book) == []
