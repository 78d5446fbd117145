"""Which steps a crew gets wrong: by hand, by counting, and on fleets of crews that are alike."""

from math import comb

import numpy as np
import pandas as pd
import pytest
from kept_plants import SMALL_QUARRY

from demo_data.fault_arrays import IS_FAULT
from demo_data.fault_table import CHECK_NAMES
from demo_data.generate import grow_plant
from demo_data.hanging import outcome_chances
from demo_data.plants import FOLDER, PLANTS
from scoring.assessment import FleetAssessor
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.trends.crew_over_time import crew_over_time
from scoring.trends.false_discoveries import stand_out
from scoring.trends.looks_after_hanging import WITHIN_DAYS, looks_after_hanging
from scoring.trends.steps_of_a_crew import (
    CANNOT_BE_TOLD,
    LESS,
    MORE,
    WITHIN,
    steps_of_a_crew,
)

AS_OF = pd.Timestamp("2026-06-30")


def looks_of(*groups):
    """Return looks from (crew, check, mounting, looks, wrong)."""
    rows = [
        {
            "unit_id": f"{crew}-{check}-{n}",
            "mounting": mounting,
            "crew": crew,
            "hung_on": pd.Timestamp("2025-01-01") + pd.Timedelta(days=n),
            "check": check,
            "wrong": n < wrong,
        }
        for crew, check, mounting, size, wrong in groups
        for n in range(size)
    ]
    return pd.DataFrame(rows)


def test_the_chance_of_luck_is_counted_out():
    looks = looks_of(("A", "breather", "keyed_bore", 5, 3), ("B", "breather", "keyed_bore", 7, 1))
    row = steps_of_a_crew(looks, "A").steps.iloc[0]
    ways = sum(comb(5, k) * comb(7, 4 - k) for k in (3, 4))
    assert row["chance"] == pytest.approx(ways / comb(12, 4))
    fewer = sum(comb(5, k) * comb(7, 4 - k) for k in range(4))
    assert row["chance_less"] == pytest.approx(fewer / comb(12, 4))
    assert row["expected"] == pytest.approx(5 * 4 / 12)
    assert row["ratio"] == pytest.approx((3 + 4) / (5 / 3 + 4))
    assert row["low"] < row["ratio"] < row["high"]


def test_mountings_are_added_each_with_its_own_share():
    """A crew that hangs what goes wrong more often everywhere is no worse for it."""
    looks = looks_of(
        ("A", "engagement_mm", "shrink_disc", 60, 30),
        ("A", "engagement_mm", "keyed_bore", 5, 0),
        ("B", "engagement_mm", "shrink_disc", 20, 10),
        ("B", "engagement_mm", "keyed_bore", 200, 4),
    )
    row = steps_of_a_crew(looks, "A").steps.iloc[0]
    assert row["expected"] == pytest.approx(60 * 40 / 80 + 5 * 4 / 205)
    assert row["stands"] == WITHIN
    assert row["chance"] > 0.3


def test_a_bad_step_stands_out_and_a_good_one_is_said_too():
    looks = looks_of(
        ("A", "breather", "keyed_bore", 60, 25),
        ("B", "breather", "keyed_bore", 400, 20),
        ("A", "guard", "keyed_bore", 60, 0),
        ("B", "guard", "keyed_bore", 400, 80),
    )
    found = steps_of_a_crew(looks, "A")
    assert found.standing(MORE)["check"].tolist() == ["breather"]
    assert found.standing(LESS)["check"].tolist() == ["guard"]


def test_what_is_bad_at_one_mounting_alone_is_named_there():
    looks = looks_of(
        ("A", "isolators_free", "keyed_bore", 12, 10),
        ("A", "isolators_free", "shrink_disc", 300, 3),
        ("B", "isolators_free", "keyed_bore", 200, 10),
        ("B", "isolators_free", "shrink_disc", 600, 60),
    )
    named = steps_of_a_crew(looks, "A").standing(MORE)
    assert named[["check", "mounting"]].to_numpy().tolist() == [["isolators_free", "keyed_bore"]]


def test_a_small_crew_is_drawn_to_the_fleet_and_not_judged():
    looks = looks_of(
        ("A", "breather", "keyed_bore", 2, 1), ("B", "breather", "keyed_bore", 300, 30)
    )
    row = steps_of_a_crew(looks, "A").steps.iloc[0]
    assert row["stands"] == CANNOT_BE_TOLD
    assert 1 < row["ratio"] < 1.3  # five times the fleet's share, as it stands
    bad = looks_of(("A", "breather", "keyed_bore", 1, 1), ("B", "breather", "keyed_bore", 300, 0))
    assert steps_of_a_crew(bad, "A").standing(MORE).empty


def test_a_crew_alone_is_compared_with_nobody():
    looks = looks_of(("A", "breather", "keyed_bore", 40, 20))
    found = steps_of_a_crew(looks, "A")
    assert found.standing(MORE).empty
    assert found.steps["ratio"].tolist() == [1.0]
    assert steps_of_a_crew(looks, "nobody").steps.empty


