"""Nameplates and looks drawn at random, and every check from good to worse."""

from typing import Any, NamedTuple

from hypothesis import strategies as st

from scoring.contract import CHECKS, Check, Kind, Worse
from scoring.contract.mountings import TAPERED_BUSHING
from scoring.contract.units import SHAFT_TOLERANCES

Draw = Any
LARGEST = {
    "engagement_mm": 300,
    "shaft_runout_mm": 2,
    "final_torque_nm": 400,
    "screws_low": 20,
    "screws_missing": 20,
    "collar_gap_mm": 6,
    "disc_offset_mm": 120,
    "isolator_squeeze_mm": 40,
    "smallest_clearance_mm": 12,
    "arm_misset_mm": 20,
    "running_temperature_c": 130,
    "vibration_mm_s": 15,
}
"""Up to where measured values are drawn; others go as far as they are allowed."""


def between(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high).map(lambda value: round(value, 3))


SCREWS = st.sampled_from(["M8", "M10", "M12x1.25", "3/8-16", "M11", "1 1/8-7"])
OPTIONAL_CELLS = {
    "required_engagement_mm": between(20, 250),
    "shaft_tolerance": st.sampled_from(SHAFT_TOLERANCES),
    "output_torque_nm": between(50, 20_000),
    "peak_factor": between(1, 5),
    "output_speed_rpm": between(5, 200),
    "motor_power_kw": between(0.5, 200),
    "duty_h_per_day": between(1, 24),
    "joint_rated_torque_nm": between(100, 60_000),
    "unit_mass_kg": between(20, 2000),
    "arm_length_mm": between(150, 2000),
    "bearing_span_mm": between(60, 500),
    "arm_offset_mm": between(10, 300),
    "shaft_support_distance_mm": between(50, 900),
    "clamp_length_mm": between(15, 120),
    "bearing_kind": st.sampled_from(["ball", "roller"]),
    "bearing_dynamic_rating_n": between(10_000, 900_000),
    "isolator_outer_mm": between(41, 150),
    "isolator_inner_mm": between(5, 40),
    "isolator_thickness_mm": between(8, 70),
    "isolator_hardness_shore_a": between(15, 95),
    "screw_thread": SCREWS,
    "screw_count": st.integers(1, 70),
    "backstop": st.sampled_from(["yes", "no"]),
    "screw_torque_nm": between(5, 300),
    "torque_passes_required": st.integers(1, 9),
    "seal_material": st.sampled_from(["nbr", "hnbr", "fkm"]),
    "environment": st.sampled_from(["dry_indoor", "dusty", "washdown", "outdoor"]),
    "ambient_c": between(-30, 50),
    "bearing_repair_cost": between(0, 9000),
    "downtime_cost_per_h": between(0, 900),
}


@st.composite
def nameplates(draw: Draw, mounting: str) -> dict[str, object]:
    """Draw a nameplate of which any part may be blank."""
    shaft = draw(between(25, 220))
    plate: dict[str, object] = {"mounting": mounting, "shaft_diameter_mm": shaft}
    plate |= draw(st.fixed_dictionaries({}, optional=OPTIONAL_CELLS))
    if draw(st.booleans()):
        plate["hub_outer_mm"] = round(shaft * draw(st.floats(1.02, 2)), 3)
    if draw(st.booleans()):
        low = draw(st.floats(-0.3, 0.02))
        plate["shaft_low_mm"] = round(shaft + low, 3)
        plate["shaft_high_mm"] = round(shaft + low + draw(st.floats(0.01, 0.2)), 3)
        plate.pop("shaft_tolerance", None)
    if draw(st.booleans()):
        plate["collar_gap_min_mm"], plate["collar_gap_max_mm"] = 0.5, draw(between(0.5, 4))
    return plate


def checks_of(mounting: str) -> list[Check]:
    return [check for check in CHECKS if mounting in check.mountings]


@st.composite
def looks(draw: Draw, mounting: str, shaft: float) -> dict[str, object]:
    """Draw what a look found; any check may not have been seen."""
    values = {check.name: value_of(check, shaft) for check in checks_of(mounting)}
    return draw(st.fixed_dictionaries({}, optional=values))


def value_of(check: Check, shaft: float) -> st.SearchStrategy[object]:
    if check.kind is Kind.CHOICE:
        return st.sampled_from(check.allowed)
    if check.name == "shaft_diameter_measured_mm":
        return between(shaft - 0.5, shaft + 0.2)
    low = 15 if check.name == "running_temperature_c" else 0
    high = LARGEST.get(check.name, check.maximum)
    return st.integers(low, high) if check.kind is Kind.COUNT else between(low, high)


def possible(plate: dict[str, Any], found: dict[str, Any]) -> dict[str, Any]:
    """Leave out what the unit has not, and count no more screws than there are."""
    there = dict(found)
    if plate.get("backstop") != "yes":
        there.pop("backstop_direction", None)
    most = plate.get("screw_count", 20)
    for count in ("screws_low", "screws_missing"):
        if count in there:
            most = there[count] = min(there[count], most)
    return there


class Ladder(NamedTuple):
    """A check and values of it, each at least as bad as the one before."""

    check: str
    values: tuple[object, ...]


@st.composite
def ladders(draw: Draw, plate: dict[str, object]) -> list[Ladder]:
    """Draw for every check of a mounting values from better to worse; two ways where both are."""
    found = []
    for check in checks_of(str(plate["mounting"])):
        ways = worsening(draw, check, plate)
        found += [Ladder(check.name, tuple(values)) for values in ways]
    return found


def worsening(draw: Draw, check: Check, plate: dict[str, object]) -> list[list[Any]]:
    if check.worse is Worse.LATER_IN_LIST:
        return [list(check.allowed)]
    if check.worse is Worse.BY_MOUNTING:
        right_first = ("star", "circular") if plate["mounting"] == TAPERED_BUSHING else None
        return [[*(right_first or ("circular", "star")), "no_order"]]
    shaft = float(str(plate["shaft_diameter_mm"]))
    if check.worse in (Worse.MORE, Worse.LESS):
        some = draw(st.lists(value_of(check, shaft), min_size=2, max_size=4))
        return [sorted(some, reverse=check.worse is Worse.LESS)]
    low, high = good_range(check.name, plate, shaft)
    below = draw(st.lists(st.floats(0, 1), min_size=2, max_size=3))
    above = draw(st.lists(st.floats(0, 1), min_size=2, max_size=3))
    return [
        [round(low * (1 - 0.9 * step**3), 4) for step in sorted(below)],
        [round(high * (1 + step**3), 4) for step in sorted(above)],
    ]


def good_range(check: str, plate: dict[str, Any], shaft: float) -> tuple[float, float]:
    """Return where a two-sided check starts to get worse, a little inside its range or out."""
    if check == "final_torque_nm":
        stated = plate.get("screw_torque_nm", 60)
        return 0.95 * stated, 1.05 * stated
    if check == "collar_gap_mm":
        return plate.get("collar_gap_min_mm", 1), plate.get("collar_gap_max_mm", 2)
    return plate.get("shaft_low_mm", shaft), plate.get("shaft_high_mm", shaft + 0.1)
