"""The part of the catalogue that the form needs, for its scripts to tell its words."""

from typing import Any

from scoring.language.catalogue import catalogue_of
from scoring.language.reading import AS_WRITTEN, ENGLISH, NUMBER_FORMATS, current_reading

SAID_IN_FORM = (
    "scoring/contract/",
    "scoring/entering/",
    "scoring/limits/",
    "scoring/rules/",
    "scoring/walkdown_form/",
    "dashboard/presenters/words.py",
)
"""Where the words of the form are written."""


def words_for_page() -> dict[str, Any] | None:
    """Return what the form's scripts need to tell its words; None where they stay as written.

    Returns
    -------
    dict, optional
        ``sentences`` and ``patterns`` as pairs of English and the other language, those that say
        most first; ``point``, the mark of decimals.

    Examples
    --------
    >>> from scoring.language.reading import Reading, reading_as
    >>> words_for_page() is None
    True
    >>> with reading_as(Reading("de")):
    ...     dict(words_for_page()["sentences"])["breather"]
    'Entlüfter'
    """
    reading = current_reading()
    if reading == AS_WRITTEN:
        return None
    point = NUMBER_FORMATS[reading.numbers][1]
    if reading.language == ENGLISH:
        return {"sentences": [], "patterns": [], "point": point}
    catalogue = catalogue_of(reading.language).said_in(SAID_IN_FORM)
    return {
        "sentences": list(catalogue.sentences.items()),
        "patterns": [[one.english, one.other] for one in catalogue.patterns],
        "point": point,
    }
