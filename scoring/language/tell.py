"""Tell a text in the language, the numbers and the measures of who reads it."""

import re
from functools import lru_cache

from scoring.language.amounts import dates_told, measures_told, numbers_told
from scoring.language.catalogue import Catalogue, catalogue_of
from scoring.language.reading import AS_WRITTEN, ENGLISH, Reading, current_reading

MANY_TEXTS = 50_000
"""How many texts are kept as they were told; some megabytes."""

_EDGES = re.compile(r"^([\s.,;:!·•■▲○✓]*)(.*?)([\s.,;:!?…·]*)$", re.DOTALL)
_SEPARATORS = ("\n", ". ", "; ", " · ", ": ", ", ", " and ", " or ")
"""Where a text is taken apart that is not found whole, the strongest first."""


def told(text: str) -> str:
    """Tell a text as the person reads to whom is spoken now.

    What is found nowhere in the catalogue (an id, a name, a note) stays as it is.

    Examples
    --------
    >>> from scoring.language.reading import Reading, reading_as
    >>> with reading_as(Reading("de", "space_comma")):
    ...     told("breather: 0.5 mm"), told("CH-0511")
    ('Entlüfter: 0,5 mm', 'CH-0511')
    >>> told("breather: 0.5 mm")
    'breather: 0.5 mm'
    """
    reading = current_reading()
    if reading == AS_WRITTEN:
        return text
    return _told(text, reading)


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
    >>> words = 'msgid "a {n}"\nmsgstr "ein {n}"\nmsgid "house"\nmsgstr "Haus"'
    >>> in_other_words("A house; Ann.", catalogue_from(words, "de"))
    'Ein Haus; Ann.'
    """
    found = _EDGES.match(text)
    assert found is not None  # noqa: S101 - it matches every text
    before, core, after = found.groups()
    if not re.search("[A-Za-z]{2}", core):
        return text
    said = _found_whole(core, catalogue)
    if said is None and core[0].isupper():
        small = _found_whole(core[0].lower() + core[1:], catalogue)
        said = small[0].upper() + small[1:] if small else None
    return f"{before}{_in_parts(core, catalogue) if said is None else said}{after}"


def _found_whole(text: str, catalogue: Catalogue) -> str | None:
    """Say a text that is one sentence of the catalogue."""
    if text in catalogue.sentences:
        return catalogue.sentences[text]
    for pattern in catalogue.patterns:
        values = pattern.filled_in(text)
        if values is not None:
            return pattern.said_with(
                {gap: in_other_words(value, catalogue) for gap, value in values.items()}
            )
    return None


def _in_parts(text: str, catalogue: Catalogue) -> str:
    """Say the parts of a text one by one."""
    for separator in _SEPARATORS:
        if separator in text:
            between = in_other_words(separator, catalogue)
            if separator.strip().isalpha():
                between = f" {catalogue.sentences.get(separator.strip(), separator.strip())} "
            return between.join(in_other_words(part, catalogue) for part in text.split(separator))
    return text