def test_more_faults_never_make_a_step_look_better():
    ratios, chances = [], []
    for wrong in range(0, 21, 4):
        looks = looks_of(
            ("A", "breather", "keyed_bore", 20, wrong), ("B", "breather", "keyed_bore", 99, 20)
        )
        row = steps_of_a_crew(looks, "A").steps.iloc[0]
        ratios.append(row["ratio"])
        chances.append(row["chance"])
    assert ratios == sorted(ratios)
    assert chances == sorted(chances, reverse=True)


def test_the_rule_for_many_comparisons_by_hand():
    chances = np.array([0.01, 0.039, 0.06, 0.2, 0.9])
    assert stand_out(chances, 0.1).tolist() == [True, True, True, False, False]
    assert not stand_out(np.array([0.03, 0.5, 0.5, 0.5]), 0.1).any()
    assert stand_out(np.zeros(0), 0.1).tolist() == []


def test_luck_alone_is_seldom_named():
    """Of crews that do not differ at most one in ten is said to do anything wrong."""
    random = np.random.default_rng(9150)
    checks = ["breather", "guard", "seated", "isolators_free", "arm_bolts", "seal_lip"]
    accused = 0
    for _ in range(120):
        groups = [
            (crew, check, "keyed_bore", size, int(random.binomial(size, 0.08)))
            for check in checks
            for crew, size in (("A", 40), ("B", 160))
        ]
        accused += not steps_of_a_crew(looks_of(*groups), "A").standing(MORE).empty
    assert accused / 120 <= 0.1


def assessor_of(where):
    return FleetAssessor(check_fleet(read_fleet(where).tables, AS_OF).fleet)


@pytest.fixture(scope="module")
def ore_works():
    return looks_after_hanging(assessor_of(str(FOLDER / "ore_works")).timeline, AS_OF)


def test_first_looks_are_those_that_a_plain_loop_finds():
    assessor = assessor_of(SMALL_QUARRY)
    looks = looks_after_hanging(assessor.timeline, AS_OF)
    fleet, bad = assessor.fleet, assessor.timeline.exceedance
    units = fleet.units.set_index("unit_id")
    kinds = fleet.walkdowns["kind"].astype(str)
    for check in ("breather", "isolators_free", "retention"):
        expected = {}
        order = fleet.walkdowns.sort_values(["inspected_on", "walkdown_id"]).index
        for row in order:
            walk = fleet.walkdowns.loc[row]
            unit, value = walk["unit_id"], bad.loc[row, check]
            hung = units.loc[unit, "installed_on"].normalize()
            work = fleet.rework.loc[fleet.rework["unit_id"] == unit, "done_on"]
            failed = fleet.events.loc[
                (fleet.events["unit_id"] == unit) & (fleet.events["mode"] != "other"), "occurred_on"
            ]
            before = (work < walk["inspected_on"]).any() or (failed <= walk["inspected_on"]).any()
            late = (walk["inspected_on"].normalize() - hung).days > WITHIN_DAYS
            if np.isnan(value) or before or late or kinds[row] == "after_rework":
                continue
            expected.setdefault(unit, bool(value > 0))
        of_check = looks[looks["check"] == check]
        assert dict(zip(of_check["unit_id"], of_check["wrong"], strict=True)) == expected


def test_what_is_named_at_the_large_plant_is_truly_worse(ore_works):
    made = PLANTS["ore_works"]
    plant = grow_plant(made.units, made.seed, made.sites, scenario=made.scenario)
    chance = (outcome_chances(plant.run.fault_chance) * IS_FAULT).sum(axis=-1)
    names = [list(plant.run.crews.names), list(EVERY_MOUNTING), list(CHECK_NAMES)]
    index = pd.MultiIndex.from_product(names, names=["crew", "mounting", "check"])
    keys = pd.MultiIndex.from_frame(ore_works[["crew", "mounting", "check"]])
    true = pd.Series(chance.ravel(), index=index).reindex(keys).to_numpy()
    usual = pd.Series(true).groupby([ore_works["mounting"], ore_works["check"]]).transform("mean")
    named = []
    for crew in ore_works["crew"].dropna().unique():
        for check in steps_of_a_crew(ore_works, crew).standing(MORE)["check"]:
            own = ((ore_works["crew"] == crew) & (ore_works["check"] == check)).to_numpy()
            named.append(true[own].sum() / usual[own].sum())
    assert len(named) >= 5
    assert np.mean(np.array(named) > 1.25) >= 0.8


def test_halves_of_hangings_by_hand():
    looks = looks_of(("A", "breather", "keyed_bore", 10, 4), ("B", "breather", "keyed_bore", 9, 1))
    over = crew_over_time(looks, "A", ("breather",))
    assert over.since == pd.Timestamp("2025-01-06")
    assert [(one.what, one.earlier, one.later) for one in over.shares] == [
        ("", (4, 5), (0, 5)),
        ("breather", (4, 5), (0, 5)),
    ]
    assert over.shares[0].change.less_is == "better"
    one_day = looks.assign(hung_on=pd.Timestamp("2025-01-01"))
    assert crew_over_time(one_day, "A", ()).since is None
