"""A keyed bore in section: straight hub, key in both keyways, retaining plate."""

from scoring.drawing.retaining_plate import add_retaining_plate
from scoring.drawing.section import Callout, Section
from scoring.drawing.shapes import Role

HALF_KEY = 0.085
"""Half the height of a key over the shaft's diameter; planning value of ours. [-]"""


def add_hub(section: Section) -> None:
    """Add the hub."""
    s = section.sizes
    along = (s.hub_start, s.hub_end)
    section.ring("hub", Role.HOUSING, along, (s.radius, s.hub_radius), cut=True)


def add_joint(section: Section) -> None:
    """Add what is on the shaft."""
    s, found = section.sizes, section.found
    half = HALF_KEY * s.shaft
    begins, ends = 0.08 * s.shaft, _key_end(section)
    word = found.word("key_condition")
    section.one(
        "keyway", Role.BEARING, (begins, max(s.engaged, begins)), (s.radius - half, s.radius + half)
    )
    if word == "short":
        ends = begins + 0.45 * (ends - begins)
    slack = 0.35 * half if word == "loose" else 0.0
    role = Role.FINDING if word == "missing" else section.role("key_condition")
    section.one(
        "key", role, (begins + slack, ends - slack), (s.radius - half, s.radius + half - 2 * slack)
    )
    at = (begins + 0.55 * (ends - begins), s.radius)
    section.callouts.append(Callout(("key", found.said("key_condition")), at, ("key_condition",)))
    section.places["key_condition"] = at
    add_retaining_plate(section)


def _key_end(section: Section) -> float:
    s = section.sizes
    return max(min(s.engaged, s.hub_end) - 0.06 * s.shaft, 0.2 * s.shaft)
