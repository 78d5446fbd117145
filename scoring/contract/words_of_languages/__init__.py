"""How plants write the records' columns and words, by language: lists that proposals come from."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources

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
    months : tuple of tuple of str
        Names of the twelve months, whole and short.
    """

    tables: Mapping[str, tuple[str, ...]]
    columns: Mapping[str, tuple[str, ...]]
    failure_dates: Mapping[str, tuple[str, ...]]
    words: Mapping[str, tuple[str, ...]]
    counts: Mapping[str, tuple[str, ...]]
    tells: Mapping[str, tuple[str, ...]]
    months: tuple[tuple[str, ...], ...]


@cache
def language_words(language: str) -> LanguageWords:
    """Return the lists of one language.

    Examples
    --------
    >>> language_words("german").columns["breather"][0]
    'entlüfter'
    """
    text = (resources.files(__package__) / f"{language}.toml").read_text(encoding="utf-8")
    read = tomllib.loads(text)
    lists = {
        part: {name: tuple(said) for name, said in read.get(part, {}).items()}
        for part in ("tables", "columns", "failure_dates", "words", "counts", "tells")
    }
    return LanguageWords(
        **lists, months=(tuple(read["months"]["names"]), tuple(read["months"]["short"]))
    )
