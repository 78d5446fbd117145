"""Colours, sizes and spaces of everything that is looked at: pages, charts, pictures.

Declared once. Every pair that is used has a contrast of 4.5 to 1 or more (WCAG 2),
lines and marks 3 to 1.
"""

from dataclasses import dataclass


@dataclass(frozen=True)
class Tokens:
    """The colours of one theme, each for one purpose.

    Attributes
    ----------
    ground, raised : str
        What everything stands on, and what is set off from it.
    ink, quiet : str
        Text, and text that is read second.
    hold, correct, watch : str
        Verdicts; *no finding* is ink.
    action : str
        Buttons.
    rule : str
        Lines between rows and round fields.
    """

    ground: str
    raised: str
    ink: str
    quiet: str
    hold: str
    correct: str
    watch: str
    action: str
    rule: str


LIGHT = Tokens(
    ground="#FBFAF7",
    raised="#EFEDE6",
    ink="#1B2126",
    quiet="#545D63",
    hold="#9E2A1F",
    correct="#7A4E00",
    watch="#2F5578",
    action="#0B5C74",
    rule="#7E8586",
)
DARK = Tokens(
    ground="#14181A",
    raised="#20262A",
    ink="#E8EAE6",
    quiet="#A9B1B0",
    hold="#FF9C8F",
    correct="#F0B95B",
    watch="#8FBCE6",
    action="#6CC6DE",
    rule="#768084",
)

SERIES = ("#3B7DB8", "#B9602A", "#1F8A70", "#A9559A", "#8A7412", "#6B7B87")
"""Marks in charts, for both themes alike: at least 3 to 1 against every ground, at most six."""

SIZES = (13, 15, 18, 24, 32)
"""Heights of letters. [px]"""

SPACE = 4
"""The step of all spaces. [px]"""

TOUCH = 48
"""The least height of what a finger has to hit. [px]"""
