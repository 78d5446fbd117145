"""Texts that look the same to a person and are not: other alphabets, dashes, what is not seen.

Compatible forms (full-width letters, letters with an accent written in two ways) are those of
Unicode's NFKC, as Python's ``unicodedata`` has them. Which letters of other alphabets look like
Latin ones is a table of ours, of what usual typefaces draw alike, and not complete. Two texts of
plain ASCII never count as alike here: O and 0 may both be meant.
"""

import re
import unicodedata

_LATIN = (
    "АA ВB ЕE ЅS ІI ЈJ КK МM НH ОO РP СC ТT УY ХX аa еe оo рp сc уy хx ѕs іi јj ԁd ԛq ԝw һh "
    "ΑA ΒB ΕE ΖZ ΗH ΙI ΚK ΜM ΝN ΟO ΡP ΤT ΥY ΧX οo νv ιi "
    "ՕO Տs ԼL օo սu հh ոn ցg "
    "ӀI ӏl ıi ɡg ʟL ɪI ʏY ꓔT ꓐB ꓑP ꓗK ꓧH ꓮA ꓰE ꓳO"
)
_DASHES = "\u2010\u2011\u2012\u2013\u2014\u2015\u2212\u02d7\u058a\ufe58\ufe63\uff0d"
_STROKES = {
    "\u2044": "/",
    "\u2215": "/",
    "\u29f8": "/",
    "\u2019": "'",
    "\u2018": "'",
    "\u00b7": ".",
}
_ALIKE = str.maketrans(
    {pair[0]: pair[1] for pair in _LATIN.split()} | dict.fromkeys(_DASHES, "-") | _STROKES
)

_JOINS_LETTERS = "\u200c\u200d"
"""Seen by what it does to the letters of some alphabets, and part of their spelling there."""

MAY_BE_UNSEEN = (
    r"[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\x{34f}\x{115f}\x{1160}\x{17b4}\x{17b5}\x{3164}\x{ffa0}"
    r"\x{180b}-\x{180e}\x{fe00}-\x{fe0f}\x{e0100}-\x{e01ef}]"
)
"""Finds texts with a character that nobody sees, in the words of RE2; some more besides."""

PLAIN = r"^[\x20-\x7e]*$"
"""Nothing in it but what a plain keyboard types."""


def looks_like(text: str) -> str:
    r"""Return what a text looks like, in plain letters where there are some.

    Examples
    --------
    >>> looks_like("\u0421\u041d\u201304"), looks_like("CH\u200b-04")
    ('CH-04', 'CH-04')
    """
    seen = "".join(letter for letter in text.translate(_ALIKE) if not _is_unseen(letter))
    plain = unicodedata.normalize("NFKC", seen).translate(_ALIKE)
    return re.sub(r"\s+", " ", plain).strip()


def unseen_in(text: str) -> str:
    r"""Return the first character of a text that nobody sees; empty where there is none.

    Examples
    --------
    >>> unseen_in("CH\u200b-04"), unseen_in("CH-04")
    ('\u200b', '')
    """
    for before, letter in zip(" " + text, text, strict=False):
        spelling = letter in _JOINS_LETTERS and unicodedata.category(before) in {"Lo", "Mn", "Mc"}
        if _is_unseen(letter) and not spelling:
            return letter
    return ""


def named(letter: str) -> str:
    r"""Name a character as Unicode does.

    Examples
    --------
    >>> named("\u200b"), named("\t")
    ('ZERO WIDTH SPACE (U+200B)', 'a control character (U+0009)')
    """
    return f"{unicodedata.name(letter, 'a control character')} (U+{ord(letter):04X})"


def foreign_in(text: str) -> str:
    """Name the characters of a text that no plain keyboard types, each once."""
    return ", ".join(named(letter) for letter in dict.fromkeys(text) if not " " <= letter <= "~")


def _is_unseen(letter: str) -> bool:
    """Tell whether a character is drawn as nothing: it controls, directs, or has no width."""
    return unicodedata.category(letter) in {"Cc", "Cf", "Zl", "Zp"} or letter in _ELSE_UNSEEN


_ELSE_UNSEEN = frozenset("\u034f\u115f\u1160\u17b4\u17b5\u3164\uffa0") | {
    chr(code) for code in (*range(0xFE00, 0xFE10), *range(0xE0100, 0xE01F0), *range(0x180B, 0x180F))
}
"""Fillers and variation selectors, which Unicode files under other categories."""
