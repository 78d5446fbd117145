"""What a hostile file is for these tests: how it is made, what is asked, which line must come."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

Asked = list[str]
"""Words of the command, after ``mount-risk``."""

UNITS = "unit_id,site,installed_on,mounting,shaft_diameter_mm\n"
UNIT = "U-1,North pit,2024-01-10,keyed_bore,80\n"
WALKDOWNS = "walkdown_id,unit_id,inspected_on,kind\n"
WALKDOWN = "W-1,U-1,2024-02-01,periodic\n"
NO_FAULT = "no faults: "


@dataclass(frozen=True)
class Hostile:
    """One of the collection.

    Attributes
    ----------
    name : str
        What it is, in words.
    make : callable
        Makes it in an empty folder; returns what is asked of it.
    line : str
        What must be said, at least.
    heavy : bool
        Whether it takes seconds to make or to refuse.
    """

    name: str
    make: Callable[[Path], Asked]
    line: str
    heavy: bool


COLLECTION: list[Hostile] = []


def hostile(
    line: str, *, heavy: bool = False
) -> Callable[[Callable[[Path], Asked]], Callable[[Path], Asked]]:
    """Add a maker to the collection, by the line that must come."""

    def add(make: Callable[[Path], Asked]) -> Callable[[Path], Asked]:
        COLLECTION.append(Hostile(make.__name__.replace("_", " "), make, line, heavy))
        return make

    return add


def fleet(
    place: Path, units: str | bytes = UNITS + UNIT, walkdowns: str | bytes = WALKDOWNS + WALKDOWN
) -> str:
    """Write a fleet of CSV files; return where."""
    for name, text in (("units", units), ("walkdowns", walkdowns)):
        data = text.encode() if isinstance(text, str) else text
        (place / f"{name}.csv").write_bytes(data)
    return str(place)


def check(place: Path, units: str | bytes = UNITS + UNIT, walkdowns: str | bytes = "") -> Asked:
    """Write a fleet and ask for its faults."""
    return ["check", fleet(place, units, walkdowns or WALKDOWNS + WALKDOWN)]


def with_id(unit_id: str) -> str:
    """Return units, the second with that id."""
    return UNITS + UNIT + UNIT.replace("U-1", unit_id)
