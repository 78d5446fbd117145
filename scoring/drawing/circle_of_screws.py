"""Screws on a circle by number, and outside it the turn of each."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, pi, sin

from scoring.drawing.shapes import AnyShape, Circle, Label, Line, Picture, Point, Role
from scoring.rules.tightening_schedule import screw_order

LETTER_MM = 3.0
"""Height of a number. [mm]"""


@dataclass(frozen=True)
class CircleOfScrews:
    """A circle of screws on the paper.

    Attributes
    ----------
    centre : Point
        [mm]
    radius, turn_radius : float
        Of the circle of screws, and of that of the numbers outside it. [mm]
    """

    centre: Point
    radius: float
    turn_radius: float

    def shapes(self, count: int, order: Sequence[int]) -> tuple[AnyShape, ...]:
        """Return the screws clockwise from the top, the path lightly, and the turn of each.

        Parameters
        ----------
        count : int
            Screws on the circle. [-]
        order : sequence of int
            Screws in the order of tightening; may be empty.
        """
        places = [self._at(self.radius, n, count) for n in range(count)]
        shapes: list[AnyShape] = []
        if order:
            path = tuple(places[screw - 1] for screw in order)
            shapes.append(Line(role=Role.QUIET, part="order of the screws", points=path))
        apart = 2 * pi * self.radius / count
        radius, size = min(2.6, 0.42 * apart), min(LETTER_MM, 0.52 * apart)
        for n, place in enumerate(places):
            shapes += [
                Circle(role=Role.BEARING, part="screw", centre=place, radius=radius),
                _centred(str(n + 1), place, size, "number of a screw", Role.TEXT),
            ]
        for turn, screw in enumerate(order, 1):
            at = self._at(self.turn_radius, screw - 1, count)
            shapes.append(_centred(str(turn), at, size, "turn of a screw", Role.FORCE))
        return tuple(shapes)

    def _at(self, radius: float, n: int, count: int) -> Point:
        angle = 2 * pi * n / count
        return self.centre[0] + radius * sin(angle), self.centre[1] - radius * cos(angle)


def _centred(words: str, at: Point, size: float, part: str, role: Role) -> Label:
    below = (at[0], at[1] + 0.36 * size)
    return Label(at=below, lines=(words,), anchor="middle", size=size, part=part, role=role)


_APART_MM = 7.4
"""Of screws beside one another, so that their numbers can be read. [mm]"""


def draw_screws_by_number(count: int, mounting: str) -> Picture:
    """Draw the clamp screws of a mounting, as large as their numbers need.

    Parameters
    ----------
    count : int
        Screws on the circle, 2 to 48. [-]
    mounting : str
        A clamped mounting.

    Returns
    -------
    Picture

    Examples
    --------
    >>> draw_screws_by_number(8, "tapered_bushing").title
    '8 clamp screws and their order'
    """
    order = screw_order(count, mounting)
    radius = max(14.0, _APART_MM * count / (2 * pi))
    middle = radius + 8.5
    circle = CircleOfScrews((middle, middle), radius, radius + 5.6)
    shaft = Circle(role=Role.SHAFT, part="shaft", centre=circle.centre, radius=0.45 * radius)
    listed = " ".join(map(str, order))
    return Picture(
        title=f"{count} clamp screws and their order",
        description=(
            f"{count} clamp screws, numbered clockwise from the top, and their order: {listed}."
        ),
        width=2 * middle,
        height=2 * middle,
        shapes=(shaft, *circle.shapes(count, order)),
    )
