"""The walk round one unit: where each of its checks is looked for, and what is known of it."""

from dataclasses import dataclass

from scoring.assessment import Assessment
from scoring.contract import CHECK_BY_NAME
from scoring.contract.cautions import CAUTIONS
from scoring.drawing.machine_from_the_side import machine_from_the_side
from scoring.drawing.numbered_findings import NumberedFinding, numbered_findings
from scoring.drawing.shapes import AnyShape, Label, Mark, Picture, Point, Role
from scoring.drawing.walk_stations import STATIONS, WORKED_OUT, Station
from scoring.drawing.way_round import letter_of_station, pointers, way_round
from scoring.drawing.what_was_seen import WhatWasSeen
from scoring.records import unit_has

_WIDTH = 120.0
_LIST_TOP = 102.0
_ROW = 5.2
_HEADING = 7.5
_NOT_TO_SCALE = (
    "A sketch, not to scale: what is where, not how large. A letter stands in a bold ring where "
    "something was found."
)


@dataclass(frozen=True)
class _Row:
    """What is known of one check of the unit."""

    check: str
    name: str
    known: str
    finding: NumberedFinding | None


def draw_walk_round(assessment: Assessment, unit_id: str) -> Picture:
    """Draw the walk round a unit.

    Parameters
    ----------
    assessment : Assessment
        What is said of the fleet.
    unit_id : str
        The unit.

    Returns
    -------
    Picture
        A sketch of the machine with the stations of the walk; below it, station by station,
        the checks of this mounting with what is known of each. Findings carry their mark.

    Raises
    ------
    FixableError
        If no unit of that id is in service.
    """
    seen = WhatWasSeen.of(assessment, unit_id)
    found = {finding.check: finding for finding in numbered_findings(assessment, unit_id)}
    mounting = str(assessment.known.units["mounting"].iloc[seen.place])
    stops = [(station, _rows(seen, station, found)) for station in STATIONS]
    stops = [(station, rows) for station, rows in stops if rows]
    listed, bottom = _listed(stops)
    return Picture(
        title=f"Walk round {unit_id}",
        description=_description(unit_id, stops),
        width=_WIDTH,
        height=bottom,
        shapes=(*way_round(), *machine_from_the_side(mounting), *_letters(stops), *listed),
        notes=(_NOT_TO_SCALE, CAUTIONS),
    )


def _rows(seen: WhatWasSeen, station: Station, found: dict[str, NumberedFinding]) -> list[_Row]:
    rows = [
        _Row(check, CHECK_BY_NAME[check].label, _known(seen, check), found.get(check))
        for check in station.checks
        if unit_has(CHECK_BY_NAME[check], seen.assessment.known.units, seen.place)
    ]
    return rows + [
        _Row(check, name, known, found[check])
        for check, (letter, name, known) in WORKED_OUT.items()
        if letter == station.letter and check in found
    ]


def _known(seen: WhatWasSeen, check: str) -> str:
    """Say what is known: never good where nobody has looked, or there is nothing to judge by."""
    words = seen.words(check)
    return "good" if seen.assessment.known.exceedance[check].iloc[seen.place] <= 0 else words


def _letters(stops: list[tuple[Station, list[_Row]]]) -> tuple[AnyShape, ...]:
    letters = [shape for station, rows in stops for shape in _lettered(station, station.at, rows)]
    return (*pointers(), *letters)


def _lettered(station: Station, at: Point, rows: list[_Row]) -> tuple[AnyShape, ...]:
    """Return a station's letter; ringed as a finding where there is one."""
    found = any(row.finding for row in rows)
    return letter_of_station(station, at, Role.FINDING if found else Role.TEXT)


def _listed(stops: list[tuple[Station, list[_Row]]]) -> tuple[list[AnyShape], float]:
    """Return the lists below the sketch, and where they end."""
    shapes: list[AnyShape] = []
    y = _LIST_TOP
    for station, rows in stops:
        shapes += _lettered(station, (6.5, y - 1.3), rows)
        shapes.append(Label(at=(12, y), lines=(station.words,), size=3.5))
        y += 1.2
        for row in rows:
            y += _ROW
            shapes += _line_of(row, y)
        y += _HEADING
    return shapes, y - _HEADING + 4


def _line_of(row: _Row, y: float) -> list[AnyShape]:
    quiet = row.finding is None and row.known == "good"
    role = Role.QUIET if quiet else Role.TEXT
    shapes: list[AnyShape] = []
    if row.finding is not None:
        role = Role.FINDING
        number, severe = row.finding.number, row.finding.severe
        mark = (6.5, y - 1.2)
        shapes.append(Mark(at=mark, number=number, check=row.check, severe=severe, radius=2.1))
    shapes.append(Label(role=role, part=row.check, at=(12, y), lines=(row.name,)))
    at = (_WIDTH - 4, y)
    shapes.append(Label(role=role, part=row.check, at=at, lines=(row.known,), anchor="end"))
    return shapes


def _description(unit_id: str, stops: list[tuple[Station, list[_Row]]]) -> str:
    begin = (
        f"{unit_id} from the side, on the conveyor's shaft beside the pulley, its torque arm "
        f"anchored below. One walks round it in {len(stops)} stations."
    )
    sentences = [
        f"{station.letter}, {station.words}: {_in_words(rows)}." for station, rows in stops
    ]
    return " ".join([begin, *sentences])


def _in_words(rows: list[_Row]) -> str:
    found = [
        f"finding {row.finding.number}, {row.name} {row.known}"
        for row in rows
        if row.finding is not None
    ]
    rest = [row for row in rows if row.finding is None]
    known = sorted({row.known for row in rest}, key=lambda words: words == "good")
    return "; ".join(
        found
        + [f"{words}: {', '.join(r.name for r in rest if r.known == words)}" for words in known]
    )
