"""The way round a unit, from station to station, as it is drawn round the machine."""

from scoring.drawing.shapes import AnyShape, Circle, Label, Line, Point, Role
from scoring.drawing.walk_stations import STATIONS, Station

_PATH: dict[str, tuple[Point, ...]] = {
    "AB": ((112, 38), (112, 46)),
    "BC": ((112, 54), (112, 62), (101, 62)),
    "CD": ((97, 66), (97, 81), (91, 81)),
    "DE": ((87, 84), (87, 89), (46, 89), (46, 62)),
    "EF": ((46, 54), (46, 16)),
    "FG": ((46, 8), (46, 3.5), (112, 3.5), (112, 8)),
}
"""From each station to the next; behind the machine where that stands before it. [mm]"""

_POINTED_AT: tuple[tuple[Point, Point], ...] = (
    ((109, 35), (95, 39.5)),
    ((109, 49), (96.5, 44.5)),
    ((94, 61.5), (74, 61)),
    ((84, 81), (78.6, 80)),
    ((47.5, 55.5), (52.6, 49)),
    ((48.6, 13.5), (55.4, 17.6)),
)
"""From a station to what is looked at there. [mm]"""


EVERY_STATION = frozenset(station.letter for station in STATIONS)


def way_round(letters: frozenset[str] = EVERY_STATION) -> tuple[Line, ...]:
    """Return the way from each station to the next, of those at which one stops."""
    return tuple(
        Line(role=Role.REQUIRED, part="path", points=way, head=True)
        for both, way in _PATH.items()
        if letters >= set(both)
    )


def pointers() -> tuple[Line, ...]:
    """Return a line from each station to what is looked at there."""
    return tuple(Line(role=Role.QUIET, part="pointer", points=ends) for ends in _POINTED_AT)


def letter_of_station(station: Station, at: Point, role: Role = Role.TEXT) -> tuple[AnyShape, ...]:
    """Return the letter of a station in its ring."""
    size = 3.6
    letter_at = (at[0], at[1] + 0.36 * size)
    return (
        Circle(role=role, part=f"station {station.letter}", centre=at, radius=2.9),
        Label(role=role, at=letter_at, lines=(station.letter,), anchor="middle", size=size),
    )
