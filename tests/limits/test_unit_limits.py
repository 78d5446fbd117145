"""The limits of each unit: its own records first, then what is assumed, and said so."""

import numpy as np
import pytest
from fleets import Book

from scoring.limits import unit_limits

ASSUMED = {
    "torque_passes_required": (3, "3 torque passes asked for"),
    "collar_gap_min_mm": (1, "collar gap of at least 1 mm"),
    "collar_gap_max_mm": (2, "collar gap of at most 2 mm"),
    "isolator_thickness_mm": (25, "isolator 25 mm thick"),
}
OF_THE_MOUNTING = {
    "keyed_bore": {"isolator_thickness_mm"},
    "shrink_disc": {"isolator_thickness_mm", "torque_passes_required"},
    "shrink_disc_support_bushings": {"isolator_thickness_mm", "torque_passes_required"},
    "tapered_bushing": {*ASSUMED},
}
ENGAGED = {
    "keyed_bore": (1, "shaft in the bore over at least 1 shaft diameter"),
    "tapered_bushing": (1.2, "shaft in the bushing over at least 1.2 shaft diameters"),
    "shrink_disc": (1.5, "shaft in the bore over at least 1.5 shaft diameters"),
    "shrink_disc_support_bushings": (1.5, "shaft in the bore over at least 1.5 shaft diameters"),
}
STARTED = "started when it was hung"
WIDEST = "shaft within the widest classes of the list, none given"


def limits_of(**cells):
    """Return the limits of one unit, and the words of what was assumed."""
    found = unit_limits(Book().unit(**cells).fleet().units)
    return found.table.iloc[0], set(found.assumed[0].split("; ")) - {""}


@pytest.mark.parametrize("mounting", OF_THE_MOUNTING)
def test_what_is_blank_is_assumed_and_said_where_the_mounting_has_it(mounting):
    limits, said = limits_of(mounting=mounting)
    for column, (value, _) in ASSUMED.items():
        assert limits[column] == value
    words = {ASSUMED[column][1] for column in OF_THE_MOUNTING[mounting]}
    assert said == words | {STARTED, WIDEST, ENGAGED[mounting][1]}


@pytest.mark.parametrize("column", ASSUMED)
def test_what_is_given_is_taken_and_nothing_said_of_it(column):
    value, words = ASSUMED[column]
    limits, said = limits_of(mounting="tapered_bushing", **{column: str(value + 1)})
    assert limits[column] == value + 1
    others = {words for _, words in ASSUMED.values()} - {words}
    assert said == others | {STARTED, WIDEST, ENGAGED["tapered_bushing"][1]}


@pytest.mark.parametrize("mounting", ENGAGED)
def test_the_usual_engagement_goes_by_the_shaft_and_only_where_none_is_asked_for(mounting):
    limits, _ = limits_of(mounting=mounting, shaft_diameter_mm="90")
    assert limits["usual_engagement_mm"] == pytest.approx(90 * ENGAGED[mounting][0])
    limits, said = limits_of(mounting=mounting, required_engagement_mm="80")
    assert np.isnan(limits["usual_engagement_mm"])
    assert ENGAGED[mounting][1] not in said


def test_a_unit_that_says_everything_assumes_nothing():
    given = {column: str(value) for column, (value, _) in ASSUMED.items()}
    given["required_engagement_mm"] = "90"
    _, said = limits_of(started_on="2024-01-01", shaft_tolerance="h9", **given)
    assert said == set()


def test_what_nothing_may_be_assumed_for_stays_missing():
    limits, _ = limits_of()
    assert np.isnan(limits["required_engagement_mm"])
    assert np.isnan(limits["screw_torque_nm"])
    limits, _ = limits_of(required_engagement_mm="90", screw_torque_nm="120")
    assert limits["required_engagement_mm"] == 90
    assert limits["screw_torque_nm"] == 120


@pytest.mark.parametrize(
    ("cells", "low", "high", "said"),
    [  # ISO 286-2 at 80 mm: h9 0/-74 µm, m6 +30/+11; of the classes of the list h11 reaches lowest
        ({"shaft_tolerance": "h9"}, 79.926, 80, False),
        ({"shaft_tolerance": "m6"}, 80.011, 80.03, False),
        ({}, 79.81, 80.03, True),
        ({"shaft_low_mm": "79.9", "shaft_high_mm": "80.1"}, 79.9, 80.1, False),
        (
            {"shaft_low_mm": "79.9", "shaft_high_mm": "80.1", "shaft_tolerance": "h9"},
            79.9,
            80.1,
            False,
        ),
        ({"shaft_diameter_mm": "400"}, np.nan, np.nan, True),
        (
            {"shaft_diameter_mm": "400", "shaft_low_mm": "399", "shaft_high_mm": "401"},
            399,
            401,
            False,
        ),
    ],
)
def test_shaft_size_as_given_else_of_its_class_else_the_widest(cells, low, high, said):
    limits, words = limits_of(**cells)
    ends = [limits["shaft_low_mm"], limits["shaft_high_mm"]]
    assert ends == pytest.approx([low, high], abs=1e-9, nan_ok=True)
    assert (WIDEST in words) is said


def test_each_unit_has_its_own_limits_in_the_order_of_the_table():
    book = Book().unit("U1", mounting="keyed_bore", isolator_thickness_mm="30")
    book.unit("U2", mounting="shrink_disc", torque_passes_required="5")
    book.unit("U3", mounting="tapered_bushing", started_on="2024-01-05")
    found = unit_limits(book.fleet().units)
    assert found.table["isolator_thickness_mm"].tolist() == [30, 25, 25]
    assert found.table["torque_passes_required"].tolist() == [3, 5, 3]
    assert found.table["mounting"].tolist() == ["keyed_bore", "shrink_disc", "tapered_bushing"]
    assert [STARTED in words for words in found.assumed] == [True, True, False]
