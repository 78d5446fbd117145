"""Words in a row, tied to their parts by thin lines; numbered marks beside their places."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, hypot, pi, sin

from scoring.drawing.numbered_findings import NumberedFinding
from scoring.drawing.shapes import (
    LETTER_WIDTH,
    LINE_HEIGHT,
    AnyShape,
    Box,
    Circle,
    Label,
    Line,
    Mark,
    Point,
    Role,
)

SIZE = 3.0
GAP = 2.4
"""Height of a letter and least distance of words beside each other. [mm]"""

NECK, BAND = 0.4, 3.2
"""Where a line leaves its words, and where it turns straight towards its part. [mm]"""

MARK_GAP = 0.3
STEP = 1.5
TURNS = 16
"""How marks are kept apart [mm], and how a free place is looked for."""


@dataclass(frozen=True)
class Tied:
    """Words and the point on paper that they belong to.

    Attributes
    ----------
    lines : tuple of str
        What is written.
    at : Point
        The point. [mm]
    role : Role
        Of the words.
    """

    lines: tuple[str, ...]
    at: Point
    role: Role


def row_of_callouts(
    tied: Sequence[Tied], left: float, right: float, edge: float, *, below: bool
) -> list[AnyShape]:
    """Write words in one row, in the order of their parts, none over another.

    Parameters
    ----------
    tied : sequence of Tied
        Words and their points.
    left, right : float
        Limits of the row. [mm]
    edge : float
        The edge of the row that is next to the picture. [mm]
    below : bool
        Whether the row stands below the picture.

    Returns
    -------
    list of shapes
        Labels, their lines and the dots at the lines' ends.
    """
    row = sorted(tied, key=lambda one: one.at[0])
    letters = [max(len(line) for line in one.lines) for one in row]
    room = right - left - GAP * (len(row) - 1)
    size = min(SIZE, room / (LETTER_WIDTH * max(sum(letters), 1)))
    widths = [count * size * LETTER_WIDTH for count in letters]
    middles = _spread([one.at[0] for one in row], widths, left, right)
    shapes: list[AnyShape] = []
    for one, middle in zip(row, middles, strict=True):
        last = size * LINE_HEIGHT * (len(one.lines) - 1)
        first = edge + size if below else edge - 0.25 * size - last
        away = -1 if below else 1
        knee, bend = edge + away * NECK, edge + away * BAND
        part = "callout"
        shapes += [
            Line(
                role=Role.QUIET, part="leader", points=((middle, knee), (one.at[0], bend), one.at)
            ),
            Circle(role=Role.QUIET, part="leader", centre=one.at, radius=0.45),
            Label(
                at=(middle, first),
                lines=one.lines,
                anchor="middle",
                size=size,
                role=one.role,
                part=part,
            ),
        ]
    return shapes


def _spread(wanted: list[float], widths: list[float], left: float, right: float) -> list[float]:
    """Move middles apart until nothing overlaps, by the least sum of squares."""
    before = [sum(widths[:n]) + GAP * n + widths[n] / 2 for n in range(len(widths))]
    most = right - left - sum(widths) - GAP * (len(widths) - 1)
    pools: list[tuple[float, int]] = []
    for middle, room in zip(wanted, before, strict=True):
        mean, count = middle - left - room, 1
        while pools and pools[-1][0] > mean:
            other, size = pools.pop()
            mean, count = (mean * count + other * size) / (count + size), count + size
        pools.append((mean, count))
    starts = [mean for mean, count in pools for _ in range(count)]
    return [
        left + min(max(start, 0.0), max(most, 0.0)) + room
        for start, room in zip(starts, before, strict=True)
    ]


def place_marks(
    findings: Sequence[NumberedFinding],
    places: dict[str, Point],
    paper: Box,
    taken: Sequence[Box],
) -> list[AnyShape]:
    """Set a mark at the place of each finding, or beside it where that is taken.

    Parameters
    ----------
    findings : sequence of NumberedFinding
        The findings, the worst first: the first one to come has the place.
    places : dict of str to Point
        Place of each check. [mm]
    paper : Box
        Where marks may stand.
    taken : sequence of Box
        Where none may.

    Returns
    -------
    list of shapes
        Marks, after the lines that tie those which had to give way to their places.
    """
    boxes, marks, lines = list(taken), [], []
    for finding in findings:
        x, y = places[finding.check]
        # of a part at the very edge the place beside it may lie off the paper
        wanted = (
            min(max(x, paper.left), paper.right),
            min(max(y, paper.top), paper.bottom),
        )
        mark = _free(finding, wanted, paper, boxes)
        boxes.append(mark.box)
        marks.append(mark)
        if hypot(mark.at[0] - wanted[0], mark.at[1] - wanted[1]) > mark.radius:
            lines += [
                Line(role=Role.FINDING, part="mark_line", points=(mark.at, wanted)),
            ]
    return [*lines, *marks]


def _free(finding: NumberedFinding, wanted: Point, paper: Box, taken: Sequence[Box]) -> Mark:
    """Return the mark at the nearest free place, looked for in rings."""
    ring = 0
    while True:
        for turn in range(TURNS if ring else 1):
            angle = 2 * pi * turn / TURNS
            away = STEP * ring
            mark = Mark(
                at=(wanted[0] + away * cos(angle), wanted[1] - away * sin(angle)),
                number=finding.number,
                check=finding.check,
                severe=finding.severe,
                part="mark",
            )
            free = not any(mark.box.overlaps(box, MARK_GAP) for box in taken)
            if free and paper.holds(mark.box):
                return mark
        ring += 1
        if STEP * ring > paper.width + paper.height:
            raise ValueError("no room for a mark")
