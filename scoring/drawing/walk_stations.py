"""The stations of a walk round a unit as they are drawn, and which checks are made at each."""

from dataclasses import dataclass

from scoring.contract import CHECK_BY_NAME, CHECKS
from scoring.contract.stations import STATIONS as DECLARED
from scoring.contract.stations import Station as DeclaredStation
from scoring.drawing.shapes import Point


@dataclass(frozen=True)
class Station(DeclaredStation):
    """A station of the contract, in the picture of the walk.

    Attributes
    ----------
    at : Point
        Where it is marked in the picture. [mm]
    checks : tuple of str
        What is looked for, in the order of the walkdown's columns.
    """

    at: Point
    checks: tuple[str, ...]


_AT: dict[str, Point] = {
    "A": (112, 34),
    "B": (112, 50),
    "C": (97, 62),
    "D": (87, 81),
    "E": (46, 58),
    "F": (46, 12),
    "G": (112, 12),
}
"""By letter: where a station is marked. [mm]"""

STATIONS: tuple[Station, ...] = tuple(
    Station(
        declared.letter,
        declared.words,
        declared.state,
        _AT[declared.letter],
        tuple(check.name for check in CHECKS if check.station == declared.letter),
    )
    for declared in DECLARED
)
"""In walking order."""

_BY_LETTER = {station.letter: station for station in STATIONS}

WORKED_OUT = {"slip_margin": ("B", "grip of the joint, worked out", "slips")}
"""What is found by calculation: where its cause is looked for, its name, and what was found."""


def station_of(check: str) -> Station:
    """Return the station at which a check is made.

    Examples
    --------
    >>> station_of("breather").letter
    'F'
    """
    return _BY_LETTER[CHECK_BY_NAME[check].station]
