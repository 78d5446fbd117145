"""The same records have the same fingerprint in whatever file and order; others another."""

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest
from damaged_folders import DEMO, assessor_of
from written_fleets import check_place

from scoring.contract import FLEET_TABLES, TABLE_BY_NAME, Kind
from scoring.files.read_fleet import read_fleet
from scoring.learning.fleet_fingerprint import fleet_fingerprint


@pytest.fixture(scope="module")
def texts():
    """Return the demo plant's tables as text."""
    tables = read_fleet(DEMO).tables
    return {
        name: pd.DataFrame(
            {heading: table.column(heading) for heading in table.headings}, dtype="str"
        )
        for name, table in tables.items()
    }


@pytest.fixture(scope="module")
def ours():
    return fleet_fingerprint(assessor_of(DEMO).fleet)


def shuffled(table, seed):
    """Return the same rows and columns in another order."""
    chance = np.random.default_rng(seed)
    return table.iloc[chance.permutation(len(table)), chance.permutation(table.shape[1])]


def write(folder, texts, kind):
    if kind == ".xlsx":
        place = folder / "fleet.xlsx"
        with pd.ExcelWriter(place) as book:
            for name, table in texts.items():
                table.replace("", None).to_excel(book, sheet_name=name, index=False)
        return place
    for name, table in texts.items():
        if kind == ".csv":
            table.to_csv(folder / f"{name}.csv", index=False)
        else:
            table.to_parquet(folder / f"{name}.parquet", index=False)
    return folder


@pytest.mark.parametrize("kind", [".csv", ".parquet", ".xlsx"])
@pytest.mark.parametrize("seed", [1, 2])
def test_neither_order_nor_kind_of_file_matters(tmp_path, texts, ours, kind, seed):
    mixed = {name: shuffled(table, seed) for name, table in texts.items()}
    checked = check_place(write(tmp_path, mixed, kind))
    assert checked.faults.empty
    assert fleet_fingerprint(checked.fleet) == ours


def test_the_row_in_the_source_and_a_minus_nought_do_not_matter(ours):
    fleet = assessor_of(DEMO).fleet
    moved = replace(
        fleet, **{t.name: fleet.table(t.name).assign(row=7).iloc[::-1] for t in FLEET_TABLES}
    )
    numbers = moved.units.select_dtypes("float64").columns
    moved.units[numbers] = moved.units[numbers].mask(moved.units[numbers] == 0, -0.0)
    assert fleet_fingerprint(moved) == ours


def test_typed_columns_of_parquet_do_not_matter(tmp_path, texts, ours):
    for name, table in texts.items():
        typed = table.replace("", None)
        for column in TABLE_BY_NAME[name].columns:
            if column.name in typed and column.is_numeric:
                typed[column.name] = typed[column.name].astype("float64")
            elif column.name in typed and column.kind is Kind.CHOICE:
                typed[column.name] = typed[column.name].astype("category")
        typed.to_parquet(tmp_path / f"{name}.parquet", index=False)
    assert fleet_fingerprint(check_place(tmp_path).fleet) == ours


@pytest.mark.parametrize("table", [table.name for table in FLEET_TABLES])
def test_one_row_more_or_less_matters(table, ours):
    fleet = assessor_of(DEMO).fleet
    assert len(fleet.table(table)) > 0
    fewer = replace(fleet, **{table: fleet.table(table).iloc[1:]})
    assert fleet_fingerprint(fewer) != ours


@pytest.mark.parametrize(
    ("table", "column", "value"),
    [
        ("units", "unit_mass_kg", 1.0),
        ("units", "site", "elsewhere"),
        ("units", "installer", np.nan),
        ("walkdowns", "inspected_on", pd.Timestamp("2026-01-01")),
        ("walkdowns", "isolators_free", 2.0),
        ("walkdowns", "breather", "plugged"),
        ("events", "mode", "other"),
        ("rework", "actions", "renew_seal"),
        ("accepted", "reason", "another"),
    ],
)
def test_one_value_that_differs_matters(ours, table, column, value):
    fleet = assessor_of(DEMO).fleet
    frame = fleet.table(table).copy()
    places = np.flatnonzero((frame[column] != value).to_numpy(dtype=bool, na_value=True))
    if isinstance(value, float) and np.isnan(value):
        places = np.flatnonzero(frame[column].notna())
    frame.loc[frame.index[places[0]], column] = value
    assert fleet_fingerprint(replace(fleet, **{table: frame})) != ours


def test_texts_never_run_together(ours):
    fleet = assessor_of(DEMO).fleet
    notes = fleet.units.assign(line="a", driven_equipment="bc")
    other = fleet.units.assign(line="ab", driven_equipment="c")
    prints = {fleet_fingerprint(replace(fleet, units=units)) for units in (notes, other)}
    assert len(prints | {ours}) == 3
