"""The pages in German: no word of ours is left that nobody said."""

import re
from collections import defaultdict

import pytest
from kept_plants import SMALL_QUARRY
from pages_in_harness import folded_of, open_page

from dashboard import session
from scoring.language import reading, tell
from scoring.language.reading import Reading

NAMED = re.compile(r"^(crew [A-Z]|(shutdown|night|day) crew|inspector( \d+)?|\w+_\w+)$")
"""Crews, inspectors, and codes that a chart carries unseen beside what it shows."""
DAY = re.compile(
    r"(\d+ )?(January|February|March|April|May|June|July|August|September|October"
    r"|November|December) \d{4}"
)
"""Days are told after all else."""


@pytest.fixture
def left(monkeypatch):
    """Read German, and gather the pieces that were found nowhere in the catalogue."""
    found = defaultdict(int)
    beside_numbers = tell._Speaker._beside_numbers  # noqa: SLF001 - where a piece is given up

    def noted(speaker, text):
        said = beside_numbers(speaker, text)
        if said == text and re.search("[a-z]{3}", DAY.sub("", text)):
            found[text.strip()] += 1
        return said

    monkeypatch.setattr(tell._Speaker, "_beside_numbers", noted)  # noqa: SLF001
    german = Reading("de", "space_comma")
    monkeypatch.setattr(reading, "reading_from", lambda *_: german)
    reading.read_as(german)  # the harness asks again how a choice is said
    tell._told.cache_clear()  # noqa: SLF001 - what was told before is not noted again
    yield found
    tell._told.cache_clear()  # noqa: SLF001
    reading.read_as(reading.AS_WRITTEN)


def names_of_the_plant():
    units = session.open_fleet().assessor.fleet.units
    columns = ("unit_id", "site", "line", "driven_equipment", "installer")
    named = {str(name) for column in columns for name in units[column].dropna().unique()}
    # the plant itself, and in its records: who accepted a finding, and why
    return named | {"Small quarry", "plant engineer", "part on order"}


def unsaid(left):
    return sorted({text for text in left if not NAMED.match(text)} - names_of_the_plant())


PAGES = (
    "start",
    "what_to_fix_first",
    "shutdown_plan",
    "where_to_look",
    "getting_better",
    "how_far_to_trust",
    "enter_walkdowns",
    "bring_in_records",
)


@pytest.mark.parametrize("page", PAGES)
def test_a_page_has_no_words_that_nobody_said(monkeypatch, left, page):
    app = open_page(monkeypatch, page, SMALL_QUARRY, unfolded=["What more hours would avoid"])
    assert not app.exception
    assert app.title[0].value
    assert unsaid(left) == []


def worst_of_each_verdict():
    ranking = session.assessment().ranking
    return ranking.groupby("verdict", observed=True)["unit_id"].first()


def test_a_unit_of_each_verdict_has_no_words_that_nobody_said(monkeypatch, left):
    open_page(monkeypatch, "start", SMALL_QUARRY)
    for unit_id in worst_of_each_verdict():
        folded = folded_of(unit_id)
        app = open_page(monkeypatch, "one_unit", SMALL_QUARRY, unfolded=folded, unit=unit_id)
        assert not app.exception
    assert unsaid(left) == []
