"""The small vocabulary of all pictures: shapes in millimetres of paper, each with a role."""

from dataclasses import dataclass
from enum import StrEnum

Point = tuple[float, float]

LETTER_WIDTH = 0.56
"""Mean width of a letter over its size, on the safe side; from memory of common sans faces. [-]"""

LINE_HEIGHT = 1.25
"""Distance of lines of text over the size of a letter. [-]"""


class Role(StrEnum):
    """What a shape stands for; a theme gives each role its look."""

    SHAFT = "shaft"
    HOUSING = "housing"
    PART = "part"
    RUBBER = "rubber"
    SEAL = "seal"
    BEARING = "bearing"
    GROUND = "ground"
    CENTRE = "centre"
    DIMENSION = "dimension"
    REQUIRED = "required"
    FINDING = "finding"
    FORCE = "force"
    QUIET = "quiet"
    UNSEEN = "unseen"
    TEXT = "text"
    INK = "ink"
    """Filled with what lines are drawn with: what is to be seen first on black and white."""


@dataclass(frozen=True)
class Box:
    """An upright rectangle on the paper.

    Attributes
    ----------
    left, top, right, bottom : float
        Edges; y runs downward. [mm]
    """

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """Width [mm]."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Height [mm]."""
        return self.bottom - self.top

    def overlaps(self, other: "Box", gap: float = 0.0) -> bool:
        """Tell whether two boxes share more than an edge, or come nearer than a gap [mm].

        Examples
        --------
        >>> Box(0, 0, 2, 2).overlaps(Box(1, 1, 3, 3)), Box(0, 0, 1, 1).overlaps(Box(1, 0, 2, 1))
        (True, False)
        """
        return (
            self.left < other.right + gap
            and other.left < self.right + gap
            and self.top < other.bottom + gap
            and other.top < self.bottom + gap
        )

    def holds(self, other: "Box") -> bool:
        """Tell whether another box lies within this one."""
        return (
            self.left <= other.left
            and self.top <= other.top
            and other.right <= self.right
            and other.bottom <= self.bottom
        )


def around(points: list[Point]) -> Box:
    """Return the smallest box that holds points."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return Box(min(xs), min(ys), max(xs), max(ys))


@dataclass(frozen=True, kw_only=True)
class Shape:
    """Anything that is drawn.

    Attributes
    ----------
    role : Role
        What it stands for.
    part : str
        Which part of the machine it is, for tests and for those who read the file; may be empty.
    """

    role: Role
    part: str = ""


@dataclass(frozen=True, kw_only=True)
class Polygon(Shape):
    """A closed outline.

    Attributes
    ----------
    points : tuple of Point
        Corners. [mm]
    cut : bool
        Whether it is cut by the section, and hatched.
    """

    points: tuple[Point, ...]
    cut: bool = False

    @property
    def box(self) -> Box:
        """The smallest box that holds it."""
        return around(list(self.points))


@dataclass(frozen=True, kw_only=True)
class Circle(Shape):
    """A circle.

    Attributes
    ----------
    centre : Point
        [mm]
    radius : float
        [mm]
    """

    centre: Point
    radius: float

    @property
    def box(self) -> Box:
        """The smallest box that holds it."""
        (x, y), r = self.centre, self.radius
        return Box(x - r, y - r, x + r, y + r)


@dataclass(frozen=True, kw_only=True)
class Line(Shape):
    """A line through points, perhaps with heads of arrows at its ends.

    Attributes
    ----------
    points : tuple of Point
        [mm]
    head, tail : bool
        Whether an arrow's head ends it, and begins it.
    """

    points: tuple[Point, ...]
    head: bool = False
    tail: bool = False

    @property
    def box(self) -> Box:
        """The smallest box that holds it."""
        return around(list(self.points))


@dataclass(frozen=True, kw_only=True)
class Label(Shape):
    """Words on the paper.

    Attributes
    ----------
    at : Point
        Where the first line stands: its base line's start, middle or end. [mm]
    lines : tuple of str
        What is written.
    anchor : str
        ``start``, ``middle`` or ``end``.
    size : float
        Height of a letter. [mm]
    """

    at: Point
    lines: tuple[str, ...]
    anchor: str = "start"
    size: float = 3.2
    role: Role = Role.TEXT

    @property
    def box(self) -> Box:
        """The room it takes, on the safe side."""
        width = max(len(line) for line in self.lines) * self.size * LETTER_WIDTH
        x, y = self.at
        left = {"start": x, "middle": x - width / 2, "end": x - width}[self.anchor]
        height = self.size * LINE_HEIGHT * (len(self.lines) - 1)
        return Box(left, y - self.size, left + width, y + height + 0.25 * self.size)


@dataclass(frozen=True, kw_only=True)
class Mark(Shape):
    """A numbered mark where a finding is; the list beside the picture has the same number.

    Attributes
    ----------
    at : Point
        Its centre. [mm]
    number : int
        From 1.
    check : str
        The check whose finding it marks.
    severe : bool
        Whether the finding is a hold: the mark is then a square, else round.
    """

    at: Point
    number: int
    check: str
    severe: bool = False
    radius: float = 3.0
    role: Role = Role.FINDING

    @property
    def box(self) -> Box:
        """The room it takes."""
        (x, y), r = self.at, self.radius
        return Box(x - r, y - r, x + r, y + r)


AnyShape = Polygon | Circle | Line | Label | Mark


@dataclass(frozen=True)
class Picture:
    """A picture, ready to be written.

    Attributes
    ----------
    title : str
        What it shows, in some words.
    description : str
        What it shows, in sentences: what one would tell a person who cannot see it.
    width, height : float
        Size of the paper. [mm]
    shapes : tuple of shapes
        Drawn in this order.
    notes : tuple of str
        What must be said beside it, as *sizes assumed*.
    """

    title: str
    description: str
    width: float
    height: float
    shapes: tuple[AnyShape, ...]
    notes: tuple[str, ...] = ()
