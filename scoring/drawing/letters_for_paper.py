"""A picture whose letters are large enough to be read on paper."""

from collections.abc import Iterator
from dataclasses import replace
from textwrap import wrap

from scoring.drawing.shapes import Box, Label, Mark, Picture
from scoring.drawing.sheet import STEP, Sheet

MOST_LINES = 3
"""Words that have no room in one line are broken into no more. Ours."""

MOST_STEPS, A_LINE_MORE = 30, 8.0
"""So many steps are words moved sideways; and how far that may be before a line more is better.
Ours. [-, mm]"""


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
        Smaller words are written larger: where they stand if there is room, else moved sideways or
        in more lines, else as near as there is room.

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
        free = (way for way in _by_cost(label, least) if sheet.is_free(way.box))
        sheet.write(next(free, replace(label, size=least)))
        shapes[place] = sheet.shapes[-1]
    return replace(picture, shapes=tuple(shapes))


def _by_cost(label: Label, least: float) -> list[Label]:
    """Write words larger: in more lines or moved sideways, that first which changes least."""
    x, y = label.at
    steps = [STEP * n for n in range(-MOST_STEPS, MOST_STEPS + 1)]
    ways = [
        (abs(dx) + A_LINE_MORE * more, replace(words, at=(x + dx, y)))
        for more, words in enumerate(_larger(label, least))
        for dx in steps
    ]
    return [way for _, way in sorted(ways, key=lambda one: one[0])]


def _larger(label: Label, least: float) -> Iterator[Label]:
    """Write words larger, in the lines that they have; a single line in more lines, too."""
    yield replace(label, size=least)
    if len(label.lines) > 1:
        return
    text = label.lines[0]
    for count in range(2, MOST_LINES + 1):
        width = max(len(text) // count, *map(len, text.split()), 1)
        lines = tuple(wrap(text, width + 2, break_long_words=False, break_on_hyphens=False))
        if len(lines) == count:
            yield replace(label, size=least, lines=lines)
