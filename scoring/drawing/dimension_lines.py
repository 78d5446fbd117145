"""Lengths under the section: shaft in the bore, length asked for, and a bar of the scale."""

from math import floor, log10

from scoring.drawing.section import Scale, Section
from scoring.drawing.shapes import LETTER_WIDTH, AnyShape, Box, Label, Line, Role

SIZE = 3.2
ROW = 6.6
"""Height of a letter and distance of two dimension lines. [mm]"""


def dimension_lines(section: Section, scale: Scale, paper: Box, top: float) -> list[AnyShape]:
    """Dimension the shaft in the bore and the length asked for, one below the other.

    Parameters
    ----------
    section : Section
        The section.
    scale : Scale
        Its scale.
    paper : Box
        Where words may stand.
    top : float
        Where the first row begins. [mm]

    Returns
    -------
    list of shapes
    """
    s, found = section.sizes, section.found
    if found.seen("engagement_mm"):
        role = Role.FINDING if found.bad("engagement_mm") else Role.DIMENSION
        words = f"{s.engaged:.4g} mm in the bore"
    else:
        role, words = Role.UNSEEN, "length in the bore: " + found.said("engagement_mm")
    rows = [_row("engaged", role, section, scale, (s.engaged, words), paper, top + ROW)]
    line = top + 2 * ROW
    if s.required is None:
        at = (scale.point((0.0, 0.0))[0], line - 1.2)
        rows.append([_words("required", Role.QUIET, "no length stated by the manual", at, paper)])
    else:
        asked = (s.required, f"{s.required:.4g} mm asked for")
        rows.append(_row("required", Role.REQUIRED, section, scale, asked, paper, line))
    return [shape for row in rows for shape in row]


def _row(  # noqa: PLR0913 - a dimension is all of these
    part: str,
    role: Role,
    section: Section,
    scale: Scale,
    length: tuple[float, str],
    paper: Box,
    y: float,
) -> list[AnyShape]:
    """Return one dimension line, the lines up to what it measures, and its words."""
    (begin, axis), (end, _) = scale.point((0.0, 0.0)), scale.point((length[0], 0.0))
    foot = axis + scale.per_mm * section.sizes.radius
    witness = Role.QUIET if role is not Role.REQUIRED else Role.REQUIRED
    return [
        *(
            Line(role=witness, part=f"{part}_end", points=((x, foot), (x, y + 1)))
            for x in (begin, end)
        ),
        Line(role=role, part=part, points=((begin, y), (end, y)), head=True, tail=True),
        _words(part, role, length[1], ((begin + end) / 2, y - 1.2), paper),
    ]


def _words(part: str, role: Role, text: str, at: tuple[float, float], paper: Box) -> Label:
    half = len(text) * SIZE * LETTER_WIDTH / 2
    x = min(max(at[0], paper.left + half), paper.right - half)
    return Label(
        at=(x, at[1]), lines=(text,), anchor="middle", size=SIZE, role=role, part=f"{part}_words"
    )


def scale_bar(scale: Scale, left: float, y: float) -> list[AnyShape]:
    """Draw a bar of a round length of machine.

    Parameters
    ----------
    scale : Scale
        The scale.
    left, y : float
        Where it begins. [mm]

    Returns
    -------
    list of shapes
    """
    length = round_length(30 / scale.per_mm)
    end = left + length * scale.per_mm
    ticks = [
        Line(role=Role.DIMENSION, part="scale_bar_end", points=((x, y - 1), (x, y + 1)))
        for x in (left, end)
    ]
    return [
        Line(role=Role.DIMENSION, part="scale_bar", points=((left, y), (end, y))),
        *ticks,
        Label(
            at=(end + 2, y + 1),
            lines=(f"{length:g} mm",),
            size=SIZE - 0.2,
            role=Role.DIMENSION,
            part="scale_bar_words",
        ),
    ]


def round_length(most: float) -> float:
    """Return the largest of 1, 2, 5, 10, 20, ... that is not above a length.

    Examples
    --------
    >>> round_length(73.0), round_length(0.3), round_length(200.0)
    (50.0, 0.2, 200.0)
    """
    power = 10.0 ** floor(log10(most))
    digit = max(d for d in (1, 2, 5) if d * power <= most * (1 + 1e-9))
    return float(f"{digit * power:.6g}")
