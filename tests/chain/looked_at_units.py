"""Many units in one fleet, each told by its nameplate and what one look found."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import NamedTuple

import numpy as np
import pandas as pd

from scoring.assessment import Assessment, FleetAssessor
from scoring.contract import CHECKS
from scoring.intake import RawTable, check_fleet

AS_OF = pd.Timestamp("2026-06-30")
Cells = Mapping[str, object]
NOTHING: Cells = MappingProxyType({})


class Unit(NamedTuple):
    """A nameplate, what the one look found, and what was done after it."""

    plate: Cells
    checks: Cells = NOTHING
    actions: str = ""


def assess_units(units: Sequence[Unit], horizon_days: int = 365) -> Assessment:
    """Assess units, kept in the order given; a fault in the records fails the test."""
    names = [f"U{n:04d}" for n in range(len(units))]
    usual = {"site": "quarry", "installed_on": "2025-10-01", "mounting": "shrink_disc"}
    tables = {
        "units": [
            {
                "unit_id": n,
                **usual,
                **usual_shaft(unit.plate),
                **with_what_is_looked_at(unit.checks),
                **unit.plate,
            }
            for n, unit in zip(names, units, strict=True)
        ],
        "walkdowns": [
            {"walkdown_id": n, "unit_id": n, "inspected_on": "2025-11-01", "kind": "after_start"}
            | dict(unit.checks)
            for n, unit in zip(names, units, strict=True)
        ],
        "rework": [
            {"rework_id": n, "unit_id": n, "done_on": "2025-12-01", "actions": unit.actions}
            for n, unit in zip(names, units, strict=True)
            if unit.actions
        ],
    }
    raw = {name: as_table(name, rows) for name, rows in tables.items() if rows}
    checked = check_fleet(raw, AS_OF)
    assert checked.faults.empty, checked.faults.to_string()
    return FleetAssessor(checked.fleet).assess(AS_OF, horizon_days)


def with_what_is_looked_at(checks: Cells) -> Cells:
    """Say that a unit has what only some have, where a look at it is told."""
    return {
        name: "yes"
        for check, name in ((check.name, check.only_where) for check in CHECKS)
        if name and check in checks
    }


def usual_shaft(plate: Cells) -> Cells:
    return NOTHING if "shaft_diameter_in" in plate else {"shaft_diameter_mm": 80}


def as_table(name: str, rows: Sequence[Cells]) -> RawTable:
    headings = list(dict.fromkeys(key for row in rows for key in row))
    cells = [[as_cell(row.get(heading, "")) for heading in headings] for row in rows]
    return RawTable.from_rows(name, f"{name}.csv", headings, cells)


def as_cell(value: object) -> str:
    """Write a number so that it is read back as the same, never with an exponent."""
    return np.format_float_positional(value) if isinstance(value, float) else str(value)


def chance(assessment: Assessment, mode: str) -> np.ndarray:
    return assessment.risk.modes[mode].probability
