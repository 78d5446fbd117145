"""What a fleet is expected to lose, month's end by month's end, with its interval."""

from collections.abc import Sequence

from scoring.contract.amounts_in_words import rounded, thousands
from scoring.drawing.plot_axes import LETTER_MM, Axes
from scoring.drawing.shapes import AnyShape, Box, Circle, Label, Line, Picture, Polygon, Role

WIDTH, HEIGHT = 84.0, 36.0
"""The paper. [mm]"""

IN_THOUSANDS_FROM = 10_000.0
"""From here on amounts are written in thousands. Ours. [currency]"""


def draw_money(
    months: Sequence[str], losses: Sequence[tuple[float, float, float]], currency: str
) -> Picture:
    """Draw the loss that is expected within a year of each month's end.

    Parameters
    ----------
    months : sequence of str
        The month's ends, the oldest first, as ``2026-06``.
    losses : sequence of (float, float, float)
        Mean and ends of the 90 % interval. [currency]
    currency : str
        Its code; empty where it is not known.

    Returns
    -------
    Picture
        A line within a hatched band.
    """
    most = max((high for _, _, high in losses), default=0.0)
    scale = 1000.0 if most >= IN_THOUSANDS_FROM else 1.0
    axes = Axes(
        Box(17.0, 7.0, WIDTH - 7.0, HEIGHT - 7.0), 0.0, max(len(months) - 1, 1), most / scale
    )
    middle = tuple(axes.at(n, mean / scale) for n, (mean, _, _) in enumerate(losses))
    lows = [axes.at(n, low / scale) for n, (_, low, _) in enumerate(losses)]
    highs = [axes.at(n, high / scale) for n, (_, _, high) in enumerate(losses)]
    unit = _unit(scale, currency)
    shapes: list[AnyShape] = [
        *axes.heights(),
        Polygon(role=Role.QUIET, part="interval", points=(*lows, *reversed(highs)), cut=True),
        Line(role=Role.FORCE, part="loss", points=middle),
        *(Circle(role=Role.FORCE, part="loss", centre=at, radius=0.6) for at in middle),
        *axes.months(months),
    ]
    if unit:
        shapes.append(Label(at=(1.0, LETTER_MM), lines=(unit,), size=LETTER_MM, part="unit"))
    first, last = losses[0], losses[-1]
    return Picture(
        "expected loss by month's end",
        f"Expected loss within a year, at each month's end from {months[0]} to {months[-1]}: a "
        f"line from {rounded(first[0])} to {rounded(last[0])}, hatched its 90 % interval, at the "
        f"end {rounded(last[1])} to {rounded(last[2])}.",
        WIDTH,
        HEIGHT,
        tuple(shapes),
    )


def _unit(scale: float, currency: str) -> str:
    return currency if scale == 1.0 else f"× {thousands(scale)} {currency}".rstrip()
