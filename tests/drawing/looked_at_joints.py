"""Units of every mounting, seen good, seen bad, and not seen at all."""

from looked_at_units import Unit

from scoring.contract import CHECKS, Worse
from scoring.contract.mountings import EVERY_MOUNTING, TAPERED_BUSHING

GOOD, BAD, UNKNOWN = "good", "bad", "unknown"
PLATE = {"required_engagement_mm": 176, "screw_torque_nm": 100, "shaft_tolerance": "h8"}
GOOD_AND_BAD = {
    "engagement_mm": (180, 110),
    "shaft_diameter_measured_mm": (79.98, 79.5),
    "shaft_runout_mm": (0.05, 0.6),
    "torque_passes": (3, 1),
    "final_torque_nm": (100, 60),
    "screws_low": (0, 3),
    "screws_missing": (0, 1),
    "collar_gap_mm": (1.5, 4),
    "disc_offset_mm": (0.5, 12),
    "isolators_free": (1, 0),
    "isolator_squeeze_mm": (0.5, 12),
    "smallest_clearance_mm": (20, 0),
    "arm_misset_mm": (0.1, 9),
    "arm_angle_deg": (90, 20),
    "running_temperature_c": (45, 105),
    "vibration_mm_s": (1.2, 9),
}


def look(mounting, state):
    if state == UNKNOWN:
        return {}
    found = {}
    for check in CHECKS:
        if mounting not in check.mountings:
            continue
        words = check.allowed
        if check.worse is Worse.BY_MOUNTING:
            right = "star" if mounting == TAPERED_BUSHING else "circular"
            words = (right, "no_order")
        good, bad = GOOD_AND_BAD.get(check.name) or (words[0], words[-1])
        found[check.name] = good if state == GOOD else bad
    return found


def unit(mounting, state, checks=(), **plate):
    given = PLATE if state != UNKNOWN else {}
    return Unit({"mounting": mounting, **given, **plate}, look(mounting, state) | dict(checks))


STATES = [(mounting, state) for mounting in EVERY_MOUNTING for state in (GOOD, BAD, UNKNOWN)]
