"""What is said of a fleet is worked out by one chain, each step once, whoever asks for it."""

from dataclasses import fields

import numpy as np
import pandas as pd
import pytest
from fleets import Book
from generated_fleets import AS_OF, generated_assessor

from scoring.assessment import FleetAssessor
from scoring.assessment import assess as chain
from scoring.consequences import consequence, nameplate
from scoring.contract import RANKING
from scoring.contract.events import MODES
from scoring.handbook import unit_evidence
from scoring.limits import unit_limits
from scoring.rules.look_status import LookStatus

DAYS = [AS_OF, AS_OF - pd.Timedelta(days=400), pd.Timestamp("2024-02-29 17:30")]


class Counted:
    """A function that counts how often it was called."""

    def __init__(self, function) -> None:
        self.function, self.calls = function, 0

    def __call__(self, *given, **named):
        self.calls += 1
        return self.function(*given, **named)


@pytest.fixture
def counted(monkeypatch):
    def count(module, name) -> Counted:
        function = Counted(getattr(module, name))
        monkeypatch.setattr(module, name, function)
        return function

    return count


@pytest.fixture
def fresh() -> FleetAssessor:
    """Return an assessor that was asked nothing yet."""
    return FleetAssessor(generated_assessor(60, 471).fleet)


@pytest.mark.parametrize("seed", [471, 472, 473])
@pytest.mark.parametrize("day", DAYS, ids=lambda day: str(day.date()))
def test_rules_say_the_same_with_and_without_the_risk(seed, day):
    assessor = generated_assessor(150, seed)
    judged, assessed = assessor.judge(day), assessor.assess(day)
    assert len(judged.findings.table) > 0
    pd.testing.assert_frame_equal(judged.findings.table, assessed.findings.table)
    pd.testing.assert_frame_equal(judged.verdicts.counts, assessed.verdicts.counts)
    assert judged.verdicts.verdict.tolist() == assessed.verdicts.verdict.tolist()
    for part in fields(LookStatus):
        assert (
            getattr(judged.look_status, part.name) == getattr(assessed.look_status, part.name)
        ).all()
    pd.testing.assert_frame_equal(judged.known.units, assessed.known.units)
    said = assessed.ranking.set_index("unit_id")["verdict"].astype(str)
    assert said[judged.known.units["unit_id"]].tolist() == judged.verdicts.verdict.tolist()


def test_a_joint_that_slips_is_held_by_the_grip_that_is_told():
    book = Book().unit("TIGHT").unit("SLIPS")
    for unit in book.units:
        unit.update(
            mounting="shrink_disc",
            joint_rated_torque_nm="4000",
            output_torque_nm="1500",
            peak_factor="2",
        )
    book.look("2024-02-01", "SLIPS", bore_condition="antiseize_or_grease")
    assessed = FleetAssessor(book.fleet()).assess(pd.Timestamp("2024-03-01"))
    slips = assessed.findings.table.query("check == 'slip_margin'")
    assert slips["unit_id"].tolist() == ["SLIPS"]
    assert slips["exceedance"].tolist() == pytest.approx(
        [1.2 - assessed.consequences.grip.margin[1]]
    )
    reported = assessed.ranking.set_index("unit_id")
    assert reported.loc["SLIPS", "slip_margin"] == assessed.consequences.grip.margin[1]
    assert reported.loc["SLIPS", "verdict"] == "hold"
    assert reported.loc["TIGHT", "verdict"] != "hold"


def test_each_step_of_an_assessment_is_done_once(fresh, counted):
    steps = [
        counted(chain, "learn_prevalence"),
        counted(chain, "work_out"),
        counted(nameplate, "read_nameplates"),
        counted(consequence, "joint_grip"),
        counted(consequence, "ArmsAsFound"),
        counted(chain, "judge_units"),
        counted(chain, "fleet_risk"),
        counted(chain, "build_ranking"),
    ]
    besides = [counted(chain, "joint_grip"), counted(unit_evidence, "arm_restraint")]
    fresh.assess(AS_OF)
    assert [step.calls for step in steps] == [1] * len(steps)
    assert [step.calls for step in besides] == [0, 0]


