"""Every number of every unit has formula and source, and follows from what it lists."""

from math import exp, pi, prod, radians, sin, sqrt

import numpy as np
import pandas as pd
import pytest
from scipy.stats import lognorm

from scoring.assessment import FleetAssessor
from scoring.contract.events import MODE_WORDS, MODES
from scoring.errors import FixableError
from scoring.explanation import explain
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet

AS_OF = pd.Timestamp("2026-06-30")


@pytest.fixture(scope="module", params=["by the handbook", "after learning"])
def assessment(request):
    assessor = FleetAssessor(check_fleet(read_fleet("demo:small_quarry").tables, AS_OF).fleet)
    learning = assessor.learn(AS_OF) if request.param == "after learning" else None
    return assessor.assess(AS_OF, learning=learning)


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


def end_of_interval(given, sign):
    away = given["standard deviations each way"] * given["log standard deviation"]
    return 1 - exp(-given["median of the expected failures"] * exp(sign * away))


def mean_chance(given):
    spread = given["units alike on paper"]
    alike = lognorm(spread, scale=exp(-(spread**2) / 2))
    return alike.expect(lambda times: 1 - np.exp(-given["expected failures"] * times))


SIMPLE = {
    "force in the link": link_force,
    "slip margin": lambda given: (
        given["joint's rated torque"]
        * given["capacity ratio"]
        / (given["running torque"] * given["peak over running torque"])
    ),
    "capacity, as found over as specified": lambda given: np.prod(list(given.values())),
    "surface speed under the lip": lambda given: (
        pi * given["shaft diameter"] / 1e3 * given["speed"] / 60
    ),
    "rate of such a unit without faults": lambda given: (
        given["field rate"]
        * next(value for name, value in given.items() if name.startswith("what "))
        / given["product of usual multipliers"]
    ),
    "product of the multipliers by the handbook": lambda given: prod(given.values()),
    "expected failures within the horizon": lambda given: (
        given["rate without faults"]
        * given["multipliers"]
        * given.get("what the fleet's own failures make of it", 1.0)
        * given["time ahead, as it counts by age"]
    ),
    "log standard deviation of the hazard": lambda given: sqrt(sum(v**2 for v in given.values())),
    "median of the expected failures": lambda given: (
        given["expected failures"] * exp(-(given["log standard deviation"] ** 2) / 2)
    ),
    "90 % interval of that chance, lower end": lambda given: end_of_interval(given, -1),
    "90 % interval of that chance, upper end": lambda given: end_of_interval(given, 1),
    "rating life of both bearings, floating": lambda given: (
        sum(
            (given["dynamic rating"] / given[load])
            ** (-given["life exponent p"] * given["Weibull slope"])
            for load in ("load nearer the arm", "load farther from it")
        )
        ** (-1 / given["Weibull slope"])
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


def test_run_out_at_the_seal_is_the_hub_s_own_and_what_a_held_arm_forces(explained):
    floating, held = [], []
    for number in numbers(explained):
        if number.name == "run-out at the seal over what it follows":
            given = inputs_of(number)
            own = given["run-out of the hub"] / given["allowance"]
            floats = given["chance that rubber holds it"] + given["chance that metal holds it"] == 0
            (floating if floats else held).append((number.value, own))
    for value, own in floating:
        assert value == pytest.approx(own)
    assert held
    assert all(own < value < 10 * own for value, own in held)


def test_the_load_of_a_floating_bearing_follows_from_its_inputs(explained):
    loads = [n for n in numbers(explained) if n.name.endswith("unit floating")]
    assert len(loads) == 2 * len(explained)
    for number in loads:
        given = inputs_of(number)
        assert number.value > given["its share of the link force"] * given["running torque"] / (
            given["arm length"] / 1e3
        )


def test_a_chance_follows_from_the_expected_failures_and_lies_within_its_interval(explained):
    for one in explained.values():
        chances = [n for n in one.numbers if n.formula.startswith("mean of 1 - exp(-expected")]
        failed = one.ranked["p_joint_slip"] == 1  # by its mark: told another way
        for mode, number in zip(MODES[: 2 if failed else 3], chances, strict=True):
            given = inputs_of(number)
            assert number.value == pytest.approx(mean_chance(given))
            low, high = given["90 % interval from"], given["to"]
            assert low <= number.value <= high
            columns = [f"p_{mode}", f"p_{mode}_low", f"p_{mode}_high"]
            assert one.ranked[columns].tolist() == [number.value, low, high]


def test_the_loss_follows_from_chances_and_costs(explained):
    for one in explained.values():
        loss = next(n for n in one.numbers if n.name.startswith("expected loss"))
        values = [part.value for part in loss.inputs]
        assert len(values) == 2 * len(MODES)
        assert loss.value == pytest.approx(np.dot(values[::2], values[1::2]))
        assert one.ranked["expected_loss"] == pytest.approx(loss.value)


def test_the_effects_multiply_to_the_products_that_are_told(explained):
    for one in explained.values():
        for mode, words in MODE_WORDS.items():
            effects = one.effects[one.effects["failure_mode"] == mode]
            reported = {n.name: n for n in one.numbers if n.topic == f"chance of a {words}"}
            product = reported["product of the multipliers by the handbook"].value
            assert effects["handbook"].prod() == pytest.approx(product)
            learned = reported.get("what the fleet's own failures make of it")
            made = 1.0 if learned is None else learned.inputs[0].value
            assert effects["multiplier"].prod() == pytest.approx(product * made)
            not_seen = effects[effects["basis"] == "not seen"]
            if len(not_seen):
                nobody = reported["multipliers of what nobody saw"].value
                assert not_seen["handbook"].prod() == pytest.approx(nobody)
                assert not_seen["faulty"].between(0, 1).all()


def test_no_effect_and_no_interval_lies_below_1(explained):
    for one in explained.values():
        for low, middle, high in (
            ("low", "multiplier", "high"),
            ("handbook_low", "handbook", "handbook_high"),
        ):
            of_grip = one.effects["effect"] == "grip"  # a good one slips less than usual ones
            assert (one.effects[low][~of_grip] >= 1).all()
            assert (one.effects[low] <= one.effects[middle]).all()
            assert (one.effects[middle] <= one.effects[high]).all()
        assert one.effects["origin"].str.len().min() > 0


def test_what_nobody_saw_is_as_usual_and_what_was_seen_good_is_less(explained):
    for one in explained.values():
        usual = one.effects["against_usual"]
        special = one.effects["effect"].isin(["held_arm", "grip"])
        not_seen = (one.effects["basis"] == "not seen") & ~special
        assert usual[not_seen].to_numpy() == pytest.approx(1.0)
        good = (one.effects["basis"] == "seen") & (one.effects["handbook"] == 1)
        assert (usual[good] < 1).all()


def test_an_unknown_unit_is_refused(assessment):
    with pytest.raises(FixableError, match="no unit 'nowhere' was in service on 2026-06-30"):
        explain(assessment, "nowhere")
