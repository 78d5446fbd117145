"""A sentence with gaps, found again in a text in which they are filled."""

import re
from dataclasses import dataclass
from functools import cached_property

GAP = re.compile(r"\{([a-z][a-z0-9_]*)\}")


_PLURAL = re.compile(r"e?s\b")
"""What may stand close to what fills a gap."""


FEW = 9
"""With fewer fixed letters than these a sentence is only found round numbers. Ours."""
_WORDS = re.compile(r"(?<![\w-])[A-Za-z]{2,}(?![\w-]*\d)")


@dataclass(frozen=True)
class Pattern:
    """A sentence with gaps and how it is said in another language, with the same gaps.

    Attributes
    ----------
    english : str
        Such as ``{found} of {asked} mm``.
    other : str
        The same gaps, in any order.
    """

    english: str
    other: str

    @cached_property
    def pieces(self) -> tuple[str, ...]:
        """What stands between the gaps."""
        return tuple(GAP.split(self.english)[::2])

    @cached_property
    def anchor(self) -> str:
        """The longest piece: a text without it need not be compared."""
        return max(self.pieces, key=len)

    @cached_property
    def letters(self) -> int:
        """How much of it is fixed; of two that fit the one with more says more."""
        return sum(len(re.findall("[A-Za-z]", piece)) for piece in self.pieces)

    @cached_property
    def _finds(self) -> re.Pattern[str]:
        return re.compile("(.+?)".join(map(_whole_words, self.pieces)), re.DOTALL)

    def filled_in(self, text: str) -> dict[str, str] | None:
        """Return what fills the gaps of a text; None where it is another sentence.

        Examples
        --------
        >>> Pattern("{found} of {asked} mm", "").filled_in("48 of 96 mm")
        {'found': '48', 'asked': '96'}
        """
        if self.anchor not in text:
            return None
        found = self._finds.fullmatch(text)
        if found is None or (self.letters < FEW and any(map(_WORDS.search, found.groups()))):
            return None
        return dict(zip(GAP.findall(self.english), found.groups(), strict=True))

    def said_with(self, values: dict[str, str]) -> str:
        """Return the sentence in the other language, its gaps filled.

        Examples
        --------
        >>> Pattern("{a} of {b}", "von {b} {a}").said_with({"a": "48", "b": "96"})
        'von 96 48'
        """
        return GAP.sub(lambda gap: values[gap[1]], self.other)


def _whole_words(piece: str) -> str:
    """Return what finds a piece, its first and last word not inside another word."""
    before = r"(?<![A-Za-z])" if piece[:1].isalpha() and not _PLURAL.match(piece) else ""
    after = r"(?![a-z])" if piece[-1:].isalpha() else ""
    return f"{before}{re.escape(piece)}{after}"
