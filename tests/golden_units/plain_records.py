"""Read the kept records as a person would, and say what of them must stand on a calculation sheet.

Knows nothing of the program: reads CSV, and compares with the inputs that `recomputed_sheet` read.
"""

import csv
from pathlib import Path

COLUMNS = {
    "shaft diameter": "shaft_diameter_mm",
    "arm length": "arm_length_mm",
    "bearing span": "bearing_span_mm",
    "arm beside the nearer bearing": "arm_offset_mm",
    "distance to the shaft's bearing": "shaft_support_distance_mm",
    "clamp length": "clamp_length_mm",
    "mass": "unit_mass_kg",
    "running torque": "output_torque_nm",
    "peak over running torque": "peak_factor",
    "joint's rated torque": "joint_rated_torque_nm",
    "rated torque": "joint_rated_torque_nm",
    "dynamic rating": "bearing_dynamic_rating_n",
    "speed": "output_speed_rpm",
    "isolator hardness": "isolator_hardness_shore_a",
    "cost of standstill": "downtime_cost_per_h",
}
"""Column of the units by the name of the input, wherever that stands."""

COLUMNS_OF_COSTS = {
    "cost of a low-speed-bearing failure": "bearing_repair",
    "cost of a seal leak": "leak_repair",
    "cost of a joint slip": "slip_repair",
}
"""What columns of repair begin with, by the number whose inputs they are."""

NOT_A_NAMEPLATE = {"what was learned of the nameplate"}
"""Numbers whose inputs have names of the nameplate, and are what it multiplies the rate by."""


def units(folder: Path) -> dict[str, dict[str, str]]:
    """Return the row of each unit."""
    with (folder / "units.csv").open(encoding="utf-8", newline="") as file:
        return {row["unit_id"]: row for row in csv.DictReader(file)}


def cell_behind(unit: dict[str, str], number: str, name: str) -> float | None:
    """Return what the records say of an input of a number; None where they say nothing."""
    column = COLUMNS.get(name)
    if number in COLUMNS_OF_COSTS and name in {"repair", "hours of standstill"}:
        end = "_cost" if name == "repair" else "_h"
        column = COLUMNS_OF_COSTS[number] + end
    if column is None or number in NOT_A_NAMEPLATE or not unit.get(column):
        return None
    return float(unit[column])
