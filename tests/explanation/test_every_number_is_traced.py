"""Every number of every unit has formula and source, and follows from what it lists."""

from math import exp, pi, radians, sin

import numpy as np
import pandas as pd
import pytest

from scoring.assessment import FleetAssessor
from scoring.errors import FixableError
from scoring.explanation import explain
from scoring.files.read_fleet import read_fleet
from scoring.handbook.effect import MODES
from scoring.intake import check_fleet

AS_OF = pd.Timestamp("2026-06-30")


@pytest.fixture(scope="module")
def assessment():
    fleet = check_fleet(read_fleet("demo:small_quarry").tables, AS_OF).fleet
    return FleetAssessor(fleet).assess(AS_OF)


@pytest.fixture(scope="module")
def explained(assessment):
    return {u: explain(assessment, u) for u in assessment.known.units["unit_id"]}


def numbers(explained):
    return [number for one in explained.values() for number in one.numbers]


def inputs_of(number):
    return {part.name: part.value for part in number.inputs}


def link_force(given):
    angle = radians(max(given["angle"], 1.0))
    return given["running torque"] / (given["arm length"] / 1e3 * sin(angle))


SIMPLE = {
    "force in the link": link_force,
    "slip margin": lambda given: (
        given["joint's rated torque"]
        * given["capacity ratio"]
        / (given["running torque"] * given["peak over running torque"])
    ),
    "capacity, as found over as specified": lambda given: np.prod(list(given.values())),
    "run-out at the seal over what it follows": lambda given: given["run-out"] / given["allowance"],
    "surface speed under the lip": lambda given: (
        pi * given["shaft diameter"] / 1e3 * given["speed"] / 60
    ),
    "rate of such a unit without faults": lambda given: (
        given["field rate"]
        * given["what duty, speed, size and surroundings make of it"]
        / given["product of usual multipliers"]
    ),
    "expected failures within the horizon": lambda given: (
        given["rate without faults"] * given["multipliers"] * given["integral over age"]
    ),
    "rating life of both bearings, floating": lambda given: (
        2 ** (-1 / given["Weibull slope"])
        * (given["dynamic rating C"] / given["load P"]) ** given["life exponent p"]
        * 1e6
        / (60 * given["speed"])
    ),
}


def test_every_number_has_formula_source_and_a_heading(explained):
    for number in numbers(explained):
        for words in (number.topic, number.name, number.formula, number.source):
            assert words, number
        assert "nan" not in number.value_words
        assert not any("nan" in part.words.split() for part in number.inputs), number


@pytest.mark.parametrize("name", SIMPLE)
def test_a_simple_number_follows_from_its_inputs(explained, name):
    checked = 0
    for number in numbers(explained):
        given = inputs_of(number)
        words = {v for v in given.values() if isinstance(v, str)}
        if number.name == name and not words:
            assert number.value == pytest.approx(SIMPLE[name](given), rel=1e-9), number
            checked += 1
    assert checked > 3


def test_a_run_out_not_measured_counts_as_the_mean_of_its_distribution(explained):
    ratios = [
        number.value
        for number in numbers(explained)
        if number.name.startswith("run-out") and isinstance(number.inputs[0].value, str)
    ]
    assert ratios == pytest.approx([0.135 / 0.25] * len(ratios))


def test_a_chance_follows_from_the_expected_failures_or_is_certain(assessment, explained):
    leaking = assessment.known.history["leak_since"].notna().to_numpy()
    for place, one in enumerate(explained.values()):
        chances = [n for n in one.numbers if n.formula == "1 - exp(-expected failures)"]
        for mode, number in zip(MODES, chances, strict=True):
            given = inputs_of(number)
            certain = mode == "seal_leak" and leaking[place]
            expected = 1 if certain else 1 - exp(-given["expected failures"])
            assert number.value == pytest.approx(expected)
            assert given["90 % interval from"] <= number.value <= given["to"]
            assert one.ranked[f"p_{mode}"] == number.value


def test_the_loss_follows_from_chances_and_costs(explained):
    for one in explained.values():
        loss = next(n for n in one.numbers if n.topic == "expected loss")
        values = [part.value for part in loss.inputs]
        assert loss.value == pytest.approx(values[0] * values[1] + values[2] * values[3])
        assert one.ranked["expected_loss"] == pytest.approx(loss.value)


def test_the_effects_multiply_to_the_product_that_is_told(explained):
    for one in explained.values():
        products = [n.value for n in one.numbers if n.name.startswith("product of")]
        for mode, product in zip(MODES, products, strict=True):
            effects = one.effects[one.effects["failure_mode"] == mode]
            assert effects["multiplier"].prod() == pytest.approx(product)
            assert (effects["low"] <= effects["multiplier"]).all()
            assert (effects["multiplier"] <= effects["high"]).all()
            assert effects["origin"].str.len().min() > 0


def test_an_unknown_unit_is_refused(assessment):
    with pytest.raises(FixableError, match="no unit 'nowhere' was in service on 2026-06-30"):
        explain(assessment, "nowhere")
