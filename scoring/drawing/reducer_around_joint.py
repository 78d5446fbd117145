"""The reducer around the joint: housing, low-speed bearings, output seals, breather, oil."""

from scoring.drawing.section import Callout, Section
from scoring.drawing.shapes import Point, Role

SEAL_HEIGHT = 0.1
SEAL_WIDTH = 0.15
SHELL = 0.08
"""Planning values of ours, over the shaft's diameter. [-]"""

OIL_LEVELS = {"low": 0.93, "high": 0.1}
USUAL_OIL_LEVEL = 0.55
"""How far below the axis the oil stands, over the housing's radius: a sign, not to scale. [-]"""


def add_reducer(section: Section) -> None:
    """Add the reducer but for its hub."""
    s = section.sizes
    left, right = (_seat(section, middle) for middle in s.bearings)
    _housing(section, left, right)
    _gear(section, left[1], right[0])
    for seat in (left, right):
        _bearing(section, seat)
    seal = section.role("seal_weep", Role.SEAL)
    width = SEAL_WIDTH * s.shaft
    away = (s.hub_radius, s.hub_radius + SEAL_HEIGHT * s.shaft)
    section.ring("seal", seal, (s.housing_left, s.housing_left + width), away)
    section.ring("seal", seal, (s.housing_right - width, s.housing_right), away)
    _breather_and_oil(section, (left[1] + right[0]) / 2)
    _words_and_places(section, left, right)


def _seat(section: Section, middle: float) -> Point:
    half = section.sizes.bearing_width / 2
    return (middle - half, middle + half)


def _housing(section: Section, left: Point, right: Point) -> None:
    s = section.sizes
    bearing = s.hub_radius + s.bearing_height
    lip = s.hub_radius + SEAL_HEIGHT * s.shaft
    shell = s.housing_radius - SHELL * s.shaft
    section.outline(
        "housing",
        Role.HOUSING,
        [
            (s.housing_left, s.housing_radius),
            (s.housing_right, s.housing_radius),
            (s.housing_right, lip),
            (right[1], lip),
            (right[1], bearing),
            (right[0], bearing),
            (right[0], shell),
            (left[1], shell),
            (left[1], bearing),
            (left[0], bearing),
            (left[0], lip),
            (s.housing_left, lip),
        ],
        cut=True,
    )


def _gear(section: Section, begins: float, ends: float) -> None:
    s = section.sizes
    margin = 0.2 * (ends - begins)
    top = s.housing_radius - 2 * SHELL * s.shaft
    section.ring("gear", Role.QUIET, (begins + margin, ends - margin), (s.hub_radius, top))


def _bearing(section: Section, seat: Point) -> None:
    s = section.sizes
    low, high = s.hub_radius, s.hub_radius + s.bearing_height
    section.ring("bearing", Role.BEARING, seat, (low, high))
    for side in (1, -1):
        for ends in ((low, high), (high, low)):
            section.line(
                "bearing", Role.BEARING, (seat[0], side * ends[0]), (seat[1], side * ends[1])
            )


def _breather_and_oil(section: Section, middle: float) -> None:
    s = section.sizes
    size = 0.09 * s.shaft
    top = s.housing_radius
    role = section.role("breather")
    section.one("breather", role, (middle - size, middle + size), (top, top + size))
    section.one(
        "breather", role, (middle - 1.6 * size, middle + 1.6 * size), (top + size, top + 2 * size)
    )
    level = -oil_level(section)
    ends = (s.bearings[0] + s.bearing_width / 2, s.bearings[1] - s.bearing_width / 2)
    section.line(
        "oil_level",
        section.role("oil_level", Role.DIMENSION),
        (ends[0], level),
        (ends[1], level),
    )


def oil_level(section: Section) -> float:
    """Return how far below the axis the oil is drawn [mm]: a sign, not to scale."""
    s = section.sizes
    share = OIL_LEVELS.get(section.found.word("oil_level"), USUAL_OIL_LEVEL)
    most = s.housing_radius - SHELL * s.shaft
    return s.hub_radius + share * (most - s.hub_radius)


def _words_and_places(section: Section, left: Point, right: Point) -> None:
    s, found = section.sizes, section.found
    middle = (left[1] + right[0]) / 2
    bearing = s.hub_radius + s.bearing_height / 2
    seal = s.hub_radius + SEAL_HEIGHT * s.shaft / 2
    seal_at = s.housing_left + SEAL_WIDTH * s.shaft / 2
    section.callouts += [
        Callout(
            ("output seal", found.said("seal_weep")), (seal_at, seal), ("seal_weep", "seal_lip")
        ),
        Callout(
            (f"breather: {found.said('breather')}", f"oil level: {found.said('oil_level')}"),
            (middle, s.housing_radius + 0.18 * s.shaft),
            ("breather", "oil_level", "mounting_position", "oil_condition"),
        ),
        Callout(
            ("low-speed bearing", *_bearing_words(section)),
            (sum(right) / 2, bearing),
            ("running_temperature_c", "vibration_mm_s"),
        ),
    ]
    section.places |= {
        "seal_weep": (seal_at, -seal),
        "running_temperature_c": (sum(left) / 2, -bearing),
        "vibration_mm_s": (sum(right) / 2, -bearing),
        "breather": (middle + 0.3 * s.shaft, s.housing_radius + 0.1 * s.shaft),
        "oil_level": (middle, -oil_level(section)),
        "seal_lip": (s.housing_right - SEAL_WIDTH * s.shaft / 2, -seal),
        "mounting_position": (middle - 0.3 * s.shaft, s.housing_radius + 0.1 * s.shaft),
        "oil_condition": (middle + 0.3 * s.shaft, -oil_level(section)),
        "backstop_direction": (middle, s.hub_radius + 0.5 * (s.housing_radius - s.hub_radius)),
    }


def _bearing_words(section: Section) -> tuple[str, ...]:
    said = [section.found.said(check) for check in ("running_temperature_c", "vibration_mm_s")]
    if said[0] == said[1]:
        return (said[0],)
    warm, shakes = said
    if not section.found.seen("running_temperature_c"):
        warm = f"warmth: {warm}"
    if not section.found.seen("vibration_mm_s"):
        shakes = f"vibration: {shakes}"
    return (warm, shakes)
