"""Faulty rows are laid out to be mended, and what is written there is read in their place."""

import pandas as pd
from given_tables import UNIT, WALKDOWN, check, raw_table

from scoring.intake import RawTable, check_fleet
from scoring.intake.mend_cells import faulty_rows, with_mends

TODAY = pd.Timestamp("2026-06-30")


def test_a_row_is_laid_out_with_what_is_wrong_first_and_mended_in_place():
    units = raw_table("units", [UNIT, {**UNIT, "unit_id": "U-2", "shaft_diameter_mm": "8O"}])
    checked = check(units=units)
    laid_out = faulty_rows(units, checked)
    assert list(laid_out.cells.index) == [(3, 0)]
    assert laid_out.cells.columns[0] == "shaft_diameter_mm"
    assert laid_out.headings == [["shaft_diameter_mm"]]
    assert checked.faults["value"].iloc[laid_out.faults[0][0]] == "8O"
    mended = with_mends({"units": units}, {"units": {(3, 0): {"shaft_diameter_mm": "80"}}})
    again = check(units=mended["units"])
    assert again.faults.empty
    assert again.fleet.units["shaft_diameter_mm"].tolist()[1] == 80
    assert units.column("shaft_diameter_mm")[1] == "8O"  # what was read stays


def test_a_row_of_odd_length_becomes_whole():
    headings = list(UNIT)
    raw = RawTable.from_rows("units", "units.csv", headings, [list(UNIT.values()), ["U-2"]])
    laid_out = faulty_rows(raw, check(units=raw))
    assert laid_out.cells["unit_id"].tolist() == ["U-2"]
    said = {**UNIT, "unit_id": "U-2"}
    again = check(units=with_mends({"units": raw}, {"units": {(3, 0): said}})["units"])
    assert again.faults.empty
    assert again.fleet.units["unit_id"].tolist() == [UNIT["unit_id"], "U-2"]


def test_a_row_that_waits_for_another_is_good_once_that_one_is_mended():
    units = raw_table("units", {**UNIT, "shaft_diameter_mm": "8O"})
    walkdowns = raw_table("walkdowns", WALKDOWN)
    tables = {"units": units, "walkdowns": walkdowns}
    assert set(check_fleet(tables, TODAY).faults["table"]) >= {"units", "walkdowns"}
    mended = with_mends(tables, {"units": {(2, 0): {"shaft_diameter_mm": "80"}}})
    assert check_fleet(mended, TODAY).faults.empty


def test_mends_of_rows_that_are_not_there_and_of_unknown_headings_change_nothing():
    units = raw_table("units", UNIT)
    same = with_mends(
        {"units": units}, {"units": {(99, 0): {"site": "X"}, (2, 0): {"no such heading": "X"}}}
    )["units"]
    assert same.headings == units.headings
    assert [c.to_pylist() for c in same.cells] == [c.to_pylist() for c in units.cells]
