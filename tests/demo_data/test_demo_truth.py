"""The truth beside the records: chances that are chances, and re-work that helps."""

import numpy as np
import pytest
from simple_reading import concordance, newest

from demo_data.fault_table import CHECK_NAMES
from demo_data.fleet import Fleet
from demo_data.generate import generate_fleet
from demo_data.hanging import drifted_chances, fault_chances, outcome_chances
from demo_data.known_actions import ACTION_NAMES, OFF_SHAFT
from demo_data.true_hazard import BEARING, SEAL, SLIP, chance_within
from scoring.contract.rework import ACTION_BY_NAME

MODES = ["p_low_speed_bearing", "p_seal_leak", "p_joint_slip"]


def test_rates_are_plausible() -> None:
    counts = [generate_fleet(units=700, seed=seed).counts for seed in range(100, 106)]
    years = sum(count.unit_years for count in counts)
    bearings = sum(count.failures["low_speed_bearing"] for count in counts) / years
    leaks = sum(count.failures["seal_leak"] for count in counts) / years
    slips = sum(count.failures["joint_slip"] for count in counts) / years
    assert 0.01 <= bearings <= 0.03
    assert 0.04 <= leaks <= 0.12
    assert 0.0015 <= slips <= 0.0045


@pytest.mark.parametrize("mode", [BEARING, SEAL, SLIP])
def test_a_year_is_twelve_months(mode: int) -> None:
    log_hazard, age = np.log([0.01, 0.3]), np.array([0.0, 2000.0])
    survives = np.ones(2)
    for month in range(12):
        survives *= 1 - chance_within(mode, log_hazard, age + month * 365 / 12, 365 / 12)
    np.testing.assert_allclose(1 - survives, chance_within(mode, log_hazard, age, 365.0))


def test_chances_of_outcomes_add_up() -> None:
    hanging = outcome_chances(fault_chances(np.ones((2, len(CHECK_NAMES)))))
    np.testing.assert_allclose(hanging.sum(axis=-1), 1.0)
    later = drifted_chances(hanging[:, 0], np.array([3.0, 40.0]))
    np.testing.assert_allclose(later.sum(axis=-1), 1.0)


def test_truth_covers_units_in_service(large: Fleet) -> None:
    in_service = large.units.loc[large.units["out_of_service_on"].isna(), "unit_id"]
    assert list(large.truth.units["unit_id"]) == list(in_service)
    assert set(large.truth.actions["unit_id"]) == set(in_service)
    assert set(large.truth.checks["unit_id"]) == set(in_service)


def test_chances_are_chances(plants: dict[str, Fleet]) -> None:
    for fleet in plants.values():
        for table in (fleet.truth.units, fleet.truth.actions, fleet.truth.checks):
            chances = table.filter(like="p_")
            assert chances.notna().all(axis=None)
            assert ((chances >= 0) & (chances <= 1)).all(axis=None)
        assert (fleet.truth.units["p_low_speed_bearing"] < 1).all()


def test_rework_on_the_shaft_never_harms(large: Fleet) -> None:
    rows = large.truth.actions.merge(large.truth.units, on="unit_id", suffixes=("", "_before"))
    # a new seal has its run-in before it
    other = [*np.array(ACTION_NAMES)[OFF_SHAFT], "renew_seal"]
    on_shaft = ~rows["action"].isin(other)
    for mode in MODES:
        assert (rows.loc[on_shaft, mode] <= rows.loc[on_shaft, f"{mode}_before"] + 1e-6).all()


def test_rework_helps_where_the_fault_is(large: Fleet) -> None:
    checks, effects = large.truth.checks, large.truth.effects
    strong = effects[
        (effects["failure_mode"] == "low_speed_bearing")
        & (effects["effect"].isin(["isolators_free", "arm_bolts", "oil_level", "metal_contact"]))
        & (effects["log_multiplier"] > 0.3)
    ]
    assert len(strong) > 0
    rows = large.truth.actions.merge(large.truth.units, on="unit_id", suffixes=("", "_before"))
    for check in strong["effect"]:
        faulty = checks.loc[(checks["check"] == check) & checks["is_fault"], "unit_id"]
        action = next(
            a.name for a in ACTION_BY_NAME.values() if check in a.cures and not a.off_shaft
        )
        at = rows[rows["unit_id"].isin(faulty) & (rows["action"] == action)]
        better = at["p_low_speed_bearing"] < at["p_low_speed_bearing_before"]
        assert len(at) > 0
        assert better.all(), check


def test_only_a_new_seal_ends_a_leak(large: Fleet) -> None:
    leaks = large.truth.units.loc[large.truth.units["p_seal_leak"] == 1, "unit_id"]
    assert len(leaks) > 0
    actions = large.truth.actions[large.truth.actions["unit_id"].isin(leaks)]
    new = actions["action"].isin(["renew_seal", "renew_bearing"])
    assert (actions.loc[~new, "p_seal_leak"] == 1).all()
    assert (actions.loc[new, "p_seal_leak"] < 0.8).all()


def test_only_a_new_hanging_ends_a_slip() -> None:
    fleet = generate_fleet(units=1500, seed=701)
    slipped = fleet.truth.units.loc[fleet.truth.units["p_joint_slip"] == 1, "unit_id"]
    assert len(slipped) > 0
    actions = fleet.truth.actions[fleet.truth.actions["unit_id"].isin(slipped)]
    anew = actions["action"].isin(np.array(ACTION_NAMES)[OFF_SHAFT])
    assert (actions.loc[~anew, "p_joint_slip"] == 1).all()
    assert (actions.loc[anew, "p_joint_slip"] < 0.6).all()


def test_seen_is_what_a_plain_reading_finds(plants: dict[str, Fleet]) -> None:
    for fleet in plants.values():
        found = newest(fleet).notna().reset_index()
        read = found.melt(id_vars="unit_id", var_name="check", value_name="read")
        rows = fleet.truth.checks.merge(read, on=["unit_id", "check"])
        assert (rows["seen"] == rows["read"]).all()


def test_unseen_averages_over_fault_and_no_fault(large: Fleet) -> None:
    checks = large.truth.checks
    factor = checks["p_low_speed_bearing_unseen"] - checks["p_low_speed_bearing_seen"]
    rows = checks.assign(change=factor)[checks["check"].isin(["isolators_free", "oil_level"])]
    assert (rows.loc[rows["is_fault"], "change"] <= 1e-7).all()
    assert (rows.loc[~rows["is_fault"], "change"] >= -1e-7).all()


def test_seen_chances_are_the_units(large: Fleet) -> None:
    rows = large.truth.checks.merge(large.truth.units, on="unit_id")
    for mode in MODES:
        assert (rows[f"{mode}_seen"] == rows[mode]).all()


def test_failures_follow_the_truth() -> None:
    """A plain count of open faults ranks true bearing risk well above chance."""
    fleet = generate_fleet(units=1500, seed=41)
    count = fleet.truth.checks.groupby("unit_id", sort=False)["is_fault"].sum()
    truth = fleet.truth.units.set_index("unit_id")["p_low_speed_bearing"]
    assert concordance(count[truth.index].to_numpy(), truth.to_numpy()) > 0.6


def test_effects_name_their_mode(large: Fleet) -> None:
    effects = large.truth.effects
    assert not effects.duplicated(["failure_mode", "effect"]).any()
    assert {"low_speed_bearing", "seal_leak"} <= set(effects["failure_mode"])
    pair = effects["effect"] == "arm_misset_mm x isolators_free"
    assert pair.sum() == effects["failure_mode"].nunique()
