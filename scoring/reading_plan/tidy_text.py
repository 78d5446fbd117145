"""Headings and words as they are compared: without case, accents, marks and units."""

import re
import unicodedata
from functools import lru_cache

_SPELT = str.maketrans({
    "ä": "ae", "ö": "oe", "ü": "ue", "ß": "ss", "⌀": "ø", "#": " no ", "№": " no ", "°": "o",
})  # fmt: skip
FILLERS = frozenset(
    [
        "the",
        "of",
        "a",
        "an",
        "der",
        "die",
        "das",
        "des",
        "dem",
        "den",
        "de",
        "du",
        "la",
        "le",
        "les",
        "el",
        "los",
        "las",
        "do",
        "da",
        "dos",
        "d",
        "l",
        "s",
        "no",
        "nr",
        "nº",
        "en",
        "am",
        "on",
        "at",
        "in",
        "zum",
        "zur",
        "von",
    ]
)
"""Words that say nothing in a heading."""


@lru_cache(maxsize=65536)
def tidy(text: str) -> str:
    """Return a text in lower case, without accents and marks, single spaces between its words.

    Examples
    --------
    >>> tidy("Entlüfter-Zustand"), tidy("OilLevel (mm)"), tidy("i.O."), tidy("+")
    ('entluefter zustand', 'oil level mm', 'i o', '+')
    """
    text = re.sub(r"(?i)\bn\s?\.?\s?[º°]", "no ", text)
    split = re.sub(r"(?<=[a-z])(?=[A-Z][a-z])", " ", unicodedata.normalize("NFC", text))
    plain = unicodedata.normalize("NFKD", split.lower().translate(_SPELT))
    letters = "".join(c for c in plain if not unicodedata.combining(c))
    words = "".join(c if c.isalnum() else " " for c in letters).split()
    return " ".join(words) or text.strip()


@lru_cache(maxsize=65536)
def without_fillers(text: str) -> str:
    """Return a tidied heading without articles and the like.

    Examples
    --------
    >>> without_fillers("Date of inspection"), without_fillers("Unit No.")
    ('date inspection', 'unit')
    """
    words = tidy(text).split()
    return " ".join(word for word in words if word not in FILLERS) or " ".join(words)
