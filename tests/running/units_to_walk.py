"""A small fleet for the form: each mounting once with a full record and once with the least."""

from functools import cache

import pandas as pd

from scoring.assessment import Assessment, FleetAssessor
from scoring.contract import FLEET_TABLES
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.intake import RawTable, check_fleet
from scoring.records import Fleet

AS_OF = pd.Timestamp("2026-06-30")
HUNG_ON = "2026-01-10"
SEEN_ON = "2026-01-11"
LEAST = {"site": "North pit", "installed_on": HUNG_ON, "shaft_diameter_mm": "80"}
FULL = LEAST | {
    "line": "L1",
    "driven_equipment": "belt 7",
    "shaft_tolerance": "h9",
    "required_engagement_mm": "150",
    "isolator_thickness_mm": "30",
    "screw_thread": "M12",
    "screw_count": "8",
    "screw_torque_nm": "120",
    "torque_passes_required": "4",
    "collar_gap_min_mm": "2",
    "collar_gap_max_mm": "4",
    "ambient_c": "20",
    "backstop": "yes",
}
HOSTILE = '</script><img src=x onerror="alert(1)"><!-- & é \u2028'


def raw(name: str, rows: list[dict[str, str]]) -> RawTable:
    """Return a table of text cells."""
    headings = list(dict.fromkeys(heading for row in rows for heading in row))
    cells = [[row.get(heading, "") for heading in headings] for row in rows]
    return RawTable.from_rows(name, f"{name}.csv", headings, cells)


def fleet_of(units: list[dict[str, str]], walkdowns: list[dict[str, str]] | None = None) -> Fleet:
    """Return a checked fleet in which no fault is expected."""
    seen = walkdowns or [visit(units[0]["unit_id"])]
    needed = {"units": raw("units", units), "walkdowns": raw("walkdowns", seen)}
    assert {table.name for table in FLEET_TABLES if table.needed} == set(needed)
    checked = check_fleet(needed, AS_OF)
    assert checked.faults.empty, checked.faults.to_string()
    return checked.fleet


def visit(unit_id: str, number: int = 0, **seen: str) -> dict[str, str]:
    """Return one walkdown."""
    return {
        "walkdown_id": f"W-{unit_id}-{number}",
        "unit_id": unit_id,
        "inspected_on": SEEN_ON,
        "kind": "post_install",
        **seen,
    }


def rows_of_units() -> list[dict[str, str]]:
    """Return each mounting, with a full record and with the least."""
    return [
        {"unit_id": f"{name} {mounting}", "mounting": mounting, **_without_parts(record, mounting)}
        for name, record in (("full", FULL), ("least", LEAST))
        for mounting in EVERY_MOUNTING
    ]


def _without_parts(record: dict[str, str], mounting: str) -> dict[str, str]:
    """Leave out what a keyed bore has no place for."""
    if mounting != "keyed_bore":
        return record
    return {name: cell for name, cell in record.items() if not name.startswith("screw")}


@cache
def fleet() -> Fleet:
    """Return the units of ``rows_of_units``."""
    return fleet_of(rows_of_units())


def found_at(unit: dict[str, str], looks: list[dict[str, str]]) -> Assessment:
    """Assess one kind of unit, once for each of some looks, each at a unit of its own."""
    units = [unit | {"unit_id": f"U-{n}"} for n in range(len(looks))]
    seen = [visit(f"U-{n}", **{"kind": "after_start", **look}) for n, look in enumerate(looks)]
    return FleetAssessor(fleet_of(units, seen)).assess(AS_OF)
