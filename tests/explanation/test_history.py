"""One unit over time."""

import pandas as pd
import pytest

from scoring.assessment import FleetAssessor
from scoring.explanation.history import unit_events, unit_looks
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet

AS_OF = pd.Timestamp("2026-06-30")


@pytest.fixture(scope="module")
def assessor():
    return FleetAssessor(check_fleet(read_fleet("demo:small_quarry").tables, AS_OF).fleet)


def test_everything_that_happened_is_there_in_time(assessor):
    fleet = assessor.fleet
    for unit_id in fleet.units["unit_id"].head(10):
        events = unit_events(assessor, unit_id, AS_OF)
        assert events["day"].is_monotonic_increasing
        for what, table in (
            ("walkdown", fleet.walkdowns),
            ("failure", fleet.events),
            ("re-work", fleet.rework),
        ):
            assert (events["what"] == what).sum() == (table["unit_id"] == unit_id).sum()
        assert (events["what"] == "hung").sum() == 1


def test_what_was_not_known_yet_is_left_out(assessor):
    fleet = assessor.fleet
    unit_id = fleet.walkdowns["unit_id"].mode()[0]
    days = fleet.walkdowns.loc[fleet.walkdowns["unit_id"] == unit_id, "inspected_on"].sort_values()
    before = days.iloc[2].normalize() - pd.Timedelta(days=1)
    events = unit_events(assessor, unit_id, before)
    assert (events.loc[events["what"] == "walkdown", "day"] <= before).all()
    assert (unit_looks(assessor, unit_id, before)["day"] <= before).all()


def test_each_look_says_whether_it_found_something(assessor):
    fleet = assessor.fleet
    unit_id = fleet.walkdowns["unit_id"].mode()[0]
    rows = fleet.walkdowns["unit_id"] == unit_id
    exceedance = assessor.timeline.exceedance[rows]
    looks = unit_looks(assessor, unit_id, AS_OF)
    assert len(looks) == exceedance.notna().sum().sum()
    assert (looks["found"] == "worse than good").sum() == (exceedance > 0).sum().sum()


def test_a_unit_that_nobody_saw_has_no_looks(assessor):
    assert unit_looks(assessor, "nobody", AS_OF).empty
