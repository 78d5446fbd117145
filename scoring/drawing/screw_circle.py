"""The circle of clamp screws: numbers, order of tightening, passes, and what was found."""

from scoring.assessment import Assessment
from scoring.drawing.circle_of_screws import CircleOfScrews
from scoring.drawing.screw_circle_known import (
    MOST_SCREWS,
    ScrewsAsKnown,
    has_screw_circle,
    screws_as_known,
)
from scoring.drawing.shapes import LETTER_WIDTH, Box, Circle, Label, Line, Picture, Point, Role
from scoring.drawing.sheet import Sheet
from scoring.rules.tightening_schedule import LEAST_PASSES

__all__ = ["draw_screw_circle", "has_screw_circle"]

WIDTH, HEIGHT = 120.0, 110.0
"""The paper. [mm]"""

CENTRE: Point = (38.0, 41.0)
PITCH_RADIUS = 27.0
ORDER_RADIUS = 33.6
"""The circle of screws on the paper, and the circle of the numbers beside it. [mm]"""


def draw_screw_circle(
    assessment: Assessment, unit_id: str, final_torque_nm: float | None = None
) -> Picture:
    """Draw the clamp screws of a unit, how they are tightened, and what was found.

    Parameters
    ----------
    assessment : Assessment
        What is known.
    unit_id : str
        A unit in service.
    final_torque_nm : float, optional
        Final torque from the unit's own manual, above 0; by default that on the unit's nameplate;
        where there is neither, shares are shown. [N·m]

    Returns
    -------
    Picture
        Not to scale.

    Raises
    ------
    FixableError
        If no unit of that id is in service.
    OutOfRangeError
        If the final torque entered is not above 0.
    ValueError
        If its mounting has no clamp screws; ask ``has_screw_circle`` before.

    Notes
    -----
    Order and shares are those of ``mount-risk tighten``: common practice, no source.
    """
    screws = screws_as_known(assessment, unit_id, final_torque_nm)
    sheet = Sheet(Box(1.0, 1.0, WIDTH - 1.0, HEIGHT - 1.0))
    _draw_circle(sheet, screws)
    _write_passes(sheet, screws)
    _write_found(sheet, screws)
    return Picture(
        f"clamp screws of {unit_id}",
        _describe(screws),
        WIDTH,
        HEIGHT,
        tuple(sheet.shapes),
        _notes(screws),
    )


def _draw_circle(sheet: Sheet, screws: ScrewsAsKnown) -> None:
    """Draw screws clockwise from the top, with their turn outside and the path lightly."""
    sheet.draw(
        Circle(role=Role.PART, part="clamp", centre=CENTRE, radius=PITCH_RADIUS + 3.0),
        Circle(role=Role.SHAFT, part="shaft", centre=CENTRE, radius=13.0),
        Circle(role=Role.CENTRE, part="pitch circle", centre=CENTRE, radius=PITCH_RADIUS),
    )
    if screws.count > MOST_SCREWS:
        words = (f"{screws.count} screws:", "too many to draw")
        sheet.write(Label(at=CENTRE, lines=words, anchor="middle", role=Role.QUIET))
        return
    sheet.draw(
        *CircleOfScrews(CENTRE, PITCH_RADIUS, ORDER_RADIUS).shapes(screws.count, screws.order)
    )


def _write_passes(sheet: Sheet, screws: ScrewsAsKnown) -> None:
    """Write the table of passes at the right."""
    left, y = 78.0, 10.0
    columns = (left, left + 22.0, left + 38.0)
    right = columns[1 if screws.final_torque is None else 2]
    heading = ("pass", "share", "" if screws.final_torque is None else "N·m")
    for n, row in enumerate([heading, *screws.rows]):
        role = Role.QUIET if n == 0 else Role.TEXT
        for x, words, anchor in zip(columns, row, ("start", "end", "end"), strict=True):
            if words:
                part = "heading" if n == 0 else "pass"
                sheet.write(Label(at=(x, y), lines=(words,), anchor=anchor, role=role, part=part))
        y += 1.6 if n == 0 else 5.0
        if n == 0:
            sheet.draw(Line(role=Role.DIMENSION, points=((left, y), (right, y))))
            y += 4.4
    size = 2.6
    lines = ("check pass: all round in", "a circle, until none turns")
    sheet.write(Label(at=(left, y), lines=lines, size=size, role=Role.QUIET))


