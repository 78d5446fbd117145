"""How often sites and crews hang units right, beside what luck alone makes of groups so large."""

from collections.abc import Sequence
from dataclasses import dataclass

from scoring.drawing.plot_axes import HALF_LINE, LETTER_MM, Axes
from scoring.drawing.shapes import AnyShape, Box, Circle, Label, Line, Picture, Point, Polygon, Role

WIDTH, HEIGHT = 84.0, 38.0
"""The paper. [mm]"""

_SIDE = 1.1
"""Half the side of a square, and the radius of a circle. [mm]"""


@dataclass(frozen=True)
class Group:
    """A site or a crew.

    Attributes
    ----------
    is_site : bool
        Else it is a crew.
    of : int
        Installations that were judged.
    share, low, high : float
        Share that was right, and what luck alone makes of it. [-]
    outside : bool
        Whether it lies beyond that.
    """

    is_site: bool
    of: int
    share: float
    low: float
    high: float
    outside: bool


def draw_right_beside_luck(groups: Sequence[Group]) -> Picture:
    """Draw sites as squares and crews as circles, each with a line of what luck makes.

    Parameters
    ----------
    groups : sequence of Group
        At least one.

    Returns
    -------
    Picture
        Filled: who lies outside. Nobody is named.
    """
    most = max(group.of for group in groups)
    axes = Axes(Box(14.0, 8.0, WIDTH - 4.0, HEIGHT - 7.5), 0.0, most * 1.05, 1.0)
    shapes: list[AnyShape] = list(axes.heights(lambda share: f"{100 * share:.0f} %"))
    for group in groups:
        ends = axes.at(group.of, group.low), axes.at(group.of, group.high)
        shapes.append(Line(role=Role.QUIET, part="luck", points=ends))
    shapes += [_mark(group, axes.at(group.of, group.share)) for group in groups]
    for value in (0, most):
        x, y = axes.at(value, 0.0)
        at = (x, y + 5.0)
        shapes.append(Label(at=at, lines=(str(value),), anchor="middle", size=LETTER_MM))
    middle = axes.at(most / 2, 0.0)
    shapes += [
        Label(
            at=(middle[0], middle[1] + 5.0),
            lines=("installations judged",),
            anchor="middle",
            size=LETTER_MM,
        ),
        *_legend(),
    ]
    outside = sum(group.outside for group in groups)
    return Picture(
        "right the first time, beside luck",
        f"Share of installations right the first time against how many were judged, of "
        f"{len(groups)} sites and crews; {outside} lie outside of what luck alone makes.",
        WIDTH,
        HEIGHT,
        tuple(shapes),
    )


def _mark(group: Group, at: Point) -> AnyShape:
    role = Role.INK if group.outside else Role.BEARING
    if not group.is_site:
        return Circle(role=role, part="crew", centre=at, radius=_SIDE)
    x, y = at
    corners = tuple((x + a * _SIDE, y + b * _SIDE) for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1)))
    return Polygon(role=role, part="site", points=corners)


def _legend() -> list[AnyShape]:
    y = LETTER_MM * (1 - HALF_LINE) + 0.5
    inside = {"share": 0.0, "low": 0.0, "high": 0.0, "of": 0, "outside": False}
    words = (("site", 16.0), ("crew", 34.0))
    shapes: list[AnyShape] = []
    for n, (word, left) in enumerate(words):
        shapes += [
            _mark(Group(is_site=n == 0, **inside), (left, y)),  # type: ignore[arg-type]
            Label(at=(left + 2.4, LETTER_MM + 0.5), lines=(word,), size=LETTER_MM),
        ]
    line = Line(role=Role.QUIET, part="luck", points=((53.0, 0.8), (53.0, LETTER_MM + 0.8)))
    return [*shapes, line, Label(at=(55.0, LETTER_MM + 0.5), lines=("luck alone",), size=LETTER_MM)]
