"""Lengths under the section: shaft in the bore, length asked for, and a bar of the scale."""

from dataclasses import dataclass
from math import floor, log10
from typing import NamedTuple

from scoring.drawing.section import Scale, Section
from scoring.drawing.shapes import LETTER_WIDTH, AnyShape, Box, Label, Line, Role

SIZE = 3.2
ROW = 6.6
"""Height of a letter, and distance of two dimension lines. [mm]"""

CLEAR = 0.92
NEAR = 6.0
"""How much of the room kept for words they surely fill [-], and how far they move away from a line
before they stand closer to it instead. [mm]"""

SHORT = 9.0
"""The heads of a dimension line that is shorter than this stand in the way of words. [mm]"""


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
        """Dimension the length asked for and, below it, the shaft in the bore."""
        s, found = self.section.sizes, self.section.found
        first, second = self.paper.top + ROW, self.paper.top + 2 * ROW
        if found.seen("engagement_mm"):
            role = Role.FINDING if found.bad("engagement_mm") else Role.DIMENSION
            words = f"{s.engaged:.4g} mm engaged"
        else:
            role, words = Role.UNSEEN, f"engaged: {_not_measured(self.section)}"
        engaged = Length("engaged", role, s.engaged, words)
        through = (self._x(0.0), self._x(s.engaged))
        if s.required is None:
            missing = Length("required", Role.QUIET, s.engaged, "asked for: not stated")
            asked: list[AnyShape] = [self._words(missing, first, through)]
        else:
            words = f"{s.required:.4g} mm asked for"
            length = Length("required", Role.REQUIRED, s.required, words)
            asked = self._row(length, first, through)
        return [*asked, *self._row(engaged, second, ())]

    def _x(self, along: float) -> float:
        return self.scale.point((along, 0.0))[0]

    def _row(self, length: Length, y: float, crossed: tuple[float, ...]) -> list[AnyShape]:
        """Return one dimension line, the lines up to what it measures, and its words."""
        foot = self.scale.point((0.0, -self.section.sizes.radius))[1]
        begin, end = self._x(0.0), self._x(length.length)
        role = Role.REQUIRED if length.role is Role.REQUIRED else Role.QUIET
        part, heads = length.part, (SHORT / 2 if end - begin < SHORT else 0.0)
        return [
            *(
                Line(role=role, part=f"{part}_end", points=((x, foot), (x, y + 1)))
                for x in (begin, end)
            ),
            Line(role=length.role, part=part, points=((begin, y), (end, y)), head=True, tail=True),
            self._words(length, y, (begin - heads, end + heads, *crossed)),
        ]

    def _words(self, length: Length, y: float, crossed: tuple[float, ...]) -> Label:
        """Return words over their line, moved to where no line goes through them."""
        half = len(length.words) * SIZE * LETTER_WIDTH / 2
        low, high = self.paper.left + half, self.paper.right - half
        middle, reach = self._x(length.length / 2), self._x(length.length) - self._x(0.0)
        lines = (*self.crossed, *crossed)
        shifts = [sign * 0.75 * step for step in range(160) for sign in (1, -1)]
        wide = [(shift, half + 0.8) for shift in shifts if abs(shift) <= NEAR]
        close = [(shift, CLEAR * half + 0.3) for shift in shifts]
        tried = [(min(max(middle + shift, low), high), clear) for shift, clear in wide + close]
        free = (x for x, clear in tried if all(abs(x - line) > clear for line in lines))
        x = next(free, tried[0][0])
        beside = abs(x - middle) > reach / 2
        return Label(
            at=(x, y + 0.35 * SIZE if beside else y - 1.2),
            lines=(length.words,),
            anchor="middle",
            size=SIZE,
            role=length.role,
            part=f"{length.part}_words",
        )


def _not_measured(section: Section) -> str:
    """Say that the shaft's end was looked at but not measured, or not seen at all."""
    found = section.found
    return "not measured" if found.seen("shaft_end") else found.said("engagement_mm")


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
