"""A console to which nothing in the records can give orders.

A terminal takes some characters for orders: an id that holds the escape character could clear the
screen, colour it, or write over the line above. Each is shown by its code instead.
"""

import re
from collections.abc import Iterable

from rich.console import Console, ConsoleOptions, RenderableType
from rich.segment import Segment

_ORDERS = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]")
"""Control characters but tab and line feed, and those that turn the direction of writing."""


def shown_harmless(text: str) -> str:
    r"""Show the characters that a terminal obeys by their codes.

    Examples
    --------
    >>> print(shown_harmless("U-1\x1b[2J"), shown_harmless("naïve"))
    U-1\x1b[2J naïve
    """
    return _ORDERS.sub(lambda found: _code(ord(found[0])), text)


def _code(number: int) -> str:
    return f"\\x{number:02x}" if number < 0x100 else f"\\u{number:04x}"


class HarmlessConsole(Console):
    """Prints like any console; its own colours are orders still, those in texts are not."""

    def render(
        self, renderable: RenderableType, options: ConsoleOptions | None = None
    ) -> Iterable[Segment]:
        """Turn what is to be printed into pieces of harmless text."""
        for piece in super().render(renderable, options):
            if piece.control or not _ORDERS.search(piece.text):
                yield piece
            else:
                yield Segment(shown_harmless(piece.text), piece.style)
