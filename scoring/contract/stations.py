"""The stations of a walk round a unit, in walking order: where one stops and looks."""

from dataclasses import dataclass

from scoring.contract.declaration import About, Seen


@dataclass(frozen=True)
class Station:
    """A place at which one stops and looks.

    Attributes
    ----------
    letter : str
        By which it is named; numbers are those of the findings.
    words : str
        Where it is.
    state : Seen
        In which state of the machine its checks are made.
    """

    letter: str
    words: str
    state: Seen


STATIONS: tuple[Station, ...] = (
    Station("A", "Bare shaft and bore, while the unit is being hung", Seen.HANGING),
    Station("B", "Drive end: shaft end and screws, machine stopped", Seen.STOPPED),
    Station("C", "Round the unit, machine stopped", Seen.STOPPED),
    Station("D", "Anchor of the torque arm, machine stopped", Seen.STOPPED),
    Station("E", "Back of the unit, toward the conveyor, machine stopped", Seen.STOPPED),
    Station("F", "Top and guards, machine stopped", Seen.STOPPED),
    Station("G", "Low-speed bearing, guards on, machine running", Seen.RUNNING),
)
"""One drives the eye once round: drive end, anchor, back, top; common practice, no source."""

STATION_BY_LETTER: dict[str, Station] = {station.letter: station for station in STATIONS}

_OF_A_STOPPED_UNIT = {About.JOINT: "B", About.SHAFT: "E", About.ARM: "D", About.HOUSING: "C"}


def usual_station(about: About, seen: Seen) -> str:
    """Return the letter of the station at which a check is made that names none.

    Examples
    --------
    >>> usual_station(About.ARM, Seen.STOPPED), usual_station(About.ARM, Seen.RUNNING)
    ('D', 'G')
    """
    return {Seen.HANGING: "A", Seen.RUNNING: "G"}.get(seen, _OF_A_STOPPED_UNIT[about])
