"""Terms of the trade in a heading or word, in whichever language, and what they make together."""

import re
import tomllib
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib import resources
from itertools import product

from scoring.contract import words_of_languages
from scoring.contract.words_of_languages import LANGUAGES, language_words, spelt_out
from scoring.reading_plan.tidy_text import FILLERS, tidy

WHOLE = "="
"""Ends a stem that is a whole word."""

NEUTRAL = "neutral"
"""Terms that say nothing of what is looked at, as *state* or *kind*."""

LONGEST_ENDING = 3
"""So many letters may follow a stem; planning value of ours."""

_ENDINGS = frozenset({
    "ement", "amento", "amiento", "acao", "cao", "cion", "ation", "ungen", "eado", "eada", "eados",
    "eadas", "iert", "ierte",
})  # fmt: skip
"""Longer endings that stems have."""

SHORTEST_STEM = 4
"""Shorter stems are whole words; planning value of ours."""

MOST_READINGS = 32

_MONEY = re.compile(r"[$€£¥]")
_JOINTS = ("", "s", "n", "en", "e", "es")


@dataclass(frozen=True)
class Terms:
    """What a text says.

    Attributes
    ----------
    readings : tuple of frozenset of str
        Sets of terms; several where a word may be one term or another.
    unknown : int
        Words that are no term.
    language : str
        Whose stems most of its words have.
    """

    readings: tuple[frozenset[str], ...]
    unknown: int
    language: str


@cache
def _stems() -> tuple[dict[str, dict[str, str]], dict[str, dict[str, str]]]:
    """Return whole words or phrases, and stems, each with its terms and their language."""
    whole: dict[str, dict[str, str]] = {}
    begins: dict[str, dict[str, str]] = {}
    for language in LANGUAGES:
        for term, texts in language_words(language).terms.items():
            for text in texts:
                said = text.rstrip(WHOLE).replace("_", " ")
                whole.setdefault(said, {}).setdefault(term, language)
                if text == said and len(said) >= SHORTEST_STEM:
                    begins.setdefault(said, {}).setdefault(term, language)
    return whole, begins


@cache
def _longest_phrase() -> int:
    return max(len(text.split()) for text in _stems()[0])


@lru_cache(maxsize=16384)
def terms_in(text: str) -> Terms:
    """Return the terms of the trade in a text.

    Examples
    --------
    >>> terms_in("Encaixe mínimo").readings == (frozenset({"engage", "min"}),)
    True
    >>> terms_in("Wellendurchmesser").readings == (frozenset({"shaft", "diameter"}),)
    True
    >>> terms_in("Zaphod").unknown
    1
    """
    whole, _ = _stems()
    words = tidy(_MONEY.sub(" cost ", text)).split()
    found: list[tuple[frozenset[str], ...]] = []
    said: list[str] = []
    unknown = place = 0
    while place < len(words):
        for size in range(min(_longest_phrase(), len(words) - place), 0, -1):
            phrase = " ".join(words[place : place + size])
            if phrase in whole and (size > 1 or phrase not in FILLERS):
                found.append(tuple(frozenset({term}) for term in whole[phrase]))
                said += whole[phrase].values()
                place += size
                break
        else:
            word = words[place]
            place += 1
            if word in FILLERS:
                continue
            parts = _parts_of_word(word)
            unknown += not parts
            if parts:
                found.append(tuple(terms for terms, _ in parts))
                said += [language for _, language in parts]
    readings = dict.fromkeys(
        frozenset().union(*one) - {NEUTRAL}
        for one, _ in zip(product(*found), range(MOST_READINGS), strict=False)
    )
    most = max(dict.fromkeys(said), key=said.count) if said else ""
    return Terms(tuple(one for one in readings if one), unknown, most)


@lru_cache(maxsize=16384)
def _parts_of_word(word: str, deep: int = 0) -> tuple[tuple[frozenset[str], str], ...]:
    """Return what one word may say: a stem with an ending, or several put together."""
    whole, begins = _stems()
    if deep and word in whole:
        return tuple((frozenset({term}), language) for term, language in whole[word].items())
    for size in range(len(word), SHORTEST_STEM - 1, -1):
        terms = begins.get(word[:size])
        if not terms:
            continue
        rest = word[size:]
        here = tuple((frozenset({term}), language) for term, language in terms.items())
        for joint in _JOINTS:
            if deep < 2 and rest.startswith(joint) and len(rest) - len(joint) >= SHORTEST_STEM - 1:
                more = _parts_of_word(rest.removeprefix(joint), deep + 1)
                if more:
                    return tuple((a | b, language) for a, language in here for b, _ in more)
        if len(rest) <= LONGEST_ENDING or rest in _ENDINGS:
            return here
    first, rest = word[: SHORTEST_STEM - 1], word[SHORTEST_STEM - 1 :]
    if not deep and first in whole and len(rest) >= SHORTEST_STEM and first not in FILLERS:
        more = _parts_of_word(rest, 1)
        return tuple(
            (frozenset({term}) | b, language)
            for term, language in whole[first].items()
            for b, _ in more
        )
    return ()


@cache
def _together() -> dict[str, dict[str, tuple[frozenset[str], ...]]]:
    text = (resources.files(words_of_languages) / "terms_put_together.toml").read_text("utf-8")
    return {
        part: {
            name: tuple(frozenset(one.split()) for text in said for one in spelt_out(text))
            for name, said in names.items()
        }
        for part, names in tomllib.loads(text).items()
    }


@cache
def _made(part: str) -> dict[frozenset[str], tuple[str, ...]]:
    made: dict[frozenset[str], tuple[str, ...]] = {}
    for name, sets in _together()[part].items():
        for one in sets:
            made[one] = tuple(dict.fromkeys((*made.get(one, ()), name)))
    return made


def columns_made(terms: Terms) -> tuple[str, ...]:
    """Return the columns of ours that some terms make together.

    Examples
    --------
    >>> columns_made(terms_in("Par leído")), columns_made(terms_in("Bolt torque"))
    (('final_torque_nm',), ('screw_torque_nm',))
    """
    return tuple(dict.fromkeys(c for one in terms.readings for c in _made("columns").get(one, ())))


def words_made(terms: Terms, allowed: tuple[str, ...]) -> tuple[str, ...]:
    """Return which of some words of the contract some terms make together.

    Examples
    --------
    >>> words_made(terms_in("Limpa e seca"), ("clean_dry", "dust_or_dirt", "oil_film"))
    ('clean_dry',)
    """
    if terms.unknown:
        return ()
    made = (word for one in terms.readings for word in _made("words").get(one, ()))
    return tuple(dict.fromkeys(word for word in made if word in allowed))
