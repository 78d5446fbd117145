"""The form in German; its scripts tell a text as the rest of the program does."""

import re
from importlib import resources

import pytest
from phone import Phone, settings_of

from scoring.language.amounts import numbers_told
from scoring.language.catalogue import catalogue_of
from scoring.language.pattern import GAP
from scoring.language.reading import Reading, reading_as
from scoring.language.tell import in_other_words
from scoring.walkdown_form.page.words_for_page import SAID_IN_FORM, words_for_page
from scoring.walkdown_form.without_network import route_page

pytestmark = pytest.mark.browser

GERMAN = Reading("de", "space_comma")


@pytest.fixture(scope="module")
def words():
    with reading_as(GERMAN):
        return words_for_page()


def texts_to_tell(words):
    """Return every sentence, every one with gaps filled, and some beside one another."""
    sentences = [english for english, _ in words["sentences"]]
    filled = [
        GAP.sub(lambda gap: "48" if len(gap[1]) % 2 else "Oil level", english)
        for english, _ in words["patterns"]
    ]
    beside = [f"{one}; {other}: 0.5 mm" for one, other in zip(filled, sentences, strict=False)]
    return sentences + filled + beside + ["CH-0511", "Ann; Bob", ""]


def test_scripts_tell_as_the_program_does(browser, words):
    folder = resources.files("scoring.walkdown_form.page") / "js"
    source = "".join((folder / f"{name}.js").read_text() for name in ("told", "elements"))
    texts = texts_to_tell(words)
    page = browser.new_page()
    told_there = page.evaluate(
        f"([words, texts]) => {{ {source}; speak(words); return texts.map(told); }}",
        [words, texts],
    )
    page.close()
    part = catalogue_of("de").said_in(SAID_IN_FORM)
    told_here = [numbers_told(in_other_words(text, part), GERMAN.numbers) for text in texts]
    assert told_there == told_here
    assert len(set(told_here) - set(texts)) > len(texts) / 2


def test_a_walk_reads_german(browser, fleet, one_of_each, tmp_path):
    path = tmp_path / "route.html"
    with reading_as(GERMAN):
        path.write_text(route_page(fleet.units, list(one_of_each.values()), "Runde A"), "utf-8")
    context = browser.new_context(**settings_of(390))
    phone = Phone(context.new_page())
    phone.open(path.as_uri())
    unit_id = one_of_each["keyed_bore"]
    phone.begin(unit_id, "stopped")
    phone.tap("to-list")
    said = phone.words
    assert "Ölstand" in said
    assert "Entlüfter" in said
    assert not re.search(r"\b(not seen|oil level|guard|torque|shaft|check)\b", said, re.IGNORECASE)
    assert phone.page.get_attribute("html", "lang") == "de"
    assert not phone.complaints
    context.close()
