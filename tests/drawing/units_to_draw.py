"""Units to be drawn: all good, all bad, nothing known, one thing bad at a time."""

from looked_at_units import Unit

from scoring.contract import CHECKS, Check, Kind
from scoring.contract.mountings import EVERY_MOUNTING, TAPERED_BUSHING

PLATE = {
    "shaft_diameter_mm": 80,
    "shaft_low_mm": 79.97,
    "shaft_high_mm": 80.0,
    "required_engagement_mm": 100,
    "output_torque_nm": 1500,
    "peak_factor": 1.5,
    "screw_thread": "M12",
    "screw_count": 8,
    "screw_torque_nm": 90,
    "collar_gap_min_mm": 1,
    "collar_gap_max_mm": 3,
}
GOOD = {
    "engagement_mm": 120,
    "shaft_diameter_measured_mm": 79.99,
    "shaft_runout_mm": 0.02,
    "torque_passes": 3,
    "final_torque_nm": 90,
    "screws_low": 0,
    "screws_missing": 0,
    "collar_gap_mm": 2,
    "disc_offset_mm": 0,
    "isolators_free": 1,
    "isolator_squeeze_mm": 0.5,
    "smallest_clearance_mm": 25,
    "arm_misset_mm": 0,
    "arm_angle_deg": 90,
    "running_temperature_c": 45,
    "vibration_mm_s": 1,
}
BAD = {
    "engagement_mm": (70, 10),
    "shaft_diameter_measured_mm": (79.9, 80.05),
    "shaft_runout_mm": (0.6, 2),
    "torque_passes": (1, 0),
    "final_torque_nm": (20, 150),
    "screws_low": (1, 8),
    "screws_missing": (1, 8),
    "collar_gap_mm": (0, 6),
    "disc_offset_mm": (5, 60),
    "isolators_free": (0,),
    "isolator_squeeze_mm": (10, 40),
    "smallest_clearance_mm": (1, 0),
    "arm_misset_mm": (3, 20),
    "arm_angle_deg": (70, 5),
    "running_temperature_c": (105, 140),
    "vibration_mm_s": (8, 15),
}


def checks_of(mounting: str) -> list[Check]:
    return [check for check in CHECKS if mounting in check.mountings]


def good_value(check: Check, mounting: str) -> object:
    if check.name == "tightening_order":
        return "star" if mounting == TAPERED_BUSHING else "circular"
    return check.allowed[0] if check.kind is Kind.CHOICE else GOOD[check.name]


def bad_values(check: Check) -> tuple[object, ...]:
    return check.allowed[1:] if check.kind is Kind.CHOICE else BAD[check.name]


def all_good(mounting: str) -> Unit:
    found = {check.name: good_value(check, mounting) for check in checks_of(mounting)}
    return Unit({**PLATE, "mounting": mounting}, found)


def all_bad(mounting: str) -> Unit:
    found = {check.name: bad_values(check)[-1] for check in checks_of(mounting)}
    return Unit({**PLATE, "mounting": mounting}, found)


def nothing_known(mounting: str) -> Unit:
    return Unit({"mounting": mounting})


def one_bad(mounting: str) -> list[Unit]:
    """Return a unit for each bad value, all else being good; and one with it alone seen."""
    good = all_good(mounting)
    return [
        Unit(plate, {k: v for k, v in rest.items() if k != check.part_of} | {check.name: value})
        for check in checks_of(mounting)
        for value in bad_values(check)
        for plate, rest in ((good.plate, good.checks), ({"mounting": mounting}, {}))
    ]


def every_unit() -> list[Unit]:
    return [
        unit
        for mounting in EVERY_MOUNTING
        for unit in (
            all_good(mounting),
            all_bad(mounting),
            nothing_known(mounting),
            *one_bad(mounting),
        )
    ]
