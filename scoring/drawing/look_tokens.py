"""Colours, sizes and spaces of everything that is looked at: pages, charts, pictures.

Declared once. Every pair that is used has a contrast of 4.5 to 1 or more (WCAG 2),
lines and marks 3 to 1.
"""

from dataclasses import asdict, dataclass


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

PAPER = Tokens(
    ground="#FFFFFF",
    raised="#FFFFFF",
    ink="#000000",
    quiet="#444444",
    hold="#000000",
    correct="#000000",
    watch="#000000",
    action="#000000",
    rule="#000000",
)
"""Black and white, for sheets."""


@dataclass(frozen=True)
class Materials:
    """The colours of what is drawn of a machine, in one theme.

    Attributes
    ----------
    metal, shaft, rubber : str
        Surfaces.
    force, required : str
        Arrows, and what there should be.
    """

    metal: str
    shaft: str
    rubber: str
    force: str
    required: str


ON_LIGHT = Materials(
    metal="#dfe5ea", shaft="#c9d3dc", rubber="#8a9199", force="#0072b2", required="#0b7a5b"
)
ON_DARK = Materials(
    metal="#2f3a45", shaft="#43505d", rubber="#6d7780", force="#7cc4f2", required="#6fd3b2"
)
ON_PAPER = Materials(
    metal="#ffffff", shaft="#e6e6e6", rubber="#bbbbbb", force="#000000", required="#000000"
)


def colour_variables() -> str:
    """Return the colours as variables of a style sheet, by their names, in light and in dark.

    Examples
    --------
    >>> "--hold:#9E2A1F;" in colour_variables()
    True
    """
    light, dark = (
        "".join(f"--{name}:{colour};" for name, colour in asdict(tokens).items())
        for tokens in (LIGHT, DARK)
    )
    return f":root{{{light}}}@media (prefers-color-scheme: dark){{:root{{{dark}}}}}\n"


SERIES = ("#3B7DB8", "#B9602A", "#1F8A70", "#A9559A", "#8A7412", "#6B7B87")
"""Marks in charts, for both themes alike: at least 3 to 1 against every ground, at most six."""

SIZES = (13, 15, 18, 24, 32)
"""Heights of letters. [px]"""

SPACE = 4
"""The step of all spaces. [px]"""

TOUCH = 48
"""The least height of what a finger has to hit. [px]"""
