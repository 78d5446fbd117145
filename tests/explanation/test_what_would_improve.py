"""What a plant is told to do for better numbers."""

import pandas as pd
import pytest
from kept_plants import SMALL_QUARRY

from scoring.assessment import FleetAssessor
from scoring.contract import UNITS
from scoring.explanation.what_would_improve import what_would_improve
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet

AS_OF = pd.Timestamp("2026-06-30")


@pytest.fixture(scope="module")
def assessor():
    return FleetAssessor(check_fleet(read_fleet(SMALL_QUARRY).tables, AS_OF).fleet)


def done(assessor, *, learn=True):
    learning = assessor.learn(AS_OF) if learn else None
    return what_would_improve(assessor.assess(AS_OF, 365, learning))


def test_it_begins_with_failures_where_none_are_learned_from(assessor):
    first = done(assessor, learn=False)[0]
    assert first.do.startswith("Write down every bearing failure, seal leak and joint slip")


def test_it_counts_blank_days_since_failures_are_kept(assessor):
    blank = int(assessor.assess(AS_OF).known.units["failures_recorded_from"].isna().sum())
    reported = [
        one.why
        for one in done(assessor)
        if one.do.startswith("Say for every unit since when its failures")
    ]
    assert [f"blank at {blank:,} of 56 units" in why for why in reported] == [True] * bool(blank)


def test_checks_are_told_with_how_many_units_nobody_looked_at(assessor):
    looks = [one for one in done(assessor) if one.do.startswith("Look at: ")]
    assert 1 <= len(looks) <= 5
    shares = [float(one.why.split("; ")[1].split("%")[0]) for one in looks]
    assert shares == sorted(shares, reverse=True)
    assert sum(shares) <= 100
    status = assessor.timeline.known(AS_OF).status["vibration_mm_s"]
    vibration = next(one for one in looks if one.do == "Look at: vibration")
    assert f"not seen at {int((status == 0).sum())} of 56 units" in vibration.why


def test_numbers_of_the_nameplate_are_told_where_many_are_blank(assessor):
    plates = [one for one in done(assessor) if one.do.startswith("Write down: ")]
    units = assessor.assess(AS_OF).known.units
    for one in plates:
        meant = one.do.removeprefix("Write down: ")
        (name,) = (column.name for column in UNITS.columns if column.meaning == meant)
        assert f"blank at {100 * units[name].isna().mean():.0f} %" in one.why
        assert units[name].isna().mean() >= 0.2
