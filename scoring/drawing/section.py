"""A section being drawn: shapes in mm of machine, mirrored about the shaft's axis."""

from dataclasses import dataclass, field, replace
from typing import NamedTuple

from scoring.drawing.joint_found import JointFound
from scoring.drawing.joint_sizes import JointSizes
from scoring.drawing.shapes import Box, Circle, Line, Point, Polygon, Role, around

Drawn = Polygon | Line | Circle


class Callout(NamedTuple):
    """Words that a thin line ties to a part."""

    lines: tuple[str, ...]
    at: Point
    checks: tuple[str, ...]
    below: bool = False


@dataclass
class Section:
    """A section while its parts are added; along the shaft and away from its axis, in mm.

    Attributes
    ----------
    sizes : JointSizes
        Where everything lies.
    found : JointFound
        What was found.
    shapes : list of shapes
        In mm of machine, y upward from the axis.
    callouts : list of Callout
        What is written beside it.
    places : dict of str to Point
        Where the finding of a check is marked.
    notes : list of str
        What must be said beside the picture.
    """

    sizes: JointSizes
    found: JointFound
    shapes: list[Drawn] = field(default_factory=list)
    callouts: list[Callout] = field(default_factory=list)
    places: dict[str, Point] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)

    def role(self, check: str, seen: Role = Role.PART) -> Role:
        """Return the role of a part that a check is of: quiet and dashed unless seen."""
        return seen if self.found.seen(check) else Role.UNSEEN

    def outline(
        self, part: str, role: Role, points: list[Point], *, cut: bool = False, both: bool = True
    ) -> None:
        """Add an outline above the axis, and its mirror image below."""
        self.shapes.append(Polygon(role=role, part=part, points=tuple(points), cut=cut))
        if both:
            mirrored = tuple((x, -y) for x, y in points)
            self.shapes.append(Polygon(role=role, part=part, points=mirrored, cut=cut))

    def ring(self, part: str, role: Role, along: Point, away: Point, *, cut: bool = False) -> None:
        """Add a ring in section."""
        self.outline(part, role, rectangle(along, away), cut=cut)

    def one(self, part: str, role: Role, along: Point, away: Point, *, cut: bool = False) -> None:
        """Add a rectangle on one side of the axis, or across it."""
        self.outline(part, role, rectangle(along, away), cut=cut, both=False)

    def line(self, part: str, role: Role, *points: Point) -> None:
        """Add a line."""
        self.shapes.append(Line(role=role, part=part, points=points))

    def screw(self, part: str, role: Role, along: Point, away: float, thick: float) -> None:
        """Add a screw along the shaft, from the inner face of its head to its tip."""
        head, tip = along
        grow = 1 if head > tip else -1
        self.one(part, role, (tip, head), (away - thick / 2, away + thick / 2))
        self.one(part, role, (head, head + grow * thick * 0.8), (away - thick, away + thick))

    @property
    def box(self) -> Box:
        """The room that the machine takes [mm]."""
        return around([corner for shape in self.shapes for corner in _corners(shape.box)])


def rectangle(along: Point, away: Point) -> list[Point]:
    """Return the corners of a rectangle from its limits along the shaft and away from it."""
    (x0, x1), (y0, y1) = along, away
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


def _corners(box: Box) -> list[Point]:
    return [(box.left, box.top), (box.right, box.bottom)]


@dataclass(frozen=True)
class Scale:
    """From mm of machine to mm of paper.

    Attributes
    ----------
    per_mm : float
        Paper over machine. [-]
    origin : Point
        Where the place 0 of the axis lies on paper. [mm]
    """

    per_mm: float
    origin: Point

    @classmethod
    def to_fit(cls, machine: Box, paper: Box) -> "Scale":
        """Return the largest scale at which a machine fits, in the middle."""
        per_mm = min(paper.width / machine.width, paper.height / machine.height)
        x = (paper.left + paper.right - per_mm * (machine.left + machine.right)) / 2
        y = (paper.top + paper.bottom + per_mm * (machine.top + machine.bottom)) / 2
        return cls(per_mm, (x, y))

    def point(self, at: Point) -> Point:
        """Return where a point of the machine lies on paper."""
        return (self.origin[0] + self.per_mm * at[0], self.origin[1] - self.per_mm * at[1])

    def shape(self, shape: Drawn) -> Drawn:
        """Return a shape of the machine as it is drawn on paper."""
        if isinstance(shape, Circle):
            radius = shape.radius * self.per_mm
            return replace(shape, centre=self.point(shape.centre), radius=radius)
        return replace(shape, points=tuple(self.point(point) for point in shape.points))
