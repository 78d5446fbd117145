"""How plants write the records' columns and words, by language: lists that proposals come from."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from itertools import product

LANGUAGES = ("english", "german", "spanish", "french", "portuguese")
"""Each has a file here; another language is another file and its name here."""


@dataclass(frozen=True)
class LanguageWords:
    """How one language says it.

    Attributes
    ----------
    tables, columns, failure_dates, words, counts, tells : mapping of str to tuple of str
        By name of a table, a column, a failure that a date may tell of, a word of the contract,
        a small number, and of *good*, *bad*, *nothing* and *totals*, what plants write.
    terms : mapping of str to tuple of str
        By term of the trade, the stems that say it; one that ends in ``=`` is a whole word.
    months : tuple of tuple of str
        Names of the twelve months, whole and short.
    """

    tables: Mapping[str, tuple[str, ...]]
    columns: Mapping[str, tuple[str, ...]]
    failure_dates: Mapping[str, tuple[str, ...]]
    words: Mapping[str, tuple[str, ...]]
    counts: Mapping[str, tuple[str, ...]]
    tells: Mapping[str, tuple[str, ...]]
    terms: Mapping[str, tuple[str, ...]]
    months: tuple[tuple[str, ...], ...]


def spelt_out(text: str) -> tuple[str, ...]:
    """Return every text that a text with alternatives stands for.

    Examples
    --------
    >>> spelt_out("seal|lip renewed|replaced"), spelt_out("oil level")
    (('seal renewed', 'seal replaced', 'lip renewed', 'lip replaced'), ('oil level',))
    """
    parts = [word.split("|") for word in text.split(" ")]
    return tuple(" ".join(one).replace("_", " ") for one in product(*parts))


@cache
def language_words(language: str) -> LanguageWords:
    """Return the lists of one language.

    Examples
    --------
    >>> language_words("german").columns["breather"][0]
    'entlüfter'
    """
    text = (resources.files(__package__) / (language + ".toml")).read_text(encoding="utf-8")
    read = tomllib.loads(text)
    lists = {
        part: {
            name: tuple(one for text in said for one in spelt_out(text))
            for name, said in read.get(part, {}).items()
        }
        for part in ("tables", "columns", "failure_dates", "words", "counts", "tells")
    }
    terms = {term: tuple(said.split()) for term, said in read.get("terms", {}).items()}
    return LanguageWords(
        **lists,
        terms=terms,
        months=(tuple(read["months"]["names"]), tuple(read["months"]["short"])),
    )
