"""The picture of a check: the machine from the side, and a frame round where one looks."""

from dataclasses import dataclass
from functools import cache
from math import hypot

from scoring.contract import CHECK_BY_NAME
from scoring.contract.places_to_look import CONVEYOR, DRIVE_END, Place
from scoring.drawing.machine_from_the_side import machine_from_the_side
from scoring.drawing.shapes import (
    AnyShape,
    Box,
    Circle,
    Label,
    Line,
    Picture,
    Point,
    Polygon,
    Role,
    around,
)
from scoring.drawing.svg import THEMES, to_svg
from scoring.drawing.walk_stations import station_of
from scoring.walkdown_form.visit_questions import MOUNTING_WORDS

_WIDTH, _HEIGHT = 120.0, 95.0
_MIDDLE = 70.0
"""Between the side of the conveyor and the drive end in the machine seen from the side. [mm]"""

_ROOM_ROUND = 2.5
"""Between a part and its frame. [mm]"""

_LETTER = 4.6
"""Radius of the circle of a station's letter. [mm]"""

_FREE: tuple[Point, ...] = (
    (112, 14), (112, 28), (112, 42), (112, 58), (97, 66), (90, 84), (46, 60), (46, 12),
)  # fmt: skip
"""Where a letter hides nothing of the machine. [mm]"""

PICTURE_COLOURS = {theme: THEMES[theme] for theme in ("light", "dark")}
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


def picture_id(check: str, mounting: str) -> str:
    """Name the picture of a check; those that show the same place share one.

    Examples
    --------
    >>> picture_id("isolators_free", "keyed_bore") == picture_id("isolator_stack", "keyed_bore")
    True
    """
    place = CHECK_BY_NAME[check].place.words.replace(" ", "_")
    return f"{mounting}-{station_of(check).letter}-{place}"


@cache
def step_picture(check: str, mounting: str) -> StepPicture:
    """Draw where a check is looked for at a mounting, as SVG.

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
    for name, colour in THEMES["light"].items():
        svg = svg.replace(f'"{colour}"', f'"var(--picture-{name},{colour})"')
    return StepPicture(svg, picture.description)


def draw_where_to_look(check: str, mounting: str) -> Picture:
    """Draw the machine with a frame round where a check is looked for.

    Parameters
    ----------
    check : str
        The check.
    mounting : str
        How the unit holds its shaft.

    Returns
    -------
    Picture
    """
    machine = [shape for shape in machine_from_the_side(mounting) if shape.part != "name"]
    station, place = station_of(check), CHECK_BY_NAME[check].place
    where = f"{station.words[0].lower()}{station.words[1:]}"
    frame = frame_of_place(place, machine)
    letter = min(_FREE, key=lambda spot: _clear_distance(spot, frame))
    return Picture(
        title=f"Where to look: {place.words}",
        description=(
            f"A unit with {MOUNTING_WORDS[mounting]}, from the side. A frame marks the "
            f"{place.words}: station {station.letter}, {where}."
        ),
        width=_WIDTH,
        height=_HEIGHT,
        shapes=(*machine, _outline(frame), *_lettered(station.letter, letter, frame)),
    )


def frame_of_place(place: Place, machine: list[AnyShape]) -> Box:
    """Return the frame round what of the machine belongs to a place."""
    return _frame(_boxes_at(place, machine))


def _boxes_at(place: Place, machine: list[AnyShape]) -> list[Box]:
    """Return what of the machine belongs to a place; all of it where this mounting has no such."""
    drawn = [shape for shape in machine if isinstance(shape, Polygon | Circle)]
    there = [s.box for s in drawn if s.part in place.parts and _is_on_side(s.box, place.side)]
    return there or [shape.box for shape in drawn]


def _is_on_side(box: Box, side: str) -> bool:
    at_drive_end = box.left > _MIDDLE
    return {DRIVE_END: at_drive_end, CONVEYOR: not at_drive_end}.get(side, True)


def _frame(parts: list[Box]) -> Box:
    all_round = around([p for b in parts for p in ((b.left, b.top), (b.right, b.bottom))])
    room = _ROOM_ROUND
    return Box(
        max(all_round.left - room, 1.0),
        max(all_round.top - room, 1.0),
        min(all_round.right + room, _WIDTH - 1),
        min(all_round.bottom + room, _HEIGHT - 1),
    )


def _outline(frame: Box) -> Polygon:
    corners = (
        (frame.left, frame.top),
        (frame.right, frame.top),
        (frame.right, frame.bottom),
        (frame.left, frame.bottom),
    )
    return Polygon(role=Role.FORCE, part="looked at", points=corners)


def _clear_distance(spot: Point, frame: Box) -> float:
    """Return how far a spot lies from the frame; endless where the letter would touch it."""
    x, y = spot
    room = Box(x - _LETTER, y - _LETTER, x + _LETTER, y + _LETTER)
    if room.overlaps(frame, 1.0):
        return float("inf")
    near = nearest_on(spot, frame)
    return hypot(near[0] - x, near[1] - y)


def nearest_on(spot: Point, frame: Box) -> Point:
    """Return the point of a frame that lies nearest to a spot."""
    x = min(max(spot[0], frame.left), frame.right)
    y = min(max(spot[1], frame.top), frame.bottom)
    return x, y


def _lettered(letter: str, at: Point, frame: Box) -> tuple[AnyShape, ...]:
    x, y = at
    edge = nearest_on(at, frame)
    away = hypot(edge[0] - x, edge[1] - y)
    begin = (x + _LETTER * (edge[0] - x) / away, y + _LETTER * (edge[1] - y) / away)
    size = 6.0
    return (
        Line(role=Role.FORCE, part="pointer", points=(begin, edge)),
        Circle(role=Role.TEXT, part="letter", centre=at, radius=_LETTER),
        Label(part="letter", at=(x, y + 0.36 * size), lines=(letter,), anchor="middle", size=size),
    )
