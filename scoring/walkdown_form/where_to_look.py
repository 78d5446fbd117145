"""The picture of a check: the machine from the side, and a ring round where one looks."""

from dataclasses import dataclass
from functools import cache
from math import hypot
from typing import Any

from scoring.drawing.machine_from_the_side import machine_from_the_side
from scoring.drawing.shapes import Box, Circle, Label, Line, Picture, Polygon, Role
from scoring.drawing.svg import THEMES, to_svg
from scoring.drawing.walk_stations import STATIONS, Station
from scoring.walkdown_form.visits import MOUNTING_WORDS

_WIDTH, _HEIGHT = 120.0, 95.0
_ROOM_ROUND = 3.0
"""Between a part and its ring. [mm]"""

PARTS_OF_CHECK: dict[str, tuple[str, ...]] = {
    "bore_condition": ("hub",),
    "clamp_seat_condition": ("shrink disc",),
    "seated": ("seal",),
    "support_bushings": ("hub",),
    "engagement_mm": ("hub",),
    "shaft_end": ("hub",),
    "shaft_diameter_measured_mm": ("hub",),
    "shaft_runout_mm": ("seal",),
    "key_condition": ("hub",),
    "retention": ("axial retention",),
    "torque_passes": ("screw",),
    "tightening_order": ("screw",),
    "final_torque_nm": ("screw",),
    "screws_low": ("screw",),
    "collar_gap_mm": ("bushing flange",),
    "disc_offset_mm": ("shrink disc",),
    "arm_bolts": ("arm bolt",),
    "isolator_stack": ("isolator",),
    "isolators_free": ("isolator",),
    "isolator_squeeze_mm": ("isolator",),
    "metal_contact": ("torque arm",),
    "smallest_clearance_mm": ("housing", "motor"),
    "arm_misset_mm": ("anchor bolt",),
    "arm_angle_deg": ("anchor bolt",),
    "breather": ("breather",),
    "oil_level": ("sight glass",),
    "guard": ("guard",),
    "running_temperature_c": ("low-speed bearing",),
    "vibration_mm_s": ("low-speed bearing",),
    "seal_weep": ("seal",),
}
"""What the ring goes round; where a mounting lacks the part, the hub."""

LIGHT, DARK = THEMES["light"], THEMES["dark"]

PICTURE_COLOURS = {"light": LIGHT, "dark": DARK}
"""Colours for the page's variables ``--picture-NAME``; without them a picture is light."""


@dataclass(frozen=True)
class StepPicture:
    """A picture and what one tells a person who cannot see it.

    Attributes
    ----------
    svg : str
        Coloured by variables of the page.
    words : str
        The text alternative.
    """

    svg: str
    words: str

    def as_dict(self) -> dict[str, Any]:
        """Return it for a document."""
        return {"svg": self.svg, "words": self.words}


def station_of(check: str) -> Station:
    """Return the station at which a check is made.

    Examples
    --------
    >>> station_of("breather").letter
    'F'
    """
    return next(station for station in STATIONS if check in station.checks)


def picture_id(check: str, mounting: str) -> str:
    """Name the picture of a check; those that show the same place share one.

    Examples
    --------
    >>> picture_id("isolators_free", "keyed_bore") == picture_id("isolator_stack", "keyed_bore")
    True
    """
    parts = "_".join(PARTS_OF_CHECK[check]).replace(" ", "_").replace("-", "_")
    return f"{mounting}-{station_of(check).letter}-{parts}"


@cache
def step_picture(check: str, mounting: str) -> StepPicture:
    """Draw where a check is looked for at a mounting.

    Parameters
    ----------
    check : str
        The check.
    mounting : str
        How the unit holds its shaft.

    Returns
    -------
    StepPicture
    """
    picture = draw_where_to_look(check, mounting)
    svg = to_svg(picture)
    for name, colour in LIGHT.items():
        svg = svg.replace(f'"{colour}"', f'"var(--picture-{name},{colour})"')
    return StepPicture(svg, picture.description)


def draw_where_to_look(check: str, mounting: str) -> Picture:
    """Draw the machine with a ring round where a check is looked for."""
    machine = [s for s in machine_from_the_side(mounting) if s.part != "name"]
    station = station_of(check)
    parts = PARTS_OF_CHECK[check]
    looked_at = [s for s in machine if s.part in parts and isinstance(s, Polygon | Circle)]
    ring = _ring([shape.box for shape in looked_at or machine if shape.part in (*parts, "hub")])
    letter = _letter(ring)
    where = " and ".join(parts)
    return Picture(
        title=f"Where to look: {where}",
        description=(
            f"A unit with {MOUNTING_WORDS[mounting]}, from the side. A ring marks the {where}: "
            f"station {station.letter}, {station.words[0].lower()}{station.words[1:]}."
        ),
        width=_WIDTH,
        height=_HEIGHT,
        shapes=(
            *machine,
            ring,
            _pointer(ring, letter),
            Circle(role=Role.TEXT, part="letter", centre=letter, radius=4.6),
            Label(at=(letter[0], letter[1] + 2.2), lines=(station.letter,), anchor="middle",
                  size=6.0, part="letter"),
        ),
    )  # fmt: skip


def _ring(boxes: list[Box]) -> Circle:
    left, top = min(box.left for box in boxes), min(box.top for box in boxes)
    right, bottom = max(box.right for box in boxes), max(box.bottom for box in boxes)
    radius = hypot(right - left, bottom - top) / 2 + _ROOM_ROUND
    centre = ((left + right) / 2, (top + bottom) / 2)
    return Circle(role=Role.FORCE, part="ring", centre=centre, radius=radius)


def _letter(ring: Circle) -> tuple[float, float]:
    return (112.0, min(max(ring.centre[1], 8.0), 87.0))


def _pointer(ring: Circle, letter: tuple[float, float]) -> Line:
    (x, y), r = ring.centre, ring.radius
    away = hypot(letter[0] - x, letter[1] - y)
    edge = (x + r * (letter[0] - x) / away, y + r * (letter[1] - y) / away)
    return Line(role=Role.FORCE, part="pointer", points=((letter[0] - 4.6, letter[1]), edge))
