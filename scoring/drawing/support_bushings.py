"""Support bushings beside a shrink disc: one in the bore, one against the end of the hub."""

from scoring.drawing import shrink_disc_section
from scoring.drawing.retaining_plate import add_retaining_plate
from scoring.drawing.section import Callout, Section
from scoring.drawing.shapes import Role

WALL, LONG, FLANGE = 0.06, 0.34, 0.08
"""Wall and length of a support bushing, and its flange, over the shaft; planning values of ours."""

PROUD = 0.1
"""How far a bushing that was found proud is drawn out, over the shaft; not to scale. [-]"""


def add_hub(section: Section) -> None:
    """Add the hub, as for any shrink disc."""
    shrink_disc_section.add_hub(section)


def add_joint(section: Section) -> None:
    """Add the disc, the bushings and the retaining plate."""
    s, found = section.sizes, section.found
    shrink_disc_section.add_joint(section)
    word = found.word("support_bushings")
    role = Role.FINDING if word == "missing" else section.role("support_bushings", Role.PART)
    out = PROUD * s.shaft if word == "proud" else 0.0
    wall = (s.radius, s.radius + WALL * s.shaft)
    inner = max(s.hub_start, 0.0) + 0.05 * s.shaft
    section.ring("support_bushing", role, (inner, inner + LONG * s.shaft), wall)
    depth = min(0.6 * (s.extension - s.clamp_length) / 2, LONG * s.shaft)
    flange = FLANGE * s.shaft
    section.outline(
        "support_bushing",
        role,
        [
            (s.hub_end - depth + out, wall[0]),
            (s.hub_end + flange + out, wall[0]),
            (s.hub_end + flange + out, s.clamp_radius),
            (s.hub_end + out, s.clamp_radius),
            (s.hub_end + out, wall[1]),
            (s.hub_end - depth + out, wall[1]),
        ],
    )
    at = (inner + 0.6 * LONG * s.shaft, (wall[0] + wall[1]) / 2)
    section.callouts.append(
        Callout(
            ("support bushings", found.said("support_bushings")),
            at,
            ("support_bushings",),
        )
    )
    section.places["support_bushings"] = (s.hub_end + flange + out, -wall[1])
    add_retaining_plate(section, flange + out)
