"""A picture on a sheet, so large, or with letters so large, that it can be read on paper."""

from dataclasses import dataclass, replace

from scoring.drawing.letters_for_paper import with_letters_of
from scoring.drawing.shapes import Label, Mark, Picture

LEAST_LETTER_MM = 8 * 25.4 / 72
"""Letters of a picture are never smaller than 8 points on paper. [mm]"""

WIDEST_MM = 174.0
"""What both papers leave between their edges. [mm]"""

MARK_LETTER_MM = 3.4
"""Height of the figure in a mark. [mm]"""


@dataclass(frozen=True)
class Drawing:
    """A picture, as large as its letters need.

    Attributes
    ----------
    picture : Picture
        In millimetres.
    width_mm : float
        On paper; by default the least at which its letters can be read. [mm]
    """

    picture: Picture
    width_mm: float = 0.0

    def __post_init__(self) -> None:
        least = least_width_mm(self.picture)
        if not self.width_mm:
            object.__setattr__(self, "width_mm", min(max(least, 0.0), WIDEST_MM))


def least_width_mm(picture: Picture) -> float:
    """Return how wide a picture must be on paper for its smallest letters to be read.

    Examples
    --------
    >>> words = Label(at=(1, 5), lines=("a",), size=2.0)
    >>> round(least_width_mm(Picture("a", "One a.", 20.0, 10.0, (words,))), 1)
    28.2
    """
    sizes = [shape.size for shape in picture.shapes if isinstance(shape, Label)]
    sizes += [MARK_LETTER_MM for shape in picture.shapes if isinstance(shape, Mark)]
    return picture.width * LEAST_LETTER_MM / min(sizes) if sizes else picture.width


def legible(drawing: Drawing) -> Drawing:
    """Return a drawing whose letters can be read at its width, however they came to be smaller.

    Examples
    --------
    >>> words = Label(at=(1, 5), lines=("a",), size=2.0)
    >>> drawing = Drawing(Picture("a", "One a.", 20.0, 10.0, (words,)), width_mm=20.0)
    >>> legible(drawing).picture.shapes[0].size == LEAST_LETTER_MM
    True
    """
    least = LEAST_LETTER_MM * drawing.picture.width / min(drawing.width_mm, WIDEST_MM)
    return replace(drawing, picture=with_letters_of(drawing.picture, least))
