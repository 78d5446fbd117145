"""What is shown, told as a person reads."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.language.amounts import measures_told, numbers_told
from scoring.language.catalogue import Catalogue
from scoring.language.markup import told_markdown, told_markup
from scoring.language.pattern import Pattern
from scoring.language.reading import NUMBER_FORMATS, Reading, reading_as, reading_from
from scoring.language.tell import in_other_words, told

GERMAN = Catalogue(
    {
        "shaft": "Welle",
        "shaft too short": "Welle zu kurz",
        "and": "und",
        "no oil": "kein Öl",
        "it turns": "sie dreht",
    },
    tuple(
        sorted(
            (
                Pattern("{found} of {asked} mm", "{found} von {asked} mm"),
                Pattern("reaches {found} mm, with {what}", "mit {what}, erreicht {found} mm"),
                Pattern("{a} at {b}", "{a} bei {b}"),
                Pattern("looked at by {who}", "angesehen von {who}"),
            ),
            key=lambda one: -one.letters,
        )
    ),
    {},
)


@pytest.mark.parametrize(
    ("english", "german"),
    [
        ("shaft", "Welle"),
        ("Shaft too short.", "Welle zu kurz."),
        ("shaft; no oil", "Welle; kein Öl"),
        ("Shaft and no oil: 3", "Welle und kein Öl: 3"),
        ("48 of 96 mm", "48 von 96 mm"),
        ("reaches 48 mm, with no oil", "mit kein Öl, erreicht 48 mm"),
        ("it turns (no oil)", "sie dreht (kein Öl)"),
        ("shaft 48 mm", "Welle 48 mm"),
        ("■ no oil", "■ kein Öl"),
        ("CH-0511", "CH-0511"),
        ("Ann; looked at by Bob", "Ann; angesehen von Bob"),
        # few fixed letters are found round numbers only: not every "at" is this one
        ("3 at 4", "3 bei 4"),
        ("Ann at home", "Ann at home"),
        # no word inside another
        ("that 3 of", "that 3 of"),
    ],
)
def test_a_text_is_found_whole_or_in_pieces(english, german):
    assert in_other_words(english, GERMAN) == german


NAMES = st.text(alphabet=st.characters(categories=["Lu", "Nd"]), min_size=1, max_size=12)


@given(NAMES)
def test_a_name_is_never_told(name):
    assert in_other_words(f"{name}-1", GERMAN) == f"{name}-1"


@given(st.sampled_from(["shaft", "no oil", "it turns"]), st.sampled_from(["; ", ", ", ": ", ". "]))
def test_pieces_are_said_alike_alone_and_together(piece, between):
    alone = in_other_words(piece, GERMAN)
    both = in_other_words(f"{piece}{between}{piece}", GERMAN)
    assert both == f"{alone}{between}{alone}"


@pytest.mark.parametrize(
    ("numbers", "written"),
    [
        ("space_point", "1\u202f234.5 and 0.25"),
        ("space_comma", "1\u202f234,5 and 0,25"),
        ("comma_point", "1,234.5 and 0.25"),
        ("point_comma", "1.234,5 and 0,25"),
    ],
)
def test_numbers_are_written_with_their_marks(numbers, written):
    assert numbers_told("1,234.5 and 0.25", numbers) == written


@given(st.integers(0, 10**9), st.integers(0, 999), st.sampled_from(sorted(NUMBER_FORMATS)))
def test_a_number_is_the_same_number_however_it_is_written(whole, part, numbers):
    thousands, point = NUMBER_FORMATS[numbers]
    said = numbers_told(f"{whole:,}.{part:03d}", numbers)
    assert said.replace(thousands, "").replace(point, ".") == f"{whole}.{part:03d}"


def test_a_bound_and_a_sign_stay_beside_their_number():
    assert numbers_told("(<0.1 to −0.3)", "point_comma") == "(<0,1 to −0,3)"


def test_days_numbers_of_standards_and_ids_are_no_numbers():
    text = "2026-06-30, DIN 7190-1, ISO 4014:2011, CH-0511, 1.2.3"
    assert numbers_told(text, "point_comma") == text


@pytest.mark.parametrize(
    ("metric", "inch"),
    [
        ("25.4 mm", "1 in"),  # exact by definition
        ("50.8 of 101.6 mm", "2 of 4 in"),
        ("0 °C", "32 °F"),  # and the other fixed point
        ("100 °C", "212 °F"),
        ("10 K above", "18 °F above"),  # a difference has no zero of its own
        ("1.356 N·m", "1 lbf·ft"),  # 0.3048 m x 0.45359237 kg x 9.80665 m/s²
        ("3 mm²", "3 mm²"),
    ],
)
def test_measures_are_converted(metric, inch):
    assert measures_told(metric, "inch") == inch


def test_marks_of_a_page_stay_and_names_in_it_too():
    with reading_as(Reading("de")):
        assert (
            told_markup('<a href="/breather">breather</a>') == '<a href="/breather">Entlüfter</a>'
        )
        assert told_markup('<i translate="no">breather</i>') == '<i translate="no">breather</i>'
        assert told_markdown("**breather** [breather](/x)") == "**Entlüfter** [Entlüfter](/x)"


def test_who_reads_as_it_is_written_gets_the_words_and_one_mark_of_thousands():
    with reading_as(Reading()):
        assert told("breather 0.5 mm") == "breather 0.5 mm"
        assert told_markup("<b>1,234 units</b>") == "<b>1\u202f234 units</b>"


def test_a_device_that_keeps_nothing_reads_as_its_browser_asks():
    assert reading_from({}, "de-DE,de;q=0.9,en;q=0.5") == Reading("de", "space_comma")
    assert reading_from({}, None) == Reading()
    assert reading_from({"language": "en"}, "de") == Reading()
    assert reading_from({"language": "<b>", "numbers": "x", "measures": "y"}) == Reading()
