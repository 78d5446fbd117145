import math

import pytest
from given_tables import UNIT, WALKDOWN, fault_of, faults_of_cells, good

from scoring.contract import FLEET_TABLES, TABLE_BY_NAME, Column, Kind

COMMA = "has a comma; write a decimal point, and no mark between thousands"
BESIDE = "has something beside the number; write the number alone, the heading has its unit"


def test_a_decimal_number_is_read() -> None:
    texts = ["12", "+5", "5.", ".5", "1E3", "2.5e-1", "007"]
    rows = [{**UNIT, "unit_id": f"U-{t}", "unit_mass_kg": t} for t in texts]
    masses = good(units=rows).fleet.units["unit_mass_kg"]
    assert masses.tolist() == [12, 5, 5, 0.5, 1000, 0.25, 7]


NO_NUMBERS = [
    ("1,5", COMMA),
    ("1,200", COMMA),
    ("1.200,5", COMMA),
    ("1 200", "has a mark between thousands; write the digits without it"),
    ("1'200", "has a mark between thousands; write the digits without it"),
    ("1\u202f200.5", "has a mark between thousands; write the digits without it"),
    ("12 kg", BESIDE),
    ("12kg", BESIDE),
    ("12 %", BESIDE),
    ("about 12", "is not a number"),
    ("12-14", "is not a number"),
    ("1e400", "is too large for a number"),
    ("1e9999", "is too large for a number"),
    ("inf", "is not a number"),
    ("-Infinity", "is not a number"),
    ("0x10", BESIDE),
    ("1_000", BESIDE),
    ("١٢", "is not a number"),
    ("１２", "is not a number"),
    ("½", "is not a number"),
    (
        "2 15/16",
        "is a fraction; fractions are read only under a heading that ends in _in",
    ),
    ("2026-03-31", "is not a number"),
    ("TRUE", "is not a number"),
]


def test_a_text_that_is_no_plain_number_says_why() -> None:
    faults = faults_of_cells("units", [("unit_mass_kg", text) for text, _ in NO_NUMBERS])
    assert list(zip(faults["value"], faults["wrong"], strict=True)) == NO_NUMBERS
    assert set(faults["right"]) == {"a number from 0.1 to 200000 kg"}
    assert set(faults["column"]) == {"unit_mass_kg"}
    assert faults["row"].tolist() == list(range(2, len(NO_NUMBERS) + 2))


def test_minus_nought_is_nought() -> None:
    read = good(walkdowns={**WALKDOWN, "arm_misset_mm": "-0"}).fleet.walkdowns
    assert read.loc[0, "arm_misset_mm"] == 0
    assert fault_of("units", unit_mass_kg="-0")["wrong"] == "kg is outside what is allowed"


def _outside(column: Column) -> list[str]:
    """Return texts just outside each limit of a number."""
    texts = ["1.5"] if column.kind is Kind.COUNT else []
    if column.above is not None:
        texts.append(f"{column.above:g}")
    if column.minimum is not None:
        texts.append(repr(math.nextafter(column.minimum, -math.inf)))
    if column.maximum is not None:
        texts.append(repr(math.nextafter(column.maximum, math.inf)))
    return texts


@pytest.mark.parametrize("table", [table.name for table in FLEET_TABLES])
def test_every_number_outside_its_limits_is_told_with_unit_and_limits(table: str) -> None:
    cases = [
        (c, text) for c in TABLE_BY_NAME[table].columns if c.is_numeric for text in _outside(c)
    ]
    faults = faults_of_cells(table, [(column.name, text) for column, text in cases])
    reported = faults[["column", "value", "wrong", "right"]].itertuples(index=False, name=None)
    for (column, text), fault in zip(cases, reported, strict=True):
        wrong = f"{column.unit} is outside what is allowed".strip()
        assert fault == (column.name, text, wrong, column.allowed_words)


@pytest.mark.parametrize("table", [table.name for table in FLEET_TABLES])
def test_every_closed_limit_is_itself_allowed(table: str) -> None:
    cells = [
        (column.name, f"{limit:g}")
        for column in TABLE_BY_NAME[table].columns
        if column.is_numeric
        for limit in (column.minimum, column.maximum)
        if limit is not None
    ]
    faults = faults_of_cells(table, cells)
    assert not faults["wrong"].str.contains("outside").any()
