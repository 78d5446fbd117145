"""Which columns of ours a heading may stand for."""

import re
from dataclasses import dataclass
from functools import cache

from rapidfuzz import fuzz, process

from scoring.contract import CHECK_BY_NAME, FLEET_TABLES
from scoring.contract.quantities import alternative_names, contract_suffix
from scoring.contract.words_of_languages import LANGUAGES, language_words
from scoring.reading_plan.tidy_text import tidy, without_fillers
from scoring.reading_plan.units_of_measure import heading_and_unit

LEAST_ALIKE = 78.0
"""Headings less alike than this are not proposed; planning value of ours. [%]"""

ONE_WORD_OF = 81.5
"""How alike a heading is that has one whole word of ours; planning value of ours. [%]"""

SHORTEST_WORD = 5

PART_OF = 0.9
"""What a heading that has more words than ours counts; planning value of ours."""

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
    """

    target: Target
    score: float
    said: str
    language: str


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
    actions = next(c for t in FLEET_TABLES for c in t.columns if c.name == "actions").allowed
    for language in LANGUAGES:
        words = language_words(language)
        for name, texts in words.columns.items():
            for text in texts:
                put(text, Target(name), language)
        for mode, texts in words.failure_dates.items():
            for text in texts:
                put(text, Target("occurred_on", mode), language)
        for action in actions:
            for text in (*words.words.get(action, ()), action):
                put(text, Target("actions", action), language)
    return lists


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
    forms = [bare, re.sub(r"[\[({][^\])}]*[\])}]", " ", bare)]
    forms += [part for part in re.split(r"[\n|/]", bare) if len(part.strip()) > 3]
    found: dict[Target, Match] = {}
    for form in dict.fromkeys(without_fillers(one) for one in (heading, *forms) if tidy(one)):
        for match in _of_form(form):
            if match.target not in found or found[match.target].score < match.score:
                found[match.target] = match
    return tuple(sorted(found.values(), key=lambda m: (-m.score, len(m.said))))


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
