"""The findings of one walkdown, marked on the machine as it is drawn for a walk."""

from collections import defaultdict
from dataclasses import dataclass

from scoring.contract import CHECK_BY_NAME
from scoring.contract.places_to_look import BORE, Place
from scoring.drawing.machine_from_the_side import machine_from_the_side
from scoring.drawing.shapes import AnyShape, Circle, Line, Mark, Picture, Point, Role
from scoring.walkdown_form.check_picture import frame_of_place, nearest_on
from scoring.walkdown_form.visit_questions import MOUNTING_WORDS
from scoring.walkdown_form.walk_picture import HEIGHT, WIDTH, spot_of

RADIUS = 2.7
"""Of a mark. [mm]"""


@dataclass(frozen=True)
class MarkedFinding:
    """A finding as it is marked.

    Attributes
    ----------
    number : int
        From 1; the list beside the picture has the same.
    check : str
        The check it is of; a grip that was worked out is marked at the bore.
    severe : bool
        Whether it is a hold: the mark is then a square, else round.
    """

    number: int
    check: str
    severe: bool


def draw_findings(mounting: str, findings: tuple[MarkedFinding, ...]) -> Picture:
    """Draw the machine with its findings marked where they are.

    Parameters
    ----------
    mounting : str
        How the unit holds its shaft.
    findings : tuple of MarkedFinding
        At most one of a check.

    Returns
    -------
    Picture
        A sketch, not to scale.

    Examples
    --------
    >>> draw_findings("keyed_bore", (MarkedFinding(1, "breather", severe=True),)).title
    'Findings on the machine'
    """
    machine = [shape for shape in machine_from_the_side(mounting) if shape.part != "name"]
    at_place: dict[Place, list[MarkedFinding]] = defaultdict(list)
    for finding in findings:
        declared = CHECK_BY_NAME.get(finding.check)
        at_place[declared.place if declared else BORE].append(finding)
    marks: list[AnyShape] = []
    for place, there in at_place.items():
        marks += _marked(spot_of(place, frame_of_place(place, machine)), there)
    words = ", ".join(
        f"{place.words} ({one.number})" for place, there in at_place.items() for one in there
    )
    return Picture(
        title="Findings on the machine",
        description=(
            f"A unit with {MOUNTING_WORDS[mounting]}, from the side. "
            f"Findings by number, at: {words or 'none'}."
        ),
        width=WIDTH,
        height=HEIGHT,
        shapes=(*machine, *marks),
    )


def _marked(spot: tuple[Point, Point | None], there: list[MarkedFinding]) -> list[AnyShape]:
    """Return marks in a row round a spot, with a line from the nearest to what they mark."""
    (x, y), target = spot
    apart = 2 * RADIUS + 0.8
    left = x - apart * (len(there) - 1) / 2
    marks = [
        Mark(
            at=(left + n * apart, y - 1.2),
            number=one.number,
            check=one.check,
            severe=one.severe,
            radius=RADIUS,
        )
        for n, one in enumerate(there)
    ]
    if target is None:
        return [*marks]
    near = min(marks, key=lambda mark: abs(mark.at[0] - target[0]))
    begin = nearest_on(target, near.box)
    return [
        Line(role=Role.DIMENSION, part="leader", points=(begin, target)),
        Circle(role=Role.FINDING, part="dot", centre=target, radius=0.6),
        *marks,
    ]
