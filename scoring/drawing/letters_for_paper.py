"""A picture whose letters are large enough to be read on paper."""

from collections.abc import Iterator
from dataclasses import replace
from textwrap import wrap

from scoring.drawing.shapes import Box, Label, Mark, Picture
from scoring.drawing.sheet import Sheet

MOST_LINES = 3
"""Words that have no room in one line are broken into no more. Ours."""


def with_letters_of(picture: Picture, least: float) -> Picture:
    """Return a picture in which no letter is smaller than a height.

    Parameters
    ----------
    picture : Picture
        The picture.
    least : float
        Height of the smallest letter, on the paper of the picture. [mm]

    Returns
    -------
    Picture
        Smaller words are written larger: where they stand if there is room, in more lines if that
        gives it, else as near as there is room.

    Examples
    --------
    >>> words = Label(at=(1, 5), lines=("dot",), size=2.0)
    >>> with_letters_of(Picture("a dot", "One dot.", 20, 10, (words,)), 3.0).shapes[0].size
    3.0
    """
    small = [
        place
        for place, shape in enumerate(picture.shapes)
        if isinstance(shape, Label) and shape.size < least - 1e-9
    ]
    if not small:
        return picture
    shapes = list(picture.shapes)
    sheet = Sheet(Box(0.5, 0.5, picture.width - 0.5, picture.height - 0.5))
    sheet.taken = [
        shape.box
        for place, shape in enumerate(shapes)
        if isinstance(shape, Label | Mark) and place not in small
    ]
    for place in small:
        label = shapes[place]
        assert isinstance(label, Label)  # noqa: S101 - as chosen above
        ways = list(_larger(label, least))
        sheet.write(next((way for way in ways if sheet.is_free(way.box)), ways[0]))
        shapes[place] = sheet.shapes[-1]
    return replace(picture, shapes=tuple(shapes))


def _larger(label: Label, least: float) -> Iterator[Label]:
    """Write words larger, in as many lines as they have, then in more."""
    yield replace(label, size=least)
    text = " ".join(label.lines)
    for count in range(len(label.lines) + 1, MOST_LINES + 1):
        width = max(len(text) // count, *map(len, text.split()))
        lines = tuple(wrap(text, width + 2, break_long_words=False, break_on_hyphens=False))
        if lines:
            yield replace(label, size=least, lines=lines)
