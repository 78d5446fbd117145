"""Which word of the contract a plant's own word stands for."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from rapidfuzz import fuzz, process

from scoring.contract import CHECK_BY_NAME, Column, Kind
from scoring.contract.declaration import NO, YES, YES_NO
from scoring.contract.words_of_languages import LANGUAGES, language_words
from scoring.reading_plan.heading_matches import matches_of
from scoring.reading_plan.tidy_text import tidy
from scoring.reading_plan.trade_terms import terms_in, words_made
from scoring.reading_plan.what_a_plan_says import LIKELY, NOTHING, SURE

LEAST_ALIKE = 88.0
"""Words less alike are asked for; planning value of ours. [%]"""

CHECK_CALLED = 84.0
"""A check is taken to be named by a text so much alike; planning value of ours. [%]"""

SHORTEST_ALIKE = 4
"""Shorter words are never taken as alike; planning value of ours."""


@dataclass(frozen=True)
class Meaning:
    """What a word may stand for.

    Attributes
    ----------
    word : str
        The word of the contract, ``NOTHING``, or empty where it cannot be told.
    certainty : str
        How certain that is.
    choices : tuple of str
        What it can be, where it cannot be told.
    yes_or_no : str
        It says yes or no of something that is not a matter of yes or no.
    language : str
        Whose list has it; empty: the contract.
    """

    word: str = ""
    certainty: str = ""
    choices: tuple[str, ...] = ()
    yes_or_no: str = ""
    language: str = ""


@cache
def _said(word: str, languages: tuple[str, ...]) -> dict[str, str]:
    """Return how the lists say a word of the contract, each with its language."""
    return {
        tidy(text): language
        for language in reversed(languages)
        for text in language_words(language).words.get(word, ())
    }


@cache
def _tells(what: str, languages: tuple[str, ...]) -> dict[str, str]:
    return {
        tidy(text): language
        for language in reversed(languages)
        for text in language_words(language).tells.get(what, ())
    }


def good_word(column: Column) -> str:
    """Return the word of a check that is good, empty where a column is no check.

    Examples
    --------
    >>> from scoring.contract import CHECK_BY_NAME, UNITS
    >>> good_word(CHECK_BY_NAME["breather"]), good_word(UNITS["backstop"])
    ('open', '')
    """
    check = CHECK_BY_NAME.get(column.name)
    if check is None or not check.allowed or check.right_on:
        return ""
    return check.allowed[0]


def meaning_of(  # noqa: PLR0911 - one way to tell after another
    text: str, column: Column, heading: str = "", languages: tuple[str, ...] = LANGUAGES
) -> Meaning:
    """Tell what a word under a heading stands for.

    Examples
    --------
    >>> from scoring.contract import CHECK_BY_NAME, UNITS
    >>> meaning_of("Passfeder", UNITS["mounting"]).word
    'keyed_bore'
    >>> meaning_of("n.i.O.", CHECK_BY_NAME["breather"]).word
    'plugged'
    >>> meaning_of("yes", CHECK_BY_NAME["breather"], "breather plugged").word
    'plugged'
    >>> meaning_of("yes", CHECK_BY_NAME["breather"], "breather").yes_or_no
    'yes'
    """
    plain = tidy(text)
    exact = _exact(plain, column, languages)
    if exact.word or exact.choices:
        return exact
    if plain in _tells("nothing", languages):
        if not any(c.isalnum() for c in plain) and column.name in CHECK_BY_NAME and column.allowed:
            return Meaning(choices=column.allowed)  # a dash may be an answer
        return Meaning(NOTHING, LIKELY, language=_tells("nothing", languages)[plain])
    told = _good_or_bad(plain, column, languages)
    if told is not None:
        return told
    yes_or_no = _yes_or_no(plain, languages)
    if yes_or_no and set(column.allowed) != set(YES_NO):
        return _by_heading(yes_or_no, column, heading, languages)
    made = words_made(terms_in(text), column.allowed)
    if made:
        return Meaning(made[0], LIKELY) if len(made) == 1 else Meaning(choices=made)
    return (
        _check_called(text, column) if column.name == "check" else _alike(plain, column, languages)
    )


def _check_called(text: str, column: Column) -> Meaning:
    """Return the check that a text names, as a heading would."""
    named = [m for m in matches_of(text) if m.target.column in column.allowed]
    best = [m for m in named if m.score == named[0].score and m.score >= CHECK_CALLED]
    names = tuple(dict.fromkeys(m.target.column for m in best))
    return Meaning(names[0], LIKELY) if len(names) == 1 else Meaning(choices=column.allowed)


def _exact(plain: str, column: Column, languages: tuple[str, ...]) -> Meaning:
    own = {tidy(word): word for word in column.allowed}
    options = getattr(column, "options", {})
    own |= {tidy(said): word for word, said in options.items()}
    own |= {tidy(said.partition(":")[0]): word for word, said in options.items()}
    if plain in own:
        return Meaning(own[plain], SURE)
    found = {w: _said(w, languages)[plain] for w in column.allowed if plain in _said(w, languages)}
    if len(found) == 1:
        word, language = next(iter(found.items()))
        return Meaning(word, SURE, language=language)
    return Meaning(choices=tuple(found))


def _good_or_bad(plain: str, column: Column, languages: tuple[str, ...]) -> Meaning | None:
    good = good_word(column)
    if plain in _tells("good", languages) and column.name in CHECK_BY_NAME and column.allowed:
        return Meaning(good, LIKELY) if good else Meaning(choices=column.allowed)
    if plain in _tells("bad", languages) and good:
        bad = tuple(word for word in column.allowed if word != good)
        return Meaning(bad[0], LIKELY) if len(bad) == 1 else Meaning(choices=bad)
    return None


def _yes_or_no(plain: str, languages: tuple[str, ...]) -> str:
    return next(
        (word for word in (YES, NO) if plain in _said(word, languages) or plain == word), ""
    )


def _by_heading(
    yes_or_no: str, column: Column, heading: str, languages: tuple[str, ...]
) -> Meaning:
    """Under *breather plugged* yes means plugged; under *breather* it cannot be told."""
    title = f" {tidy(heading)} "
    said = {
        word
        for word in column.allowed
        if any(f" {text} " in title for text in (*_said(word, languages), tidy(word)))
    }
    if len(said) != 1:
        return Meaning(choices=column.allowed, yes_or_no=yes_or_no)
    (word,) = said
    if yes_or_no == YES:
        return Meaning(word, LIKELY)
    good = good_word(column)
    others = tuple(w for w in column.allowed if w != word)
    if len(others) == 1 or (good and good != word):
        return Meaning(others[0] if len(others) == 1 else good, LIKELY)
    return Meaning(choices=others, yes_or_no=yes_or_no)


def _alike(plain: str, column: Column, languages: tuple[str, ...]) -> Meaning:
    everything = {text: w for w in column.allowed for text in (*_said(w, languages), tidy(w))}
    if len(plain) >= SHORTEST_ALIKE:
        best = process.extract(plain, list(everything), scorer=fuzz.token_sort_ratio, limit=3)
        near = [(text, score) for text, score, _ in best if score >= LEAST_ALIKE]
        if near and len({everything[text] for text, _ in near}) == 1:
            return Meaning(everything[near[0][0]], LIKELY)
    return Meaning(choices=column.allowed)


def count_said(text: str, languages: tuple[str, ...] = LANGUAGES) -> str:
    """Return the small number that a word says, or an empty text.

    Examples
    --------
    >>> count_said("both"), count_said("keiner"), count_said("some")
    ('2', '0', '')
    """
    plain = tidy(text)
    for language in languages:
        for number, said in language_words(language).counts.items():
            if plain in (tidy(one) for one in said):
                return number
    return ""


def parts_of(text: str) -> list[str]:
    """Return the words of a list as people write one.

    Examples
    --------
    >>> parts_of("arm realigned; oil topped up"), parts_of("renew_seal + renew_bearing")
    (['arm realigned', 'oil topped up'], ['renew_seal', 'renew_bearing'])
    """
    marked = text
    for mark in ("\n", "|", "+", "/", "&", ","):
        marked = marked.replace(mark, ";")
    return [part.strip() for part in marked.split(";") if part.strip()]


def words_of(texts: Sequence[str], column: Column) -> list[str]:
    """Return the distinct words in some cells of a column."""
    if column.kind is Kind.SEVERAL:
        return list(dict.fromkeys(part for text in texts for part in parts_of(text)))
    return list(dict.fromkeys(texts))
