"""One picture of a whole walk: stations by letter, and at each place the checks by number."""

from collections import defaultdict
from collections.abc import Sequence
from functools import cache
from itertools import groupby
from textwrap import wrap

from scoring.contract import CHECK_BY_NAME
from scoring.contract.places_to_look import Place
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
)
from scoring.drawing.sheet import Sheet
from scoring.drawing.walk_stations import STATIONS, Station, station_of
from scoring.drawing.way_round import letter_of_station, way_round
from scoring.walkdown_form.check_picture import frame_of_place, nearest_on
from scoring.walkdown_form.visit_questions import MOUNTING_WORDS

WIDTH, HEIGHT = 120.0, 95.0
"""The paper. [mm]"""

_NUMBER_MM = 3.4
"""Height of a number; the smallest letters of the picture. [mm]"""

_MOST_IN_LINE = 8
"""Letters of numbers in one line."""

_SPOTS: dict[str, tuple[Point, Point | None]] = {
    "bore at the drive end": ((76.0, 51.5), (86.2, 47.5)),
    "shaft and hub at the drive end": ((102.0, 38.4), (93.6, 39.6)),
    "axial retention": ((102.0, 46.2), (94.2, 43.8)),
    "clamp screws": ((102.5, 51.5), (93.0, 49.6)),
    "flange of the bushing": ((91.0, 58.0), (89.5, 51.0)),
    "shrink disc": ((91.0, 58.0), (90.9, 52.6)),
    "bolts of the torque arm": ((80.0, 66.5), (72.0, 59.2)),
    "torque arm and its anchor": ((85.0, 72.5), (71.3, 70.0)),
    "rubber of the anchor joint": ((57.5, 76.6), (65.8, 75.8)),
    "shaft at the back of the unit": ((61.0, 56.0), (51.8, 48.8)),
    "output seal": ((60.5, 30.6), (53.0, 35.6)),
    "low-speed bearing": ((69.0, 37.2), (60.6, 35.8)),
    "sight glass": ((79.5, 36.5), (77.5, 39.0)),
    "housing and motor": ((77.0, 29.5), None),
    "breather": ((58.5, 13.2), (58.5, 17.4)),
    "breather and level plug": ((51.5, 21.6), (57.4, 21.0)),
    "guard": ((100.5, 23.0), None),
}
"""By place: where its numbers stand, and to what a line leads from there; another finds room."""

_ROOM_WITHIN = frozenset({"housing", "pulley", "motor", "ground", "name"})
"""Parts so large that a number may stand on them."""


@cache
def draw_walk(mounting: str, checks: tuple[str, ...]) -> Picture:
    """Draw the machine with all stations of a walk, and where each of its checks is made.

    Parameters
    ----------
    mounting : str
        How the unit holds its shaft.
    checks : tuple of str
        The checks in the order of the walk; they are numbered from 1.

    Returns
    -------
    Picture
        The same for all units of a mounting of which the same is asked.
    """
    machine = [shape for shape in machine_from_the_side(mounting) if shape.part != "name"]
    stations = _stations(checks)
    letters = [shape for station in stations for shape in letter_of_station(station, station.at)]
    sheet = Sheet(Box(2.0, 5.0, WIDTH - 1.0, HEIGHT - 5.0))
    there = frozenset(station.letter for station in stations)
    sheet.draw(*way_round(there), *machine, *letters)
    sheet.taken += [box for shape in sheet.shapes for box in _taken_by(shape)]
    numbers_at = _numbers_at(checks)
    for place in sorted(numbers_at, key=lambda place: place.words not in _SPOTS):
        spot, target = spot_of(place, frame_of_place(place, machine))
        _number(sheet, spot, target, numbers_at[place], is_fixed=place.words in _SPOTS)
    return Picture(
        title=f"Where to look: {MOUNTING_WORDS[mounting]}",
        description=_description(mounting, stations, checks),
        width=WIDTH,
        height=HEIGHT,
        shapes=tuple(sheet.shapes),
    )


def spot_of(place: Place, frame: Box) -> tuple[Point, Point | None]:
    """Return where the numbers of a place stand, and to what a line leads from there.

    Parameters
    ----------
    place : Place
        Where something is looked for.
    frame : Box
        Round what of the machine belongs to it. [mm]

    Returns
    -------
    tuple of Point and Point or None
        Without a line where they stand upon the place. [mm]
    """
    middle = (frame.left + frame.right) / 2, (frame.top + frame.bottom) / 2
    return _SPOTS.get(place.words, (middle, middle))


def _stations(checks: Sequence[str]) -> list[Station]:
    there = {station_of(check).letter for check in checks}
    return [station for station in STATIONS if station.letter in there]


def _taken_by(shape: AnyShape) -> list[Box]:
    """Return where no number may stand: upon small parts, letters and lines."""
    if isinstance(shape, Line):
        ends = zip(shape.points, shape.points[1:], strict=False)
        return [_round_both(one, other) for one, other in ends]
    if shape.part in _ROOM_WITHIN or not isinstance(shape, Polygon | Circle):
        return []
    return [shape.box]


def _round_both(one: tuple[float, float], other: tuple[float, float]) -> Box:
    (a, b), (c, d) = one, other
    return Box(min(a, c) - 0.5, min(b, d) - 0.5, max(a, c) + 0.5, max(b, d) + 0.5)


def _numbers_at(checks: Sequence[str]) -> dict[Place, list[int]]:
    numbers: dict[Place, list[int]] = defaultdict(list)
    for number, check in enumerate(checks, 1):
        numbers[CHECK_BY_NAME[check].place].append(number)
    return numbers


def _number(
    sheet: Sheet, spot: Point, target: Point | None, numbers: list[int], *, is_fixed: bool
) -> None:
    """Write numbers near a place, with a line to it that ends in a dot."""
    lines = tuple(wrap(in_ranges(numbers), _MOST_IN_LINE, break_on_hyphens=False))
    said = Label(part="numbers of checks", at=spot, lines=lines, anchor="middle", size=_NUMBER_MM)
    if is_fixed:
        sheet.draw(said)
        sheet.taken.append(said.box)
    else:
        sheet.write(said)
    begin = spot if target is None else nearest_on(target, sheet.taken[-1])
    if target is None or begin == target:
        return
    sheet.draw(
        Line(role=Role.DIMENSION, part="leader", points=(begin, target)),
        Circle(role=Role.SHAFT, part="dot", centre=target, radius=0.6),
    )
    sheet.taken.append(_round_both(begin, target))


def in_ranges(numbers: Sequence[int]) -> str:
    """Write rising numbers, those in a row as a range.

    Examples
    --------
    >>> in_ranges([1, 2, 3, 7, 9, 10])
    '1\u20133, 7, 9, 10'
    """
    runs = [
        [number for _, number in run]
        for _, run in groupby(enumerate(numbers), key=lambda pair: pair[1] - pair[0])
    ]
    return ", ".join(
        f"{run[0]}\u2013{run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs
    )


def _description(mounting: str, stations: list[Station], checks: Sequence[str]) -> str:
    begin = f"A unit with {MOUNTING_WORDS[mounting]}, from the side, and the way round it."
    sentences = []
    for station in stations:
        made = [
            f"{CHECK_BY_NAME[check].label} ({number})"
            for number, check in enumerate(checks, 1)
            if station_of(check).letter == station.letter
        ]
        sentences.append(f"{station.letter}, {station.words}: {', '.join(made)}.")
    return " ".join([begin, *sentences])