def test_how_usual_faults_are_is_learned_once_a_day(fresh, counted):
    learned = counted(chain, "learn_prevalence")
    learning = fresh.learn(AS_OF)
    fresh.assess(AS_OF, 365, learning)
    fresh.assess(AS_OF + pd.Timedelta(hours=9), 30)
    assert learned.calls == 1
    fresh.assess(AS_OF - pd.Timedelta(days=1), 365, learning)
    assert learned.calls == 2


def test_judging_asks_of_all_consequences_for_the_grip_alone(fresh, counted):
    not_asked = [
        counted(chain, "learn_prevalence"),
        counted(chain, "work_out"),
        counted(consequence, "ArmsAsFound"),
        counted(unit_evidence, "arm_restraint"),
    ]
    grip, judged = counted(chain, "joint_grip"), counted(chain, "judge_units")
    fresh.judge(AS_OF)
    assert (grip.calls, judged.calls) == (1, 1)
    assert [step.calls for step in not_asked] == [0] * len(not_asked)


def test_limits_are_worked_out_when_the_fleet_is_read_and_never_again(counted):
    made = counted(chain, "unit_limits")
    assessor = FleetAssessor(generated_assessor(60, 471).fleet)
    for day in DAYS:
        assessor.assess(day)
    assert made.calls == 1


@pytest.mark.parametrize("day", DAYS, ids=lambda day: str(day.date()))
def test_days_asked_for_before_do_not_matter(fresh, day):
    alone = FleetAssessor(fresh.fleet).assess(day)
    for other in DAYS:
        fresh.assess(other, 90)
        fresh.judge(other)
    pd.testing.assert_frame_equal(fresh.assess(day).ranking, alone.ranking)


@pytest.mark.parametrize("learns", [False, True], ids=["handbook", "handbook and fleet"])
def test_the_yardstick_of_a_ranking_measures_its_own_units_the_same(learns):
    assessor = generated_assessor(150, 471)
    learning = assessor.learn(AS_OF) if learns else None
    assessed = assessor.assess(AS_OF, 200, learning)
    risks = assessed.yardstick.risks(assessed.known, assessed.limits, 200)
    again = assessor.yardstick(AS_OF, learning).risks(assessed.known, assessed.limits, 200)
    assert list(risks) == list(MODES)
    for mode in MODES:
        for part in ("probability", "low", "high", "expected"):
            ranked = getattr(assessed.risk.modes[mode], part)
            np.testing.assert_array_equal(getattr(risks[mode], part), ranked)
            np.testing.assert_array_equal(getattr(again[mode], part), ranked)


def test_limits_of_units_that_come_again_are_those_of_each():
    units = generated_assessor(60, 471).fleet.units
    limits = unit_limits(units)
    place = np.array([7, 3, 3, 59, 0])
    some = limits.at(place)
    assert some.table.index.tolist() == [0, 1, 2, 3, 4]
    for row, unit in enumerate(place):
        assert some.table.iloc[row].equals(limits.table.iloc[unit])
        assert some.assumed[row] == limits.assumed[unit]


GONE = Book().unit("U1", out_of_service_on="2024-05-01").unit("U2", out_of_service_on="2024-06-01")
GONE.look("2024-02-01", "U1", guard="missing").failed("2024-03-01", "seal_leak", "U2")


@pytest.mark.parametrize("day", ["2023-12-31", "2024-06-01"], ids=["not yet hung", "all gone"])
@pytest.mark.parametrize("learns", [False, True], ids=["handbook", "handbook and fleet"])
def test_a_fleet_with_no_unit_in_service(day, learns):
    assessor, as_of = FleetAssessor(GONE.fleet()), pd.Timestamp(day)
    assessed = assessor.assess(as_of, 90, assessor.learn(as_of) if learns else None)
    assert assessed.ranking.empty
    assert list(assessed.ranking.columns) == [column.name for column in RANKING.columns]
    assert assessed.horizon_days == 365
    judged = assessor.judge(as_of)
    for said in (assessed, judged):
        assert said.findings.table.empty
        assert (
            len(said.verdicts.verdict)
            == len(said.look_status.not_seen)
            == len(said.known.units)
            == 0
        )
    assert len(assessor.judge(pd.Timestamp("2024-05-31")).verdicts.verdict) == 1
