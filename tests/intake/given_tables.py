"""Tables of text cells for tests, as a file's reader would hand them over."""

from collections.abc import Mapping, Sequence

import pandas as pd

from scoring.contract import TABLE_BY_NAME
from scoring.intake import CheckedFleet, RawTable, check_fleet

TODAY = pd.Timestamp("2026-06-30 10:00")
Row = Mapping[str, object]
Given = Row | Sequence[Row] | RawTable

UNIT: Row = {
    "unit_id": "U-1",
    "site": "North pit",
    "installed_on": "2024-01-10",
    "mounting": "shrink_disc",
    "shaft_diameter_mm": "80",
}
WALKDOWN: Row = {
    "walkdown_id": "W-1",
    "unit_id": "U-1",
    "inspected_on": "2024-01-11",
    "kind": "post_install",
}
EVENT: Row = {
    "event_id": "E-1",
    "unit_id": "U-1",
    "occurred_on": "2025-02-01",
    "mode": "seal_leak",
}
REWORK: Row = {
    "rework_id": "R-1",
    "unit_id": "U-1",
    "done_on": "2025-02-02",
    "actions": "renew_seal",
}
ACCEPTED: Row = {
    "accepted_id": "A-1",
    "unit_id": "U-1",
    "check": "breather",
    "accepted_by": "an engineer",
    "reason": "part on order",
    "accepted_on": "2025-02-02",
    "until_on": "2027-02-02",
}
GOOD: dict[str, Row] = {
    "units": UNIT,
    "walkdowns": WALKDOWN,
    "events": EVENT,
    "rework": REWORK,
    "accepted": ACCEPTED,
}


def raw_table(name: str, rows: Row | Sequence[Row], source: str = "") -> RawTable:
    """Build a table of text cells from one row or several."""
    many = [rows] if isinstance(rows, Mapping) else rows
    headings = list(dict.fromkeys(key for row in many or [GOOD[name]] for key in row))
    cells = [[str(row.get(heading, "")) for heading in headings] for row in many]
    return RawTable.from_rows(name, source or f"{name}.csv", headings, cells)


def check(mapping: Mapping[str, Mapping[str, str]] | None = None, **tables: Given) -> CheckedFleet:
    """Check a fleet; a good unit, and one good walkdown of it, where no units are given."""
    given = {"units": UNIT, "walkdowns": [] if "units" in tables else WALKDOWN, **tables}
    raw = {
        name: rows if isinstance(rows, RawTable) else raw_table(name, rows)
        for name, rows in given.items()
    }
    return check_fleet(raw, TODAY, mapping)


def good(**tables: Given) -> CheckedFleet:
    """Check a fleet in which no fault is expected."""
    checked = check(**tables)
    assert checked.faults.empty, checked.faults.to_string()
    return checked


def only_fault(checked: CheckedFleet) -> dict[str, object]:
    """Return the one fault there is."""
    assert len(checked.faults) == 1, checked.faults.to_string()
    return checked.faults.iloc[0].to_dict()


def fault_of(table: str, **changed: object) -> dict[str, object]:
    """Return the one fault of a good row in which some cells were changed."""
    return only_fault(check(**{table: {**GOOD[table], **changed}}))


def faults_of_cells(table: str, cells: Sequence[tuple[str, str]]) -> pd.DataFrame:
    """Return the faults of good rows in each of which one cell was changed.

    Rows 2 and on stand for the cells in their order; a fault elsewhere fails the test.
    """
    key = TABLE_BY_NAME[table].key
    blank = {column: "" for column, _ in cells}
    rows = [
        {**blank, **GOOD[table], key: f"K-{place}", column: text}
        for place, (column, text) in enumerate(cells)
    ]
    faults = check(**{table: rows}).faults
    assert (faults["table"] == table).all()
    return faults
