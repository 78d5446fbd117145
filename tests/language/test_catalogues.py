"""Every word of the screens has its place in every catalogue."""

import re
from io import BytesIO

import pytest
import words_said
from babel.messages.pofile import read_po

from scoring.language.catalogue import FILES
from scoring.language.pattern import GAP


@pytest.fixture(scope="module")
def said():
    return words_said.messages()


def read(language):
    return read_po(BytesIO((words_said.LANGUAGE / FILES[language]).read_bytes()))


@pytest.mark.parametrize("language", FILES)
def test_a_catalogue_has_all_that_the_sources_say(said, language):
    kept = {one.id for one in read(language) if one.id}
    missing = sorted(set(said) - kept)
    assert not missing, f"python .ci/words_said.py adds them; then translate: {missing[:20]}"


@pytest.mark.parametrize("language", FILES)
def test_a_catalogue_has_nothing_that_no_source_says_any_more(said, language):
    by_hand = {one.id for one in read(language) if words_said.SHOWN in one.user_comments}
    gone = sorted({one.id for one in read(language) if one.id} - set(said) - by_hand)
    assert not gone, f"python .ci/words_said.py takes them out: {gone[:20]}"


@pytest.mark.parametrize("language", FILES)
def test_every_message_is_said_with_the_same_gaps(language):
    unsaid = [one.id for one in read(language) if one.id and not one.string]
    assert not unsaid
    differing = [
        one.id
        for one in read(language)
        if one.id and sorted(GAP.findall(one.id)) != sorted(GAP.findall(one.string))
    ]
    assert not differing


@pytest.mark.parametrize("language", FILES)
def test_numbers_and_units_of_a_message_stay(language):
    # a number that is said in words elsewhere is no number here
    number = re.compile(r"(?<![\w.{-])\d+(?:\.\d+)?(?![\w}])")
    lost = [
        (one.id, one.string)
        for one in read(language)
        if one.id and sorted(number.findall(one.id)) != sorted(number.findall(one.string))
    ]
    assert not lost


def test_a_sweep_sees_literals_sentences_with_gaps_and_plurals():
    source = '''
def f(n, unit):
    """Not said."""
    one = f"{n} unit{'s' if n > 1 else ''} must not run: {unit.reason}"
    return one, "shaft short", re.compile("no prose at all")
'''
    found = {m for text in words_said.of_python(source) for m in words_said.as_messages(text)}
    assert found == {
        "{n} units must not run: {reason}",
        "{n} unit must not run: {reason}",
        "shaft short",
    }


def test_a_sweep_sees_templates_and_scripts():
    template = (
        '<p title="of the unit">begun by {{ one.by }}</p>{% if x %}<b>not signed</b>{% endif %}'
    )
    found = {m for text in words_said.of_template(template) for m in words_said.as_messages(text)}
    assert found == {"of the unit", "begun by {by}", "not signed"}
    script = 'say("Nothing was kept"); // a comment of ours\nconst a = `${count} checks left`;'
    found = {m for text in words_said.of_script(script) for m in words_said.as_messages(text)}
    assert found == {"Nothing was kept", "{count} checks left"}