def _write_found(sheet: Sheet, screws: ScrewsAsKnown) -> None:
    """Write below the circle how it is read, and what was found."""
    assumed = " (assumed)" if screws.count_assumed else ""
    lines = [(f"{screws.count} screws{assumed}, {screws.order_said}", Role.TEXT)]
    if screws.order:
        lines.append(("in each circle its number, outside its turn; not to scale", Role.QUIET))
    lines.append((screws.torque_words, Role.REQUIRED))
    y = 80.5
    for words, role in lines:
        sheet.write(Label(at=(4.0, y), lines=(words,), size=_fitting(words), role=role))
        y += 4.8
    for n, (name, words, fault) in enumerate(screws.found):
        role = Role.FINDING if fault else Role.UNSEEN if "not seen" in words else Role.TEXT
        said = f"{name}: {words}"
        at = (4.0 + 58.0 * (n % 2), y + 4.8 * (n // 2))
        sheet.write(Label(at=at, lines=(said,), size=_fitting(said, 56.0), role=role))
    if screws.low:
        _draw_low(sheet, screws.low, y + 9.6)


def _draw_low(sheet: Sheet, low: int, y: float) -> None:
    """Draw as many screws as were found low, apart from the circle."""
    words = "which ones: not recorded"
    sheet.write(Label(at=(4.0, y), lines=(words,), size=2.8, role=Role.FINDING))
    left, room = 48.0, WIDTH - 52.0
    apart = min(5.0, room / min(low, MOST_SCREWS))
    for n in range(min(low, MOST_SCREWS)):
        at = (left + (n + 0.5) * apart, y - 1.0)
        sheet.draw(
            Circle(role=Role.FINDING, part="screw found low", centre=at, radius=0.36 * apart)
        )


def _fitting(words: str, room: float = WIDTH - 8.0) -> float:
    """Return the size of letters at which words take no more than their room."""
    return min(3.2, room / (LETTER_WIDTH * len(words)))


def _describe(screws: ScrewsAsKnown) -> str:
    passes = "; ".join(
        f"pass {name} at {share}" + (f", {torque} N·m" if torque else "")
        for name, share, torque in screws.rows
    )
    order = f": {' '.join(map(str, screws.order))}" if screws.order else ""
    found = "; ".join(f"{name}: {words}" for name, words, _ in screws.found)
    assumed = ", assumed" if screws.count_assumed else ""
    which = " Which screws are low is not recorded." if screws.low else ""
    return (
        f"Circle of {screws.count} clamp screws{assumed}, numbered clockwise from the top. "
        f"{_as_sentence(screws.order_said)}{order}. {passes}, until no screw turns. "
        f"{_as_sentence(screws.torque_words)}. Found: {found}.{which}"
    )


def _notes(screws: ScrewsAsKnown) -> tuple[str, ...]:
    notes = [
        "Not to scale.",
        "Order and shares: common practice, no source; the unit's own manual comes first.",
    ]
    if screws.count_assumed:
        notes.append(f"Sizes assumed: {screws.count} clamp screws.")
    if screws.passes_assumed:
        notes.append(f"{screws.passes_asked} torque passes assumed.")
    elif screws.passes_asked < LEAST_PASSES:
        notes.append(f"The manual asks for {screws.passes_asked}; {LEAST_PASSES} are shown.")
    if screws.low:
        notes.append(f"{screws.low} screws found low or missing; which ones is not recorded.")
    return tuple(notes)


def _as_sentence(words: str) -> str:
    """Begin with a great letter, the rest as it is: N·m stays N·m.

    Examples
    --------
    >>> _as_sentence("final torque 107 N·m")
    'Final torque 107 N·m'
    """
    return f"{words[:1].upper()}{words[1:]}"
