"""Lengths under the section: shaft in the bore, length asked for, and a bar of the scale."""

from dataclasses import dataclass
from math import floor, log10
from typing import NamedTuple

from scoring.drawing.section import Scale, Section
from scoring.drawing.shapes import LETTER_WIDTH, AnyShape, Box, Label, Line, Role

SIZE = 3.2
ROW = 6.6
"""Height of a letter and distance of two dimension lines. [mm]"""


class Length(NamedTuple):
    """A length from where the bore begins, and what is said of it."""

    part: str
    role: Role
    length: float
    words: str


@dataclass(frozen=True)
class Rows:
    """Room for dimension lines under a section.

    Attributes
    ----------
    section : Section
        The section.
    scale : Scale
        Its scale.
    paper : Box
        Where words may stand; the first row begins at its top.
    crossed : tuple of float
        Where lines go down through the rows. [mm]
    """

    section: Section
    scale: Scale
    paper: Box
    crossed: tuple[float, ...]

    def draw(self) -> list[AnyShape]:
        """Dimension the shaft in the bore and the length asked for, one below the other."""
        s, found = self.section.sizes, self.section.found
        first, second = self.paper.top + ROW, self.paper.top + 2 * ROW
        if found.seen("engagement_mm"):
            role = Role.FINDING if found.bad("engagement_mm") else Role.DIMENSION
            words = f"{s.engaged:.4g} mm in the bore"
        else:
            role, words = Role.UNSEEN, "in the bore: " + found.said("engagement_mm")
        begin = self._x(0.0)
        ends = (begin, begin if s.required is None else self._x(s.required))
        shapes = self._row(Length("engaged", role, s.engaged, words), first, ends)
        if s.required is None:
            missing = Length("required", Role.QUIET, 0.0, "no length stated by the manual")
            return [*shapes, self._words(missing, second, ())]
        asked = Length("required", Role.REQUIRED, s.required, f"{s.required:.4g} mm asked for")
        return [*shapes, *self._row(asked, second, ())]

    def _x(self, along: float) -> float:
        return self.scale.point((along, 0.0))[0]

    def _row(self, length: Length, y: float, crossed: tuple[float, ...]) -> list[AnyShape]:
        """Return one dimension line, the lines up to what it measures, and its words."""
        foot = self.scale.point((0.0, -self.section.sizes.radius))[1]
        begin, end = self._x(0.0), self._x(length.length)
        role = Role.REQUIRED if length.role is Role.REQUIRED else Role.QUIET
        part = length.part
        return [
            *(
                Line(role=role, part=f"{part}_end", points=((x, foot), (x, y + 1)))
                for x in (begin, end)
            ),
            Line(role=length.role, part=part, points=((begin, y), (end, y)), head=True, tail=True),
            self._words(length, y, (begin, end, *crossed)),
        ]

    def _words(self, length: Length, y: float, crossed: tuple[float, ...]) -> Label:
        """Return words over their line, moved to where no line goes through them."""
        half = len(length.words) * SIZE * LETTER_WIDTH / 2
        low, high = self.paper.left + half, self.paper.right - half
        middle = self._x(length.length / 2)
        shifts = [sign * 1.5 * step for step in range(80) for sign in (1, -1)]
        tried = [min(max(middle + shift, low), high) for shift in shifts]
        lines = (*self.crossed, *crossed)
        free = (x for x in tried if all(abs(x - line) > half + 0.6 for line in lines))
        return Label(
            at=(next(free, tried[0]), y - 1.2),
            lines=(length.words,),
            anchor="middle",
            size=SIZE,
            role=length.role,
            part=f"{length.part}_words",
        )


def scale_bar(scale: Scale, left: float, y: float) -> list[AnyShape]:
    """Draw a bar of a round length of machine.

    Parameters
    ----------
    scale : Scale
        The scale.
    left, y : float
        Where it begins. [mm]

    Returns
    -------
    list of shapes
    """
    length = round_length(30 / scale.per_mm)
    end = left + length * scale.per_mm
    ticks = [
        Line(role=Role.DIMENSION, part="scale_bar_end", points=((x, y - 1), (x, y + 1)))
        for x in (left, end)
    ]
    return [
        Line(role=Role.DIMENSION, part="scale_bar", points=((left, y), (end, y))),
        *ticks,
        Label(
            at=(end + 2, y + 1),
            lines=(f"{length:g} mm",),
            size=SIZE - 0.2,
            role=Role.DIMENSION,
            part="scale_bar_words",
        ),
    ]


def round_length(most: float) -> float:
    """Return the largest of 1, 2, 5, 10, 20, ... that is not above a length.

    Examples
    --------
    >>> round_length(73.0), round_length(0.3), round_length(200.0)
    (50.0, 0.2, 200.0)
    """
    power = 10.0 ** floor(log10(most))
    digit = max(d for d in (1, 2, 5) if d * power <= most * (1 + 1e-9))
    return float(f"{digit * power:.6g}")
