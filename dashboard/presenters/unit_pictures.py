"""The pictures of one unit as its page shows them."""

from base64 import b64encode
from dataclasses import dataclass
from xml.sax.saxutils import quoteattr

from scoring.assessment import Assessment
from scoring.contract.cautions import CAUTIONS
from scoring.drawing.numbered_findings import NumberedFinding, numbered_findings
from scoring.drawing.pictures_of_unit import PICTURE_WORDS, pictures_of_unit
from scoring.drawing.shapes import Mark, Picture
from scoring.drawing.svg import to_svg
from scoring.drawing.told_picture import told_picture
from scoring.language.tell import told

PIXELS_OF_A_MILLIMETRE = 5
"""A letter of 3.2 mm of paper is then as high as the page's own. [px/mm]"""

LEAST_WIDTH = 560
"""A narrower screen shows a part of the picture, to be shifted: letters stay legible. [px]"""


@dataclass(frozen=True)
class ShownPicture:
    """A picture with what stands beside it.

    Attributes
    ----------
    name : str
        What a person calls it.
    svg, for_print : str
        The picture itself, in the colours of the page, and in black and white.
    file_name : str
        Under which a browser may save it.
    width : int
        As wide as it is read well on a desk. [px]
    title, description : str
        What it shows, in some words and in sentences.
    marked : tuple of str
        The findings that it marks, each with its number.
    elsewhere : tuple of int
        Numbers of the findings that are marked in other pictures only.
    notes : tuple of str
        What must be said beside it; the cautions stand below every page.
    """

    name: str
    svg: str
    for_print: str
    file_name: str
    width: int
    title: str
    description: str
    marked: tuple[str, ...]
    elsewhere: tuple[int, ...]
    notes: tuple[str, ...]

    @property
    def as_image(self) -> str:
        """The picture as an image in HTML, with what it shows as its text alternative."""
        data = b64encode(self.svg.encode()).decode("ascii")
        return (
            '<div class="drawn"><p class="wider">The picture is wider than the screen: shift it '
            'sideways.</p><div class="shifted" tabindex="0" role="region" '
            f"aria-label={quoteattr(self.title)}>"
            f'<img src="data:image/svg+xml;base64,{data}" style="width:100%;'
            f'min-width:{min(self.width, LEAST_WIDTH)}px;max-width:{self.width}px" '
            f"alt={quoteattr(self.description)}></div></div>"
        )


def shown_pictures(assessment: Assessment, unit_id: str, theme: str) -> list[ShownPicture]:
    """Return the pictures of a unit in the colours of the page.

    Parameters
    ----------
    assessment : Assessment
        What is said of the fleet.
    unit_id : str
        The unit.
    theme : str
        ``light`` or ``dark``.
    """
    found = numbered_findings(assessment, unit_id)
    pictures = pictures_of_unit(assessment, unit_id)
    return [_shown(PICTURE_WORDS[word], pictures[word], found, theme) for word in pictures]


def opens_with(pictures: list[ShownPicture]) -> str:
    """Return the name of the first picture that marks the worst finding, or the first of all."""
    first = "1  "
    marking = [p.name for p in pictures if any(said.startswith(first) for said in p.marked)]
    return marking[0] if marking else pictures[0].name


def _shown(
    name: str, picture: Picture, found: tuple[NumberedFinding, ...], theme: str
) -> ShownPicture:
    drawn = told_picture(picture, told)
    checks = {shape.check for shape in picture.shapes if isinstance(shape, Mark)}
    marked = tuple(_said(finding) for finding in found if finding.check in checks)
    notes = tuple(note for note in picture.notes if note != CAUTIONS)
    return ShownPicture(
        name,
        to_svg(drawn, theme),
        to_svg(drawn, "paper"),
        f"{picture.title}.svg",
        round(PIXELS_OF_A_MILLIMETRE * picture.width),
        picture.title,
        picture.description,
        marked,
        tuple(finding.number for finding in found if finding.check not in checks),
        notes,
    )


def _said(finding: NumberedFinding) -> str:
    return f"{finding.number}  {'■ hold: ' if finding.severe else ''}{finding.words}"
