"""The generator's own physics of a joint: what takes grip, and how rare a slip is."""

import numpy as np
import pandas as pd
import pytest

from demo_data.chance import Chance
from demo_data.fault_arrays import OUTCOMES
from demo_data.fault_table import CHECK_AT, CHECK_NAMES, FAULTS
from demo_data.generate import generate_fleet, grow_plant
from demo_data.plants import PLANTS
from demo_data.true_grip import LOST_BY_FAULTS, WALKS, Grip, draw_friction, draw_grip
from demo_data.true_hazard import SLIP

USUAL = np.array([model.effect.slip for model in FAULTS])


def grip(drawn: np.ndarray = USUAL, units: int = 500) -> Grip:
    plate = pd.DataFrame(
        {
            "output_torque_nm": np.full(units, 1000.0),
            "peak_factor": np.full(units, 2.0),
            "joint_rated_torque_nm": np.full(units, 3800.0),
        }
    )
    return draw_grip(Chance(3), plate, drawn)


def slips(joints: Grip, check: str, outcome: int) -> float:
    rows = np.arange(len(joints.log_margin))
    outcomes = np.zeros((len(rows), len(CHECK_NAMES)), np.int8)
    outcomes[:, CHECK_AT[check]] = outcome
    return float(np.exp(joints.log_slips(rows, outcomes, np.zeros(len(rows)))).mean())


def test_a_joint_as_specified_has_the_margin_of_its_plate() -> None:
    rows = np.arange(500)
    good = np.zeros((500, len(CHECK_NAMES)), np.int8)
    margin = grip().margin(rows, good, np.zeros(500))
    assert np.median(margin) == pytest.approx(1.9, rel=0.02)
    assert np.log(margin).std() == pytest.approx(0.12, rel=0.15)


@pytest.mark.parametrize("check", [*LOST_BY_FAULTS, *WALKS])
def test_no_fault_makes_a_joint_slip_less(check: str) -> None:
    joints = grip()
    good = slips(joints, check, 0)
    outcomes = range(1, len({**LOST_BY_FAULTS, **WALKS}[check]))
    assert max(slips(joints, check, outcome) for outcome in outcomes) > 1.05 * good
    assert min(slips(joints, check, outcome) for outcome in outcomes) >= good


def test_a_fault_that_does_nothing_in_a_plant_takes_nothing() -> None:
    joints = grip(np.zeros(len(USUAL)))
    only = [CHECK_AT[name] for name in WALKS]
    assert (np.delete(joints.lost, only, axis=0) == 0).all()
    assert joints.lost.shape == (len(CHECK_NAMES), OUTCOMES)


def test_friction_is_drawn_anew_with_every_hanging_and_has_no_bias() -> None:
    run = grow_plant(300, 5).run
    assert abs(run.state.friction.mean()) < 0.05
    assert run.state.friction.std() == pytest.approx(0.18, rel=0.15)
    assert draw_friction(np.array([1.0]))[0] == pytest.approx(0.18)
    rows = np.flatnonzero(run.lives.in_service)
    weak, strong = run.state.friction[rows] < 0, run.state.friction[rows] > 0
    hazard = np.exp(run.log_hazard(SLIP, rows))
    assert hazard[weak].mean() > 1.5 * hazard[strong].mean()


def test_slips_are_written_down_and_some_are_seen_by_their_marks() -> None:
    fleets = [generate_fleet(units=1000, seed=seed) for seed in (701, 706)]
    events = sum(int((fleet.events["mode"] == "joint_slip").sum()) for fleet in fleets)
    slips = sum(fleet.counts.failures["joint_slip"] for fleet in fleets)
    assert 0 < events <= slips
    marks = pd.concat([fleet.walkdowns["witness_mark"] for fleet in fleets])
    assert set(marks.dropna()) == {"in_line", "moved"}
    assert (marks == "moved").sum() < 0.01 * (marks == "in_line").sum()


def test_the_plants_say_since_when_slips_are_written_down() -> None:
    for plant in PLANTS.values():
        units = plant.generate().units
        assert units["slips_recorded_from"].notna().mean() > 0.5
        assert units["slip_repair_cost"].notna().any()
