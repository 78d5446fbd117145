"""A unit whose nameplate lies beyond those of all others is told so, and by how much."""

from dataclasses import replace

import pandas as pd
import pytest

from scoring.assessment import FleetAssessor
from scoring.contract.events import MODE_WORDS
from scoring.explanation import explain
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet

AS_OF = pd.Timestamp("2026-06-30")
SPEED, AMBIENT = "output_speed_rpm", "ambient_c"


@pytest.fixture(scope="module")
def port():
    return check_fleet(read_fleet("demo:grain_port").tables, AS_OF).fleet


def told_of(port, column, value_of):
    """Give one unit another nameplate, beyond or within the others, and explain it."""
    units = port.units.copy()
    in_service = units["out_of_service_on"].isna() & units[column].notna()
    place = units.index[in_service][0]
    others = units.loc[in_service, column].drop(place)
    units.loc[place, column] = value_of(others)
    assessor = FleetAssessor(replace(port, units=units))
    told = {}
    for way, learning in (("learned", assessor.learn(AS_OF)), ("handbook", None)):
        assessment = assessor.assess(AS_OF, learning=learning)
        told[way] = explain(assessment, units.loc[place, "unit_id"]).numbers
    return others, told


def outside(numbers):
    return [number for number in numbers if number.name.startswith("outside the fleet")]


def spread(numbers, mode):
    topic = f"chance of a {MODE_WORDS[mode]}"
    return next(
        number.value
        for number in numbers
        if number.topic == topic and number.name.startswith("log standard deviation")
    )


def test_three_times_the_largest(port):
    _, told = told_of(port, SPEED, lambda others: 3 * others.max())
    found = [number for number in outside(told["learned"]) if "output speed" in number.name]
    assert {number.topic for number in found} == {
        f"chance of a {MODE_WORDS[mode]}" for mode in ("low_speed_bearing", "seal_leak")
    }
    for number in found:
        assert number.name == "outside the fleet: output speed over the largest of the others"
        assert number.value == pytest.approx(3)
        assert number.inputs[0].value / number.inputs[1].value == pytest.approx(3)
    assert outside(told["handbook"]) == []
    _, within = told_of(port, SPEED, lambda others: others.max())
    assert not [number for number in outside(within["learned"]) if "speed" in number.name]
    for mode in ("low_speed_bearing", "seal_leak"):
        assert spread(told["learned"], mode) > spread(within["learned"], mode)


def test_half_the_smallest(port):
    _, told = told_of(port, SPEED, lambda others: others.min() / 2)
    found = [number for number in outside(told["learned"]) if "output speed" in number.name]
    assert len(found) == 2
    assert found[0].name.endswith("over the smallest of the others")
    assert found[0].value == pytest.approx(0.5)


def test_kelvins_above_the_highest(port):
    others, told = told_of(port, AMBIENT, lambda others: others.max() + 20)
    found = [number for number in outside(told["learned"]) if "temperature" in number.name]
    assert found
    for number in found:
        assert number.name.endswith("above the highest of the others")
        assert number.value == pytest.approx(20)
        assert [part.value for part in number.inputs] == pytest.approx(
            [others.max() + 20, others.max()]
        )
    _, near = told_of(port, AMBIENT, lambda others: others.max() + 9)
    assert not [number for number in outside(near["learned"]) if "temperature" in number.name]
