"""The plate and its bolt in the shaft's end that keep the unit from walking along the shaft."""

from scoring.drawing.section import Callout, Section
from scoring.drawing.shapes import Role

THICK = 0.1
BOLT = 0.16
INTO_SHAFT = 0.35
"""Thickness of the plate, diameter of its bolt, and the bolt's length in the shaft, over the
shaft's diameter; planning values of ours. [-]"""

OFF_WHEN_LOOSE = 0.07
"""Gap drawn under a loose plate, over the shaft's diameter; not to scale. [-]"""


def add_retaining_plate(section: Section, stands_off: float = 0.0) -> None:
    """Add the retaining plate and its bolt at the end of the hub.

    Parameters
    ----------
    section : Section
        The section.
    stands_off : float
        How far something stands out of the hub under the plate. [mm]
    """
    s, found = section.sizes, section.found
    word = found.word("retention")
    role = Role.FINDING if word == "missing" else section.role("retention")
    off = OFF_WHEN_LOOSE * s.shaft if word == "loose" else 0.0
    face = max(s.hub_end + stands_off, s.engaged) + off
    away = 0.5 * (s.radius + s.clamp_radius)
    back = face + THICK * s.shaft
    section.one("retaining_plate", role, (face, back), (-away, away))
    tip = min(s.engaged, face) - INTO_SHAFT * s.shaft
    section.screw("retaining_bolt", role, (back, tip), 0.0, BOLT * s.shaft)
    section.callouts.append(
        Callout(
            ("axial retention", found.said("retention")),
            (back, -0.6 * away),
            ("retention",),
            below=True,
        )
    )
    section.places["retention"] = (back + 0.12 * s.shaft, 0.0)
