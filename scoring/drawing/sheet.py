"""A sheet that is drawn upon: words and marks find room beside one another."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from scoring.drawing.shapes import AnyShape, Box, Label, Line, Mark, Point, Role

STEP = 1.5
"""How far words and marks are moved at a time to find room. [mm]"""

GAP = 0.4
"""Least distance of words and marks. [mm]"""


@dataclass
class Sheet:
    """Shapes so far, and the room that words and marks take.

    Attributes
    ----------
    room : Box
        Where words and marks may stand. [mm]
    shapes : list of shapes
        In the order in which they are drawn.
    taken : list of Box
        Where no more words or marks may stand. [mm]
    """

    room: Box
    shapes: list[AnyShape] = field(default_factory=list)
    taken: list[Box] = field(default_factory=list)

    def draw(self, *shapes: AnyShape) -> None:
        """Draw shapes where they are."""
        self.shapes.extend(shapes)

    def write(self, label: Label) -> None:
        """Write words where they are wished, or as near to it as there is room.

        Examples
        --------
        >>> sheet = Sheet(Box(0, 0, 50, 50))
        >>> sheet.write(Label(at=(5, 10), lines=("one",)))
        >>> sheet.write(Label(at=(5, 10), lines=("two",)))
        >>> one, two = (shape.box for shape in sheet.shapes)
        >>> one.overlaps(two)
        False
        """
        x, y = label.at
        for dx, dy in _nearest_first(self.room):
            moved = replace(label, at=(x + dx, y + dy))
            if self.is_free(moved.box):
                break
        else:
            moved = label
        self.shapes.append(moved)
        self.taken.append(moved.box)

    def mark(self, target: Point, mark: Mark) -> None:
        """Set a mark near where it is wished, with a thin line to what it marks."""
        x, y = mark.at
        for dx, dy in _nearest_first(self.room):
            moved = replace(mark, at=(x + dx, y + dy))
            if self.is_free(moved.box):
                break
        else:
            moved = mark
        if target != moved.at:
            self.shapes.append(Line(role=Role.DIMENSION, part="leader", points=(moved.at, target)))
        self.shapes.append(moved)
        self.taken.append(moved.box)

    def is_free(self, box: Box) -> bool:
        """Tell whether words or a mark may stand somewhere."""
        return self.room.holds(box) and not any(box.overlaps(other, GAP) for other in self.taken)


def _nearest_first(room: Box) -> Iterator[Point]:
    """Go round in ever wider squares."""
    rings = int(max(room.width, room.height) / STEP) + 1
    yield 0.0, 0.0
    for ring in range(1, rings):
        far = ring * STEP
        for place in range(-ring, ring):
            near = place * STEP
            yield near, -far
            yield -near, far
            yield far, near
            yield -far, -near
