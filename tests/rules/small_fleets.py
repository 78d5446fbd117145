"""Small fleets for tests, written as dictionaries and checked like any other."""

from collections.abc import Mapping, Sequence

import pandas as pd

from scoring.assessment import Assessment, FleetAssessor
from scoring.intake import RawTable, check_fleet
from scoring.records import Fleet

TODAY = pd.Timestamp("2026-06-30")
Row = Mapping[str, object]

UNIT = {
    "unit_id": "U1",
    "site": "quarry",
    "installed_on": "2026-01-10",
    "mounting": "shrink_disc",
    "shaft_diameter_mm": 80,
}
WALKDOWN = {
    "walkdown_id": "W1",
    "unit_id": "U1",
    "inspected_on": "2026-01-11",
    "kind": "post_install",
}


def fleet_of(**tables: Sequence[Row]) -> Fleet:
    """Check a fleet given as rows; a fault in it fails the test."""
    raw = {name: _raw(name, rows) for name, rows in tables.items()}
    checked = check_fleet(raw, TODAY)
    assert checked.faults.empty, checked.faults.to_string()
    return checked.fleet


def _raw(name: str, rows: Sequence[Row]) -> RawTable:
    headings = list(dict.fromkeys(key for row in rows for key in row))
    cells = [[str(row.get(heading, "")) for heading in headings] for row in rows]
    return RawTable.from_rows(name, f"{name}.csv", headings, cells)


def one_unit(unit: Row | None = None, **checks: object) -> Assessment:
    """Assess one unit that was seen once."""
    fleet = fleet_of(units=[{**UNIT, **(unit or {})}], walkdowns=[{**WALKDOWN, **checks}])
    return FleetAssessor(fleet).assess(TODAY)


def rules_of(assessment: Assessment) -> list[str]:
    """Return the names of the rules that found something."""
    return assessment.findings.table["rule"].tolist()


def verdict_of(assessment: Assessment) -> str:
    """Return the verdict on the one unit."""
    return str(assessment.ranking["verdict"].iloc[0])
