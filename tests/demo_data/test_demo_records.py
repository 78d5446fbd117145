"""Every record is valid by the contract, and incomplete as records are."""

import pandas as pd
import pytest

from demo_data.fleet import Fleet
from scoring.contract import CHECKS, FLEET_TABLES, Table
from scoring.contract.declaration import Kind, Seen

END = "2026-06-30"
FIRST = "2021-07-01"
DAY_OF = {"walkdowns": "inspected_on", "events": "occurred_on", "rework": "done_on"}


def with_unit(fleet: Fleet, table: str) -> pd.DataFrame:
    rows: pd.DataFrame = getattr(fleet, table)
    return rows.merge(fleet.units, on="unit_id", how="left", suffixes=("", "_of_unit"))


@pytest.mark.parametrize("table", FLEET_TABLES, ids=lambda table: table.name)
def test_columns_and_cells_are_the_contracts(plants: dict[str, Fleet], table: Table) -> None:
    for fleet in plants.values():
        rows: pd.DataFrame = getattr(fleet, table.name)
        assert list(rows.columns) == [column.name for column in table.columns]
        assert rows[table.key].is_unique
        for column in table.columns:
            cells = rows[column.name].dropna()
            assert not (column.required and len(cells) < len(rows)), column.name
            if column.kind is Kind.CHOICE:
                assert set(cells) <= set(column.allowed), column.name
            if column.kind is Kind.DATE and not column.may_lie_ahead:
                assert (cells.astype(str).str[:10] <= END).all(), column.name
            if column.is_numeric and len(cells):
                number = cells.astype(float)
                assert column.minimum is None or number.min() >= column.minimum, column.name
                assert column.maximum is None or number.max() <= column.maximum, column.name
                assert column.above is None or number.min() > column.above, column.name


def test_units_hang_together(plants: dict[str, Fleet]) -> None:
    for fleet in plants.values():
        units = fleet.units
        assert (units["started_on"].fillna("9") >= units["installed_on"]).all()
        ended = units["out_of_service_on"].fillna("9999")
        assert (ended >= units["started_on"].fillna(units["installed_on"])).all()
        assert not (units["hub_outer_mm"] <= units["shaft_diameter_mm"]).any()
        assert not (units["isolator_outer_mm"] <= units["isolator_inner_mm"]).any()
        assert (units["shaft_low_mm"].isna() == units["shaft_high_mm"].isna()).all()
        assert len(set(units["currency"])) == 1
        torque = 9550 * units["motor_power_kw"] / units["output_speed_rpm"]
        assert not (units["output_torque_nm"] > 1.02 * torque).any()
        assert not (units["joint_rated_torque_nm"] < 1.5 * units["output_torque_nm"]).any()


def test_assets_move_without_overlap(large: Fleet) -> None:
    units = large.units.dropna(subset="asset_id").sort_values(["asset_id", "installed_on"])
    before = units.groupby("asset_id")["out_of_service_on"].shift()
    moved = units.duplicated("asset_id")
    assert moved.sum() >= 20
    assert (units.loc[moved, "installed_on"] >= before[moved]).all()


@pytest.mark.parametrize("table", DAY_OF)
def test_records_lie_within_service(plants: dict[str, Fleet], table: str) -> None:
    for fleet in plants.values():
        rows = with_unit(fleet, table)
        day = rows[DAY_OF[table]].str[:10]
        assert rows["site"].notna().all()
        assert (day >= rows["installed_on"]).all()
        assert (day >= FIRST).all()
        assert (day <= rows["out_of_service_on"].fillna("9999")).all()
        assert (rows["recorded_at"].fillna("9999") >= day).all()


def test_running_units_were_started(plants: dict[str, Fleet]) -> None:
    for fleet in plants.values():
        rows = with_unit(fleet, "walkdowns")
        running = rows["kind"].isin(["after_start", "periodic"])
        started = rows["started_on"].fillna(rows["installed_on"])
        assert (rows.loc[running, "inspected_on"].str[:10] >= started[running]).all()
        symptoms = rows[["running_temperature_c", "vibration_mm_s"]].notna().any(axis=1)
        assert not (symptoms & ~running).any()


def test_checks_fit_mounting_and_moment(large: Fleet) -> None:
    rows = with_unit(large, "walkdowns")
    for check in CHECKS:
        seen = rows[check.name].notna()
        assert rows.loc[seen, "mounting"].isin(check.mountings).all(), check.name
        if check.seen is Seen.HANGING:
            assert rows.loc[seen, "kind"].isin(["post_install", "after_rework"]).all(), check.name


def test_rework_repairs_an_event_of_its_unit(plants: dict[str, Fleet]) -> None:
    for fleet in plants.values():
        repair = fleet.rework.dropna(subset="event_id").merge(fleet.events, on="event_id")
        assert len(repair) == fleet.rework["event_id"].notna().sum()
        assert (repair["unit_id_x"] == repair["unit_id_y"]).all()
        assert (repair["done_on"] >= repair["occurred_on"]).all()


def test_records_are_incomplete_as_records_are(large: Fleet) -> None:
    units, walkdowns = large.units, large.walkdowns
    assert units["bearing_dynamic_rating_n"].notna().mean() < 0.2
    assert units["isolator_thickness_mm"].notna().mean() < 0.3
    assert 3 <= len(walkdowns) / len(units) <= 8
    assert walkdowns["recorded_at"].notna().mean() == pytest.approx(0.06, abs=0.03)
    measured = walkdowns.loc[walkdowns["shaft_runout_mm"].notna(), "unit_id"].nunique()
    assert measured < 0.8 * len(units)
    old = units["installed_on"] < FIRST
    assert 0.2 < old.mean() < 0.5
    assert (units.loc[old, "failures_recorded_from"] == FIRST).all()
    assert 0.03 < units["out_of_service_on"].notna().mean() < 0.15


def test_guards_hide_what_is_behind_them(large: Fleet) -> None:
    rows = with_unit(large, "walkdowns")
    stopped = rows[(rows["kind"] == "periodic") & rows["guard"].notna()]
    has = stopped[stopped["mounting"] != "keyed_bore"]
    seen = has["screws_low"].notna().groupby(has["guard"]).mean()
    assert seen["fitted"] < 0.85 * seen["missing"]
