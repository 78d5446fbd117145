"""A shrink disc in section: hub extension, two-coned inner ring, two outer rings, screws."""

from scoring.drawing.clamp_screws import add_screws
from scoring.drawing.section import Callout, Section
from scoring.drawing.shapes import Role

THIN, THICK, HEIGHT = 0.05, 0.11, 0.4
"""Inner ring at its ends and in the middle, and height of the disc, over the shaft's diameter;
planning values of ours. [-]"""


def add_hub(section: Section) -> None:
    """Add the hub: wide in the housing, its extension as wide as the disc asks for."""
    s = section.sizes
    clear = s.radius + 0.03 * s.shaft
    step = s.hub_end - s.extension
    section.outline(
        "hub",
        Role.HOUSING,
        [
            (s.hub_start, s.hub_radius),
            (step, s.hub_radius),
            (step, s.clamp_radius),
            (s.hub_end, s.clamp_radius),
            (s.hub_end, s.radius),
            (0.0, s.radius),
            (0.0, clear),
            (s.hub_start, clear),
        ],
        cut=True,
    )


def add_joint(section: Section) -> None:
    """Add the disc."""
    s, found = section.sizes, section.found
    offset = found.number("disc_offset_mm") or 0.0
    middle, half = s.clamp_middle + offset, s.clamp_length / 2
    left, right = middle - half, middle + half
    low, thin, thick = (s.clamp_radius + share * s.shaft for share in (0, THIN, THICK))
    top, split = s.clamp_radius + HEIGHT * s.shaft, 0.06 * s.clamp_length
    inner = [(left, low), (right, low), (right, thin), (middle, thick), (left, thin)]
    section.outline("disc_inner_ring", Role.PART, inner, cut=True)
    for outer, side in ((left, -1), (right, 1)):
        near = middle + side * split
        at_split = thick - (thick - thin) * split / half
        ring = [(outer, thin), (near, at_split), (near, top), (outer, top)]
        section.outline("disc", Role.PART, ring, cut=True)
    away = s.clamp_radius + 0.62 * HEIGHT * s.shaft
    add_screws(section, right, left + 0.1 * s.clamp_length, away)
    _offset_lines(section, middle, top)
    _words_and_places(section, middle, top)


def _offset_lines(section: Section, middle: float, top: float) -> None:
    s = section.sizes
    ends = (top, top + 0.22 * s.shaft)
    for part, at, role in (
        ("hub_extension_middle", s.clamp_middle, Role.REQUIRED),
        ("disc_middle", middle, section.role("disc_offset_mm", Role.DIMENSION)),
    ):
        section.line(part, role, (at, ends[0]), (at, ends[1]))


def _words_and_places(section: Section, middle: float, top: float) -> None:
    s, found = section.sizes, section.found
    words = (
        f"disc off centre: {found.said('disc_offset_mm')}",
        f"seat: {found.said('clamp_seat_condition')}",
    )
    at = (middle, top + 0.22 * s.shaft)
    section.callouts.append(Callout(words, at, ("disc_offset_mm", "clamp_seat_condition")))
    if found.number("disc_offset_mm"):
        section.notes.append("to which side the disc is off is not recorded")
    section.places |= {
        "clamp_seat_condition": (middle, -s.clamp_radius),
        "disc_offset_mm": (middle, top),
        "slip_margin": (s.clamp_middle, s.radius),
    }
