"""Tell a text in the language, the numbers and the measures of who reads it."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from scoring.language.amounts import dates_told, measures_told, numbers_told
from scoring.language.catalogue import Catalogue, catalogue_of
from scoring.language.pattern import Pattern
from scoring.language.reading import AS_WRITTEN, ENGLISH, Reading, current_reading

MANY_TEXTS = 50_000
"""How many texts are kept as they were told; some megabytes."""

MOST_PIECES = 12
"""Of how many pieces in a row a sentence may consist that stands among others. Ours."""

FEW_LETTERS = 16
"""A sentence with gaps of fewer fixed letters is not looked for in several sentences. Ours."""

_COMMA = re.compile(r"\d,\d{3}")
_EDGES = re.compile(r"^([\s.,;:!·•■▲○✓=]*)(.*?)([\s.,;:!?…·]*)$", re.DOTALL)
_ENDS = re.compile(r"\n|\. |; ")
_BETWEEN = re.compile(r"(\n|\. |; | · |: |  |, | and | or | \(| \[|\](?!\w)|\)(?![\w^]))")
_BESIDE_NUMBER = re.compile(r"([-+−<×→]?\d[\d.,\u202f]*(?: ?%)?)")
_LETTERS = re.compile("[A-Za-z]{2}")


def told(text: str) -> str:
    """Tell a text as the person reads to whom is spoken now.

    What is found nowhere in the catalogue (an id, a name, a note) stays as it is.

    Examples
    --------
    >>> from scoring.language.reading import Reading, reading_as
    >>> with reading_as(Reading("de", "space_comma")):
    ...     told("breather: 0.5 mm"), told("CH-0511")
    ('Entlüfter: 0,5 mm', 'CH-0511')
    >>> told("breather: 0.5 mm"), told("1,234") == "1\N{NARROW NO-BREAK SPACE}234"
    ('breather: 0.5 mm', True)
    """
    return text if is_as_read(text) else _told(text, current_reading())


def is_as_read(text: str) -> bool:
    """Tell whether a text is written already as the person reads.

    Examples
    --------
    >>> is_as_read("breather"), is_as_read("1,234 units")
    (True, False)
    """
    return current_reading() == AS_WRITTEN and not _COMMA.search(text)


@lru_cache(MANY_TEXTS)
def _told(text: str, reading: Reading) -> str:
    said = text
    if reading.language != ENGLISH:
        catalogue = catalogue_of(reading.language)
        said = dates_told(in_other_words(text, catalogue), reading.language)
    return numbers_told(measures_told(said, reading.measures), reading.numbers)


def in_other_words(text: str, catalogue: Catalogue) -> str:
    r"""Say a text in other words, and what is not in the catalogue as it is.

    Parameters
    ----------
    text : str
        In English.
    catalogue : Catalogue
        What is said in the other language.

    Examples
    --------
    >>> from scoring.language.catalogue import catalogue_from
    >>> words = 'msgid "count {n}"\nmsgstr "zähle {n}"\nmsgid "house"\nmsgstr "Haus"'
    >>> in_other_words("House: count 3; Ann.", catalogue_from(words, "de"))
    'Haus: zähle 3; Ann.'
    """
    small = text.lower()
    near = [one for one in catalogue.patterns if one.anchor.lower() in small]
    return _Speaker(catalogue.sentences, near).said(text)


def in_its_edges(text: str) -> tuple[str, str, str]:
    """Part a text from the marks and spaces round it, which are the same in every language.

    Examples
    --------
    >>> in_its_edges("■ must not run.")
    ('■ ', 'must not run', '.')
    """
    found = _EDGES.match(text)
    return (found[1], found[2], found[3]) if found else ("", text, "")


@dataclass(frozen=True)
class _Speaker:
    """The part of a catalogue that one text may need."""

    sentences: dict[str, str]
    patterns: Sequence[Pattern]

    def said(self, text: str) -> str:
        """Say a text: whole where it is known, else piece by piece."""
        before, core, after = in_its_edges(text)
        if not _LETTERS.search(core):
            return text
        whole = self._whole(core)
        return f"{before}{self._in_pieces(core) if whole is None else whole}{after}"

    def _whole(self, text: str) -> str | None:
        """Say a text that is one sentence of the catalogue, however it begins."""
        said = self._as_written(text)
        if said is None and text[:1].isupper():
            said = self._as_written(text[0].lower() + text[1:])
            return said and said[0].upper() + said[1:]
        return said

    def _as_written(self, text: str) -> str | None:
        if text in self.sentences:
            return self.sentences[text]
        least = FEW_LETTERS if _ENDS.search(text) else 0
        for pattern in self.patterns:
            values = pattern.filled_in(text) if pattern.letters >= least else None
            if values is not None:
                return pattern.said_with({gap: self.said(value) for gap, value in values.items()})
        return None

    def _in_pieces(self, text: str) -> str:
        """Say the longest runs of pieces that are known, from the first on."""
        parts = _BETWEEN.split(text)
        if len(parts) == 1:
            return self._beside_numbers(text)
        said, at = [], 0
        while at < len(parts):
            for end in range(min(len(parts), at + 2 * MOST_PIECES - 1), at, -2):
                run = "".join(parts[at:end])
                whole = None if (at, end) == (0, len(parts)) else self._whole_run(run)
                if whole is not None or end == at + 1:
                    said.append(self._beside_numbers(run) if whole is None else whole)
                    at = end
                    break
            if at < len(parts):
                said.append(self._between(parts[at]))
                at += 1
        return "".join(said)

    def _whole_run(self, run: str) -> str | None:
        before, core, after = in_its_edges(run)
        whole = self._whole(core) if core else None
        return None if whole is None else f"{before}{whole}{after}"

    def _between(self, separator: str) -> str:
        word = separator.strip()
        return f" {self.sentences[word]} " if word in self.sentences else separator

    def _beside_numbers(self, text: str) -> str:
        """Say what stands before and after the numbers of a piece."""
        parts = _BESIDE_NUMBER.split(text)
        if len(parts) == 1:
            return text
        return "".join(part if n % 2 else self._beside_number(part) for n, part in enumerate(parts))

    def _beside_number(self, text: str) -> str:
        core = text.strip()
        whole = self._whole(core) if _LETTERS.search(core) else None
        return text if whole is None else text.replace(core, whole)
