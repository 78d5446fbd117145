"""Bars of one unit: what moves its loss, and what narrows the interval of a chance."""

from collections.abc import Sequence

from scoring.contract.events import MODE_WORDS
from scoring.drawing.shapes import AnyShape, Line, Picture, Polygon, Role
from scoring.explanation.what_moves_it import MovedInput
from scoring.explanation.what_narrows_it import WhatNarrows
from scoring.sheets.sheet_blocks import BarRow, Bars

WIDTH, HEIGHT = 53.6, 4.2
"""Of the picture of one bar. [mm]"""

MOST_BARS = 9
MOST_INTERVALS = 5
"""More would be read by nobody. Ours."""


def bars_of_what_moves(moved: Sequence[MovedInput], loss: float, currency: str) -> Bars:
    """Show by how much each input moves the expected loss.

    Parameters
    ----------
    moved : sequence of MovedInput
        What moves it most first.
    loss : float
        As it is known. [currency]
    currency : str
        In which it is.
    """
    shown = moved[:MOST_BARS]
    ends = [(one.ends[0][1], one.ends[1][1]) for one in shown]
    rows = tuple(
        BarRow(one.name, one.known, one.ends[0][0], picture, one.ends[1][0])
        for one, picture in zip(shown, _pictures(ends, loss, "{:,.0f} " + currency), strict=True)
    )
    most = max([loss, *(high for _, high in ends)])
    least = min([loss, *(low for low, _ in ends)])
    scale = (
        f"{least:,.0f} to {most:,.0f} {currency}; the line: {loss:,.0f} {currency}, as known now"
    )
    return Bars(("input", "how it is known", "loss least at", scale, "loss most at"), rows)


def bars_of_what_narrows(narrows: WhatNarrows) -> Bars:
    """Show the 90 % interval of a chance now, and what it were with one thing more known."""
    shown = [("as known now", "", narrows.low, narrows.high)]
    shown += [(one.name, one.do, one.low, one.high) for one in narrows.by[:MOST_INTERVALS]]
    ends = [(low, high) for _, _, low, high in shown]
    rows = tuple(
        BarRow(name, do, f"{low:.2%}", picture, f"{high:.2%}")
        for (name, do, low, high), picture in zip(
            shown, _pictures(ends, narrows.chance, "{:.2%}"), strict=True
        )
    )
    scale = f"chance of a {MODE_WORDS[narrows.mode]}; the line: {narrows.chance:.2%}"
    return Bars(("what would be known", "what to do", "from", scale, "to"), rows)


def _pictures(ends: list[tuple[float, float]], at: float, said: str) -> list[Picture]:
    """Draw bars on one scale, each with the line of what is known now."""
    least, most = min([at, *(low for low, _ in ends)]), max([at, *(high for _, high in ends)])
    scale = (WIDTH - 2.0) / (most - least) if most > least else 0.0
    places = [
        (1.0 + (low - least) * scale, 1.0 + (high - least) * scale, 1.0 + (at - least) * scale)
        for low, high in ends
    ]
    words = [f"from {said.format(low)} to {said.format(high)}" for low, high in ends]
    return [_one(*place, one.strip()) for place, one in zip(places, words, strict=True)]


def _one(left: float, right: float, line: float, words: str) -> Picture:
    right = max(right, left + 0.5)
    top, base = 0.2 * HEIGHT, 0.8 * HEIGHT
    shapes: tuple[AnyShape, ...] = (
        Polygon(role=Role.RUBBER, points=((left, top), (right, top), (right, base), (left, base))),
        Line(role=Role.FORCE, points=((line, 0.0), (line, HEIGHT))),
    )
    return Picture("a bar", words, WIDTH, HEIGHT, shapes)
