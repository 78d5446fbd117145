"""Axes of a small plot for paper: where a value lies, its ticks, and their words."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from scoring.contract.amounts_in_words import thousands
from scoring.drawing.shapes import AnyShape, Box, Label, Line, Point, Polygon, Role

LETTER_MM = 3.2
"""Height of a letter, of a plot that is printed as wide as it is drawn. [mm]"""

HALF_LINE = 0.36
"""From the middle of a letter to its base line, over its size. [-]"""


@dataclass(frozen=True)
class Axes:
    """A plot's box on the paper, and the values at its edges.

    Attributes
    ----------
    box : Box
        Where values are drawn. [mm]
    left, right : float
        Values at its sides.
    top : float
        Value at its top; at its bottom it is 0.
    """

    box: Box
    left: float
    right: float
    top: float

    def at(self, x: float, y: float) -> Point:
        """Return where a value lies on the paper. [mm]."""
        box, span = self.box, (self.right - self.left) or 1.0
        return (
            box.left + (x - self.left) / span * box.width,
            box.bottom - y / (self.top or 1.0) * box.height,
        )

    def heights(self, say: Callable[[float], str] = thousands) -> tuple[AnyShape, ...]:
        """Draw thin lines across at round values, each with its value at the left."""
        shapes: list[AnyShape] = []
        for value in round_values(self.top):
            begin, end = self.at(self.left, value), self.at(self.right, value)
            at = (self.box.left - 1.5, begin[1] + HALF_LINE * LETTER_MM)
            shapes += [
                Line(role=Role.QUIET, part="height", points=(begin, end)),
                Label(at=at, lines=(say(value),), anchor="end", size=LETTER_MM),
            ]
        return tuple(shapes)

    def months(self, days: Sequence[str]) -> tuple[AnyShape, ...]:
        """Write the first, the middle and the last of some months below."""
        last = len(days) - 1
        shapes: list[AnyShape] = []
        for n in sorted({0, last // 2, last}):
            x, y = self.at(float(n), 0.0)
            anchor = "middle" if 0 < n < last else "start" if n == 0 and last else "end"
            tick = Line(role=Role.TEXT, part="month", points=((x, y), (x, y + 1.2)))
            at = ({"start": x - 6, "end": x + 6}.get(anchor, x), y + 5.2)
            label = Label(at=at, lines=(days[n],), anchor=anchor, size=LETTER_MM, part="month")
            shapes += [tick, label]
        return tuple(shapes)


def round_values(top: float, most: int = 4) -> list[float]:
    """Return some round values from 0 to a value.

    Examples
    --------
    >>> round_values(87.0), round_values(0.9)
    ([0.0, 50.0], [0.0, 0.5])
    >>> round_values(7.0)
    [0.0, 2.0, 4.0, 6.0]
    """
    if top <= 0:
        return [0.0]
    unit = 10.0 ** math.floor(math.log10(top))
    steps = (unit * share for share in (0.1, 0.2, 0.5, 1.0, 2.0, 5.0))
    step = next(step for step in steps if top / step < most)
    return [n * step for n in range(int(top / step + 1e-9) + 1)]


def bar(edges: Box, *, role: Role, cut: bool) -> Polygon:
    """Return an upright rectangle on the paper."""
    corners = (
        (edges.left, edges.bottom),
        (edges.right, edges.bottom),
        (edges.right, edges.top),
        (edges.left, edges.top),
    )
    return Polygon(role=role, part="bar", points=corners, cut=cut)
