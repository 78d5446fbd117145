"""Which columns of ours a heading may stand for."""

import re
from dataclasses import dataclass, replace
from functools import cache

from rapidfuzz import fuzz, process

from scoring.contract import CHECK_BY_NAME, FLEET_TABLES
from scoring.contract.quantities import alternative_names, contract_suffix
from scoring.contract.words_of_languages import LANGUAGES, language_words
from scoring.reading_plan.tidy_text import tidy, without_fillers
from scoring.reading_plan.trade_terms import columns_made, terms_in, words_made
from scoring.reading_plan.units_of_measure import heading_and_unit

LEAST_ALIKE = 78.0
"""Headings less alike than this are not proposed; planning value of ours. [%]"""

ONE_WORD_OF = 81.5
"""How alike a heading is that has one whole word of ours; planning value of ours. [%]"""

SHORTEST_WORD = 5

PART_OF = 0.9
"""What a heading that has more words than ours counts; planning value of ours."""

BY_TERMS = 96.0
"""How alike a heading is whose terms together are those of a column; planning value of ours. [%]"""

ONE_TERM_UNKNOWN = 85.0
"""The same where one word is no term we know, and at least two are; planning value of ours. [%]"""

LITTLE_KNOWN = 80.0
"""The same where one of two words is known; planning value of ours. [%]"""

PART_OF_HEADING = 95.0
"""How alike a heading can be of which one part is alike, the others left out. [%]"""

OPENS = "contract"
"""The language of our own names."""


@dataclass(frozen=True)
class Target:
    """What a heading may be.

    Attributes
    ----------
    column : str
        A column of ours, without its table.
    means : str
        The failure that its date tells of, or the action that it is about.
    """

    column: str
    means: str = ""


@dataclass(frozen=True)
class Match:
    """How well a heading fits.

    Attributes
    ----------
    target : Target
        What it may be.
    score : float
        100: the very words. [%]
    said : str
        The words of the list.
    language : str
        Whose list.
    by_terms : bool
        Whether its terms say so, and no list has it whole.
    """

    target: Target
    score: float
    said: str
    language: str
    by_terms: bool = False


@cache
def _lists() -> dict[str, dict[Target, str]]:  # noqa: C901 - one list after another
    """Return for each text of the lists what it may be, and in which language."""
    lists: dict[str, dict[Target, str]] = {}

    def put(text: str, target: Target, language: str) -> None:
        lists.setdefault(without_fillers(text), {}).setdefault(target, language)

    for table in FLEET_TABLES:
        for column in table.columns:
            stem = column.name.removesuffix(contract_suffix(column.name))
            for name in (column.name, stem, *alternative_names(column.name)):
                put(name, Target(column.name), OPENS)
            if column.name in CHECK_BY_NAME:
                put(CHECK_BY_NAME[column.name].label, Target(column.name), OPENS)
    for language in LANGUAGES:
        words = language_words(language)
        for name, texts in words.columns.items():
            for text in texts:
                put(text, Target(name), language)
        for mode, texts in words.failure_dates.items():
            for text in texts:
                put(text, Target("occurred_on", mode), language)
        for action in _actions():
            for text in (*words.words.get(action, ()), action):
                put(text, Target("actions", action), language)
    return lists


@cache
def is_known_heading(text: str, least: float) -> bool:
    """Tell, quicker than ``matches_of``, whether a cell is so much alike one of our lists.

    Examples
    --------
    >>> is_known_heading("Wellendurchmesser", 85.0), is_known_heading("Nordwerk 7", 85.0)
    (True, False)
    """
    lists = _lists()
    forms = {without_fillers(one) for one in (text, heading_and_unit(text)[0]) if tidy(one)}
    if any(form in lists for form in forms) or _by_terms(text, text, ""):
        return True
    return any(
        len(form) > 2
        and process.extractOne(form, lists.keys(), scorer=fuzz.token_sort_ratio, score_cutoff=least)
        for form in forms
    )


@cache
def matches_of(heading: str) -> tuple[Match, ...]:
    """Return what a heading may stand for, the best first.

    Examples
    --------
    >>> best = matches_of("Wellendurchmesser [mm]")[0]
    >>> best.target.column, best.score, best.language
    ('shaft_diameter_mm', 100.0, 'german')
    """
    bare, _ = heading_and_unit(heading)
    leaf = bare.rpartition(" / ")[2] if " / " in bare else ""
    forms = [bare, re.sub(r"[\[({][^\])}]*[\])}]", " ", bare), leaf]
    parts = [part for part in re.split(r"[\n|/]", bare) if len(part.strip()) > 3]
    found: dict[Target, Match] = {}
    whole = list(dict.fromkeys(without_fillers(one) for one in (heading, *forms) if tidy(one)))
    for form in (*whole, *(without_fillers(one) for one in parts if tidy(one))):
        for match in _of_form(form):
            at_most = match if form in whole else _at_most(match, PART_OF_HEADING)
            if match.target not in found or found[match.target].score < at_most.score:
                found[match.target] = at_most
    for match in _by_terms(heading, bare, leaf):
        best = found.get(match.target, match)
        found[match.target] = replace(match, score=max(match.score, best.score))
    return tuple(sorted(found.values(), key=lambda m: (-m.score, len(m.said))))


def _at_most(match: Match, score: float) -> Match:
    return Match(match.target, min(match.score, score), match.said, match.language)


def _by_terms(heading: str, bare: str, leaf: str) -> list[Match]:
    """Return what the terms of a heading make; below a group's name, first with it."""
    found: dict[Target, Match] = {}
    for form, less in dict.fromkeys(((bare, 0.0), (leaf or bare, 0.5), (heading, 0.5))):
        terms = terms_in(form)
        if terms.unknown > 1 or not terms.readings:
            continue
        known = min(map(len, terms.readings))
        score = BY_TERMS if not terms.unknown else ONE_TERM_UNKNOWN
        if terms.unknown and known < 2:
            score = LITTLE_KNOWN
        said = " ".join(sorted(terms.readings[0]))
        targets = [Target(name) for name in columns_made(terms)]
        targets += [Target("actions", name) for name in words_made(terms, _actions())]
        for one in targets:
            match = Match(one, score - less, said, terms.language, by_terms=True)
            found[one] = max(found.get(one, match), match, key=lambda m: m.score)
    return list(found.values())


@cache
def _actions() -> tuple[str, ...]:
    return next(c for t in FLEET_TABLES for c in t.columns if c.name == "actions").allowed


def _of_form(form: str) -> list[Match]:
    lists = _lists()
    matches = [Match(t, 100.0, form, language) for t, language in lists.get(form, {}).items()]
    if len(form) < 3:
        return matches
    for scorer, weight in ((fuzz.token_sort_ratio, 1.0), (fuzz.token_set_ratio, PART_OF)):
        near = process.extract(
            form, lists.keys(), scorer=scorer, limit=12, score_cutoff=LEAST_ALIKE / weight
        )
        for said, score, _ in near:
            if weight < 1 and (" " not in said or len(said) > len(form)):
                continue
            matches += [
                Match(target, min(score * weight, 99.0), said, language)
                for target, language in lists[said].items()
            ]
    words = form.split()
    if 1 < len(words) <= 4:
        for word in words:
            if len(word) >= SHORTEST_WORD:
                matches += [Match(t, ONE_WORD_OF, word, o) for t, o in lists.get(word, {}).items()]
    return matches
