"""A part of a picture, on a paper of its own size."""

from collections.abc import Sequence
from dataclasses import replace

from scoring.drawing.shapes import AnyShape, Circle, Label, Line, Mark, Picture, Polygon, around

AROUND = 1.5
"""Room left round what is drawn. [mm]"""


def cut_out(picture: Picture, shapes: Sequence[AnyShape]) -> Picture:
    """Return some shapes of a picture on a paper that is no larger than they need.

    Parameters
    ----------
    picture : Picture
        The picture; title, description and notes stay.
    shapes : sequence of shapes
        Some of its shapes; at least one.

    Examples
    --------
    >>> word = Label(at=(50, 50), lines=("a",), size=4.0)
    >>> small = cut_out(Picture("a", "One a.", 100, 100, (word,)), [word])
    >>> small.width < 10 and small.height < 10
    True
    """
    boxes = [shape.box for shape in shapes]
    whole = around([(b.left, b.top) for b in boxes] + [(b.right, b.bottom) for b in boxes])
    right, down = AROUND - whole.left, AROUND - whole.top
    return replace(
        picture,
        width=whole.width + 2 * AROUND,
        height=whole.height + 2 * AROUND,
        shapes=tuple(_moved(shape, right, down) for shape in shapes),
    )


def _moved(shape: AnyShape, right: float, down: float) -> AnyShape:
    """Return a shape moved on the paper. [mm]."""
    match shape:
        case Polygon() | Line():
            return replace(shape, points=tuple((x + right, y + down) for x, y in shape.points))
        case Circle():
            return replace(shape, centre=(shape.centre[0] + right, shape.centre[1] + down))
        case Label() | Mark():
            return replace(shape, at=(shape.at[0] + right, shape.at[1] + down))
