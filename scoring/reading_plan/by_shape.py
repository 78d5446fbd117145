"""Columns that are told by their unit where their headings tell nothing."""

from collections.abc import Mapping

from scoring.reading_plan.assign_columns import Assigned
from scoring.reading_plan.heading_matches import Target
from scoring.reading_plan.profile import MOSTLY, Profile

SCORE = 90.0
"""How well such a column is said to fit. [%]"""

BY_UNIT = {
    "rpm": ("units", "output_speed_rpm"),
    "kW": ("units", "motor_power_kw"),
    "hp": ("units", "motor_power_kw"),
    "PS": ("units", "motor_power_kw"),
    "kg": ("units", "unit_mass_kg"),
    "lb": ("units", "unit_mass_kg"),
    "h/day": ("units", "duty_h_per_day"),
    "mm/s": ("walkdowns", "vibration_mm_s"),
    "°C": ("walkdowns", "running_temperature_c"),
    "°F": ("walkdowns", "running_temperature_c"),
    "deg": ("walkdowns", "arm_angle_deg"),
}
"""Units in which one column of a table is given and no other."""


def with_those_of_shape(
    chosen: Mapping[str, Assigned],
    profiles: Mapping[str, Profile],
    units: Mapping[str, str],
    fed: tuple[str, ...],
) -> dict[str, Assigned]:
    """Add columns that only their unit tells of.

    Parameters
    ----------
    chosen : mapping of str to Assigned
        What headings are taken for.
    profiles : mapping of str to Profile
        What their cells look like.
    units : mapping of str to str
        Units that headings say.
    fed : tuple of str
        Tables that are fed.

    Examples
    --------
    >>> import pyarrow as pa
    >>> from scoring.reading_plan.grid import Distinct
    >>> seen = {"n ab": Profile.of(Distinct.of(pa.array(["23", "31.5"])))}
    >>> with_those_of_shape({}, seen, {"n ab": "rpm"}, ("units",))["n ab"].target.column
    'output_speed_rpm'
    """
    found = dict(chosen)
    for heading, unit in units.items():
        table, name = BY_UNIT.get(unit, ("", ""))
        numbers = heading in profiles and profiles[heading].numbers >= MOSTLY
        if table in fed and heading not in found and numbers and not _taken(found, table, name):
            because = f"of ours only {name} is in {unit}"
            found[heading] = Assigned(Target(name), (table,), SCORE, because)
    return found


def _taken(chosen: Mapping[str, Assigned], table: str, name: str) -> bool:
    return any(one.target.column == name and table in one.tables for one in chosen.values())
