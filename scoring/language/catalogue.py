"""The catalogue: each sentence that a person can meet, and how it is said in another language.

A catalogue is a file in the format of GNU gettext, so that any editor of such files serves a
translator; gaps stand in braces.
"""

from dataclasses import dataclass
from functools import cache
from importlib import resources
from io import StringIO

from babel.messages.pofile import read_po

from scoring.language.pattern import GAP, Pattern
from scoring.language.reading import GERMAN

FILES = {GERMAN: "german.po"}
"""The file of each language beside English, in which everything is written."""


@dataclass(frozen=True)
class Catalogue:
    """What is said in another language.

    Attributes
    ----------
    sentences : dict of str to str
        Those without a gap.
    patterns : tuple of Pattern
        Those with gaps, the ones that say most first.
    places : dict of str to tuple of str
        The files that say it, of each message; none where no sweep finds it.
    """

    sentences: dict[str, str]
    patterns: tuple[Pattern, ...]
    places: dict[str, tuple[str, ...]]

    def said_in(self, places: tuple[str, ...]) -> "Catalogue":
        """Return the part that is said in some files, and what no sweep finds.

        Examples
        --------
        >>> "breather" in catalogue_of("de").said_in(("scoring/contract/",)).sentences
        True
        """
        kept = {
            english: files
            for english, files in self.places.items()
            if not files or any(file.startswith(places) for file in files)
        }
        return Catalogue(
            {english: other for english, other in self.sentences.items() if english in kept},
            tuple(one for one in self.patterns if one.english in kept),
            kept,
        )


@cache
def catalogue_of(language: str) -> Catalogue:
    """Return the catalogue of a language.

    Examples
    --------
    >>> catalogue_of("de").sentences["breather"]
    'Entlüfter'
    """
    text = (resources.files(__package__) / FILES[language]).read_text(encoding="utf-8")
    return catalogue_from(text, language)


def catalogue_from(text: str, language: str) -> Catalogue:
    r"""Return a catalogue from the text of its file.

    Examples
    --------
    >>> catalogue_from('msgid "a {b}"\nmsgstr "{b} a"', "de").patterns
    (Pattern(english='a {b}', other='{b} a'),)
    """
    read = read_po(StringIO(text), locale=language)
    said = {str(one.id): str(one.string) for one in read if one.id and one.string}
    with_gaps = [Pattern(english, other) for english, other in said.items() if GAP.search(english)]
    return Catalogue(
        {english: other for english, other in said.items() if not GAP.search(english)},
        tuple(sorted(with_gaps, key=lambda one: (-one.letters, one.english))),
        {str(one.id): tuple(file for file, _ in one.locations) for one in read if one.id in said},
    )
