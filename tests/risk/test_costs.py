"""Costs filled from site, fleet or plan, and the loss they make."""

import numpy as np
import pandas as pd
import pytest

from scoring.assessment import FleetAssessor
from scoring.contract import UNITS
from scoring.contract.events import MODES
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.records import empty_table
from scoring.risk.loss import PLANNED_COSTS, fill_costs

AS_OF = pd.Timestamp("2026-06-30")


def units_of(rows):
    units = empty_table(UNITS).reindex(range(len(rows)))
    units["site"] = [site for site, _ in rows]
    units["bearing_repair_cost"] = [cost for _, cost in rows]
    return units


def said_of(costs):
    return [[words for where, words in costs.words if where[n]] for n in range(len(costs.table))]


def test_blank_costs_are_the_site_s_median_the_fleet_s_or_a_planning_value():
    blank = np.nan
    rows = [("a", 100.0), ("a", 300.0), ("a", 900.0), ("a", blank), ("b", blank), ("c", 50.0)]
    costs = fill_costs(units_of(rows))
    filled = costs.table["bearing_repair_cost"].tolist()
    assert filled == [100, 300, 900, 300, 200, 50]
    site, fleet = "costs: the site's median", "costs: the fleet's median"
    planned = "costs: planning values of ours"
    assert said_of(costs) == [
        [planned],
        [planned],
        [planned],
        [site, planned],
        [fleet, planned],
        [planned],
    ]
    for name, value in PLANNED_COSTS.items():
        if name != "bearing_repair_cost":
            assert (costs.table[name] == value).all()


def test_nothing_is_said_where_every_cost_was_given():
    units = units_of([("a", 100.0)])
    for name in PLANNED_COSTS:
        units[name] = 0.0
    costs = fill_costs(units)
    assert said_of(costs) == [[]]
    assert costs.of_failure("low_speed_bearing").tolist() == [0]


def test_a_failure_costs_its_repair_and_its_standstill():
    units = units_of([("a", 5000.0)])
    units["bearing_repair_h"], units["downtime_cost_per_h"] = 10.0, 250.0
    units["leak_repair_cost"], units["leak_repair_h"] = 700.0, 3.0
    costs = fill_costs(units)
    assert costs.of_failure("low_speed_bearing").tolist() == [7500]
    assert costs.of_failure("seal_leak").tolist() == [1450]
    units["slip_repair_cost"], units["slip_repair_h"] = 900.0, 6.0
    assert fill_costs(units).of_failure("joint_slip").tolist() == [2400]


def test_a_slip_costs_a_planning_value_where_nobody_says():
    costs = fill_costs(units_of([("a", 5000.0)]))
    assert costs.of_failure("joint_slip").tolist() == [3000 + 10 * 400]


def test_expected_loss_is_the_sum_of_chance_times_cost():
    fleet = check_fleet(read_fleet("demo:small_quarry").tables, AS_OF).fleet
    assessment = FleetAssessor(fleet).assess(AS_OF)
    costs = assessment.risk.costs.table
    for n in range(len(costs)):
        row = costs.iloc[n]
        bearing = row["bearing_repair_cost"] + row["bearing_repair_h"] * row["downtime_cost_per_h"]
        leak = row["leak_repair_cost"] + row["leak_repair_h"] * row["downtime_cost_per_h"]
        chances = [assessment.risk.modes[mode].probability[n] for mode in MODES]
        slip = row["slip_repair_cost"] + row["slip_repair_h"] * row["downtime_cost_per_h"]
        expected = chances[0] * bearing + chances[1] * leak + chances[2] * slip
        assert assessment.risk.expected_loss[n] == pytest.approx(expected)
    order = assessment.ranking
    quiet = order[order["verdict"] != "hold"]
    assert quiet["expected_loss"].is_monotonic_decreasing
