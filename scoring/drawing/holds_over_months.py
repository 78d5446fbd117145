"""How many units must not run, month's end by month's end, by how long that has been so."""

from collections.abc import Sequence

from scoring.drawing.plot_axes import LETTER_MM, Axes, bar
from scoring.drawing.shapes import AnyShape, Box, Label, Picture, Polygon, Role

WIDTH, HEIGHT = 84.0, 36.0
"""The paper. [mm]"""

BETWEEN = 1.0
"""Between the words of a legend. [mm]"""

SHARE_OF_ROOM = 0.7
"""Width of a bar over the room of a month. Ours. [-]"""

_LOOKS = ((Role.BEARING, False), (Role.BEARING, True), (Role.INK, False))
"""Of the youngest to the oldest: white, hatched, black."""


def draw_holds(
    months: Sequence[str], counts: Sequence[Sequence[int]], ages: Sequence[str]
) -> Picture:
    """Draw open holds by age.

    Parameters
    ----------
    months : sequence of str
        The month's ends, the oldest first, as ``2026-06``.
    counts : sequence of sequence of int
        For each of them, how many holds of each age.
    ages : sequence of str
        What the ages are called, the youngest first.

    Returns
    -------
    Picture
        Bars, the oldest holds at the bottom.
    """
    most = max((sum(row) for row in counts), default=0)
    axes = Axes(Box(12.0, 9.0, WIDTH - 3.0, HEIGHT - 7.0), -0.5, len(months) - 0.5, max(most, 1))
    shapes: list[AnyShape] = list(axes.heights())
    half = SHARE_OF_ROOM / 2
    for n, row in enumerate(counts):
        below = 0
        for age in reversed(range(len(ages))):
            if row[age]:
                left, low = axes.at(n - half, below)
                right, high = axes.at(n + half, below + row[age])
                shapes.append(_bar(Box(left, high, right, low), age))
            below += row[age]
    shapes += axes.months(months)
    left = 1.0
    for age, words in enumerate(ages):
        shapes.append(_bar(Box(left, 0.9, left + 3.0, LETTER_MM + 0.3), age))
        label = Label(at=(left + 4.0, LETTER_MM), lines=(words,), size=LETTER_MM)
        shapes.append(label)
        left = label.box.right + BETWEEN
    now = ", ".join(f"{count} {age}" for age, count in zip(ages, counts[-1], strict=True))
    return Picture(
        "holds by age",
        f"Units that must not run at each month's end from {months[0]} to {months[-1]}; at the "
        f"end {now}.",
        WIDTH,
        HEIGHT,
        tuple(shapes),
    )


def _bar(edges: Box, age: int) -> Polygon:
    role, cut = _LOOKS[age]
    return bar(edges, role=role, cut=cut)
