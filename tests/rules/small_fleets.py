"""Small fleets for tests, written as dictionaries and checked like any other."""

from collections.abc import Mapping, Sequence

import pandas as pd

from scoring.assessment import Assessment, FleetAssessor
from scoring.intake import RawTable, check_fleet
from scoring.records import Fleet
from scoring.rules import JudgedUnits

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


def fleet_of_one(unit: Row | None, checks: Row) -> Fleet:
    """Return one unit that was seen once."""
    return fleet_of(units=[{**UNIT, **(unit or {})}], walkdowns=[{**WALKDOWN, **checks}])


def judged(unit: Row | None = None, **checks: object) -> JudgedUnits:
    """Judge one unit that was seen once, by the rules alone."""
    return FleetAssessor(fleet_of_one(unit, checks)).judge(TODAY)


def ranked(unit: Row | None = None, **checks: object) -> Assessment:
    """Assess one unit that was seen once, where its row in the ranking is looked at."""
    return FleetAssessor(fleet_of_one(unit, checks)).assess(TODAY)


def rules_of(judgement: JudgedUnits) -> list[str]:
    """Return the names of the rules that found something."""
    return judgement.findings.table["rule"].tolist()


def verdict_of(judgement: JudgedUnits) -> str:
    """Return the verdict on the one unit."""
    return str(judgement.verdicts.verdict[0])
