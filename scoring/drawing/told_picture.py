"""A picture whose words are said otherwise, in the room that they had."""

from collections.abc import Callable
from dataclasses import replace
from textwrap import wrap

from scoring.drawing.shapes import AnyShape, Label, Picture

Tell = Callable[[str], str]
"""From a text to the same in other words."""

LEAST_OF_SIZE = 0.8
"""Letters are made smaller where words are longer, but never below this share. Ours."""

LEAST_TO_FIT = 0.75
"""And so much smaller still where words would be cut at the edge of the paper. Ours."""

WIDTH_OF_A_LETTER = 0.6
"""Of its height, on average, in the widest of the families a browser may take. Ours."""


def told_picture(picture: Picture, tell: Tell) -> Picture:
    """Return a picture with its words said otherwise.

    Parameters
    ----------
    picture : Picture
        The picture.
    tell : callable
        From a text to the same in other words.

    Examples
    --------
    >>> said = Picture("a dot", "One dot.", 10, 10, (Label(at=(1, 1), lines=("dot",), size=3.0),))
    >>> told_picture(said, lambda text: text.replace("dot", "Punkt")).shapes[0].lines
    ('Punkt',)
    """
    return replace(
        picture,
        title=tell(picture.title),
        description=tell(picture.description),
        shapes=tuple(_told(shape, tell, picture.width) for shape in picture.shapes),
        notes=tuple(map(tell, picture.notes)),
    )


def _told(shape: AnyShape, tell: Tell, width: float) -> AnyShape:
    if not isinstance(shape, Label):
        return shape
    lines = tuple(map(tell, shape.lines))
    if len(lines) > 1 and any(a == b for a, b in zip(lines, shape.lines, strict=True)):
        lines = _in_lines(tell(" ".join(shape.lines)), len(lines)) or lines
    longest, had = (max(map(len, each), default=0) for each in (lines, shape.lines))
    smaller = max(min(1.0, had / longest), LEAST_OF_SIZE) if longest else 1.0
    told = replace(shape, lines=lines, size=shape.size * smaller)
    return told if longest <= had else _on_paper(told, longest, width)


def _on_paper(label: Label, letters: int, width: float) -> Label:
    """Write a label that grew in smaller letters where it would leave the paper."""
    room = width - label.at[0] if label.anchor == "start" else label.at[0]
    if label.anchor == "middle":
        room = 2 * min(label.at[0], width - label.at[0])
    fits = room / (WIDTH_OF_A_LETTER * letters)
    return replace(label, size=max(min(label.size, fits), LEAST_TO_FIT * label.size))


def _in_lines(text: str, count: int) -> tuple[str, ...]:
    """Break a text into at most so many lines, as short as they can be; nothing where it cannot."""
    for width in range(max(len(text) // count, 1), len(text) + 1):
        lines = wrap(text, width, break_long_words=False, break_on_hyphens=False)
        if len(lines) <= count:
            return tuple(lines)
    return ()
