"""The driven shaft: broken off at the conveyor, its shoulder, its end in the bore, its run-out."""

from scoring.consequences.joint_grip import SHORT_END_RATIO
from scoring.contract.mountings import KEYED_BORE
from scoring.drawing.joint_sizes import exaggeration
from scoring.drawing.section import Callout, Section
from scoring.drawing.shapes import Point, Role
from scoring.limits import assumptions

STUB = 1.15
"""Length of shaft drawn before the unit, over its diameter. [-]"""

SHOULDER = 0.55
"""Height of the shoulder over that of the hub's face; planning value of ours. [-]"""

GAP_WHEN_SHORT = 0.12
"""Gap drawn at the shoulder where the unit was only seen to be short of it, over the shaft. [-]"""

MOST_DRAWN = 0.32
"""What a run-out is drawn as at the most, over the shaft's diameter. [-]"""


def add_shaft(section: Section) -> None:
    """Add the driven shaft; over the hub, under what is on the shaft."""
    s, found = section.sizes, section.found
    end_seen = found.seen("engagement_mm") or found.seen("shaft_end")
    face = shoulder_face(section)
    solid_to = s.engaged if end_seen else face
    section.outline("shaft", Role.SHAFT, _outline(section, face, solid_to), both=False)
    if not end_seen:
        section.one("shaft_engaged", Role.UNSEEN, (face, s.engaged), (-s.radius, s.radius))
        section.notes.append("shaft end not seen: drawn as good, dashed")
    elif not found.seen("engagement_mm"):
        short = found.word("shaft_end") == "short"
        drawn = f"as {SHORT_END_RATIO:.0%} of what is good" if short else "as good"
        section.notes.append(f"shaft in the bore seen, not measured: drawn {drawn}")
    section.line("break_line", Role.DIMENSION, *_break(section, face))
    _run_out(section, face)
    _words_and_places(section, face)


def shoulder_face(section: Section) -> float:
    """Return where the shoulder of the shaft ends [mm]."""
    s = section.sizes
    short = section.found.word("seated") == "short"
    return s.hub_start - (GAP_WHEN_SHORT * s.shaft if short else 0.0)


def shoulder_radius(section: Section) -> float:
    """Return the radius of the shoulder [mm]."""
    s = section.sizes
    return s.radius + SHOULDER * (s.hub_radius - s.radius)


def _outline(section: Section, face: float, end: float) -> list[Point]:
    s, high = section.sizes, shoulder_radius(section)
    chamfer = min(0.04 * s.shaft, (end - face) / 4)
    upper = [
        (face, high),
        (face, s.radius),
        (end - chamfer, s.radius),
        (end, s.radius - chamfer),
    ]
    lower = [(x, -y) for x, y in reversed(upper)]
    return [*reversed(_break(section, face)), *upper, *lower]


def _break(section: Section, face: float) -> list[Point]:
    """Return the wavy line at which the shaft is broken off, from the top."""
    s, high = section.sizes, shoulder_radius(section)
    at, wave = face - STUB * s.shaft, 0.05 * s.shaft
    steps = ((1, 0), (0.75, -1), (0.5, -1.2), (0.25, -1), (0, 0))
    upper = [(at + wave * shift, high * share) for share, shift in steps]
    return [*upper, *((2 * at - x, -y) for x, y in reversed(upper[:-1]))]


def _run_out(section: Section, face: float) -> None:
    s, found = section.sizes, section.found
    runout = found.number("shaft_runout_mm")
    stub = STUB * s.shaft
    if runout is None:
        words: tuple[str, ...] = ("run-out", found.said("shaft_runout_mm"))
    elif runout == 0:
        words = ("run-out", "none")
    else:
        times = exaggeration(max(runout, assumptions.MOST_RUNOUT.value), MOST_DRAWN * s.shaft)
        role = Role.FINDING if found.bad("shaft_runout_mm") else Role.DIMENSION
        for swing in (1, -1):
            for side in (1, -1):
                away = side * shoulder_radius(section) + swing * times * runout / 2
                ends = (face - 0.75 * stub, away), (face - 0.12 * stub, away)
                section.line("runout", role, *ends)
        words = (f"run-out {runout:.3g} mm",)
        if times > 1:
            words = (*words, f"exaggerated × {times}")
            section.notes.append(f"run-out exaggerated × {times}")
    section.callouts.append(
        Callout(
            words, (face - 0.3 * stub, -shoulder_radius(section)), ("shaft_runout_mm",), below=True
        )
    )


def _words_and_places(section: Section, face: float) -> None:
    s, found = section.sizes, section.found
    high, stub = shoulder_radius(section), STUB * s.shaft
    size = f"shaft ø {s.shaft:.5g} mm"
    measured = found.number("shaft_diameter_measured_mm")
    seen = found.said("shaft_diameter_measured_mm")
    measured_words = f"ø {seen} measured" if measured is not None else f"measured: {seen}"
    callout_at = 0.16 if s.mounting == KEYED_BORE else 0.42
    section.callouts += [
        Callout(
            ("unit home on shaft", found.said("seated")),
            (s.hub_start, -high),
            ("seated",),
            below=True,
        ),
        Callout(
            (size, measured_words),
            (face - 0.8 * stub, -high),
            ("shaft_diameter_measured_mm",),
            below=True,
        ),
        Callout(
            ("bore and shaft", found.said("bore_condition")),
            (callout_at * s.hub_end, s.radius),
            ("bore_condition",),
        ),
    ]
    section.places |= {
        "bore_condition": (0.16 * s.hub_end, -s.radius),
        "seated": (face, high),
        "engagement_mm": (s.engaged, 0.0),
        "shaft_end": (s.engaged, -0.6 * s.radius),
        "shaft_diameter_measured_mm": (face - 0.55 * stub, 0.0),
        "shaft_runout_mm": (face - 0.4 * stub, high),
        "shaft_seat": (0.5 * s.hub_end, -s.radius),
        "witness_mark": (0.9 * s.hub_end, s.radius),
    }
