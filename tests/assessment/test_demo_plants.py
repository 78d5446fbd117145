"""The demo plants judged by the rules."""

from functools import cache

import pandas as pd
import pytest

from scoring.assessment import Assessment, FleetAssessor
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.rules.rule import Severity
from scoring.rules.rulebook import RULE_BY_NAME, RULEBOOK

AS_OF = pd.Timestamp("2026-06-30")
DEMO_PLANTS = ("small_quarry", "grain_port", "ore_works")


@cache
def assessed(plant: str) -> Assessment:
    checked = check_fleet(read_fleet(f"demo:{plant}").tables, AS_OF)
    assert checked.faults.empty
    return FleetAssessor(checked.fleet).assess(AS_OF)


@pytest.mark.parametrize("plant", DEMO_PLANTS)
def test_one_to_five_percent_of_units_must_not_run(plant):
    verdicts = assessed(plant).ranking["verdict"]
    assert 0.01 <= (verdicts == "hold").mean() <= 0.05


@pytest.mark.parametrize("plant", DEMO_PLANTS)
def test_every_hold_traces_to_a_rule_that_makes_holds(plant):
    assessment = assessed(plant)
    held = set(assessment.ranking.loc[assessment.ranking["verdict"] == "hold", "unit_id"])
    findings = assessment.findings.open()
    graves = findings[findings["severity"] == Severity.HOLD]
    assert held == set(graves["unit_id"])
    for rule in graves["rule"].unique():
        assert RULE_BY_NAME[rule].severity is Severity.HOLD
    assert not graves.duplicated(["unit_id", "check"]).any()


def test_almost_every_rule_finds_something_in_the_large_plant():
    found = set(assessed("ore_works").findings.table["rule"])
    assert len(found) >= 0.8 * len(RULEBOOK), {r.name for r in RULEBOOK} - found


@pytest.mark.parametrize("plant", DEMO_PLANTS)
def test_reasons_and_first_action_stand_beside_every_hold_and_correct(plant):
    ranking = assessed(plant).ranking
    urgent = ranking[ranking["verdict"].isin(["hold", "correct"])]
    assert urgent["main_reasons"].notna().all()
    assert urgent["first_action"].str.contains(": ").all()
    quiet = ranking[ranking["verdict"] == "no_finding"]
    assert quiet["not_seen"].isna().all()
