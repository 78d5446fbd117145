"""A tapered bushing in section: tapered bore, bushing, thrust collar, gap, screws."""

from scoring.drawing.clamp_screws import add_screws
from scoring.drawing.joint_sizes import exaggeration
from scoring.drawing.section import Callout, Section
from scoring.drawing.shapes import Role

THIN, THICK = 0.05, 0.14
"""Wall of the bushing at its ends, over the shaft; planning values of ours. [-]"""

FLANGE = 0.15
COLLAR = 0.2
MOST_GAP = 0.25
"""Thickness of the flange, length and height of the collar, and what a gap is drawn as at the most,
over the shaft's diameter; planning values of ours. [-]"""


def add_hub(section: Section) -> None:
    """Add the hub with its tapered bore, and the thrust collar on its end."""
    s = section.sizes
    section.outline(
        "hub",
        Role.HOUSING,
        [
            (s.hub_start, s.hub_radius),
            (s.hub_end, s.hub_radius),
            (s.hub_end, s.radius + THICK * s.shaft),
            (0.0, s.radius + THIN * s.shaft),
            (s.hub_start, s.radius + THIN * s.shaft),
        ],
        cut=True,
    )
    collar = (s.hub_radius, s.hub_radius + COLLAR * s.shaft)
    section.ring("thrust_collar", Role.PART, (s.hub_end - COLLAR * s.shaft, s.hub_end), collar)


def add_joint(section: Section) -> None:
    """Add the bushing and its screws."""
    s, found = section.sizes, section.found
    gap, times = _gap(section)
    drawn = gap * times
    flange = (s.hub_end + drawn, s.hub_end + drawn + FLANGE * s.shaft)
    top = s.hub_radius + COLLAR * s.shaft
    section.outline(
        "bushing",
        Role.PART,
        [
            (0.0, s.radius),
            (flange[1], s.radius),
            (flange[1], top),
            (flange[0], top),
            (flange[0], s.radius + THICK * s.shaft),
            (s.hub_end, s.radius + THICK * s.shaft),
            (0.0, s.radius + THIN * s.shaft),
        ],
        cut=True,
    )
    away = s.hub_radius + COLLAR * s.shaft / 2
    _gap_lines(section, flange[0], top)
    add_screws(section, flange[1], s.hub_end - 0.75 * COLLAR * s.shaft, away)
    said = found.said("collar_gap_mm")
    words = ("collar gap", said, *((f"exaggerated × {times}",) if times > 1 else ()))
    section.callouts.append(Callout(words, (s.hub_end + drawn / 2, top), ("collar_gap_mm",)))
    if times > 1:
        section.notes.append(f"collar gap exaggerated × {times}")
    if not found.seen("collar_gap_mm"):
        section.notes.append("collar gap not seen: drawn as good")
    section.places["collar_gap_mm"] = (s.hub_end + drawn / 2, -top)
    section.places["slip_margin"] = (0.55 * s.hub_end, s.radius)


def _gap(section: Section) -> tuple[float, int]:
    """Return the gap [mm], in the middle of its range unless seen, and how it is exaggerated."""
    found, s = section.found, section.sizes
    low, high = (found.limit(f"collar_gap_{end}_mm") or 0.0 for end in ("min", "max"))
    measured = found.number("collar_gap_mm")
    gap = (low + high) / 2 if measured is None else measured
    return gap, exaggeration(max(gap, high), MOST_GAP * s.shaft)


def _gap_lines(section: Section, flange: float, top: float) -> None:
    s = section.sizes
    role = section.role("collar_gap_mm", Role.DIMENSION)
    for at in (s.hub_end, flange):
        section.line("collar_gap", role, (at, top), (at, top + 0.16 * s.shaft))
