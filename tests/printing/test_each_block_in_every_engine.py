import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from one_of_each_block import EVERY_KIND, a_photo, a_sheet, one_of_each
from printed_pages import (
    beyond_the_edge,
    codes_on,
    overlapping_letters,
    pictures_of,
    smallest_letter_pt,
    text_of,
)

from scoring.errors import FixableError
from scoring.language.reading import Reading, reading_as
from scoring.printing import told_sheet
from scoring.printing.as_html import as_html
from scoring.printing.as_pdf import as_pdf
from scoring.printing.file_of_sheet import file_of_sheet
from scoring.printing.paper import Paper
from scoring.printing.plain_data import plain_data
from scoring.sheets.drawing_on_paper import Drawing, least_width_mm
from scoring.sheets.sheet_blocks import (
    Column,
    Facts,
    Prose,
    Section,
    Sheet,
    Table,
    Written,
)
from scoring.walkdown_form.check_picture import draw_where_to_look

HOSTILE = (
    "<script>alert(1)</script>",
    "#let x = 1; $a/b$ *bold* _it_ `raw` @ref <label> \\ // no",
    "{{ 7*7 }} {% endraw %}",
    "a" * 300,
    "ΔΩ Привет ≤ ⌀ × ° “q” №",
)


def test_every_kind_of_block_is_tried():
    assert {type(block).__name__ for block in one_of_each()} == EVERY_KIND


@pytest.mark.parametrize("paper", Paper)
def test_pdf_can_be_read_on_paper(paper):
    pdf = as_pdf(a_sheet(rows=60), paper)
    assert smallest_letter_pt(pdf) >= 7.99
    assert not overlapping_letters(pdf)
    assert not beyond_the_edge(pdf)


def test_an_eye_that_looks_for_faults_finds_them(monkeypatch):
    """The tools above must be able to fail."""
    monkeypatch.setattr(told_sheet, "legible", lambda drawing: drawing)
    small = Drawing(draw_where_to_look("isolators_free", "keyed_bore"), 20.0)
    pdf = as_pdf(Sheet("s", (Section("s", (small,)),)))
    assert smallest_letter_pt(pdf) < 7
    assert beyond_the_edge(pdf, margin_mm=30)


def test_letters_of_a_picture_are_made_large_enough():
    small = Drawing(draw_where_to_look("isolators_free", "keyed_bore"), 20.0)
    pdf = as_pdf(Sheet("s", (Section("s", (small,)),)))
    assert smallest_letter_pt(pdf) >= 7.99


def test_a_picture_is_as_wide_as_its_letters_need():
    picture = draw_where_to_look("isolators_free", "keyed_bore")
    assert Drawing(picture).width_mm == pytest.approx(least_width_mm(picture))


def test_the_same_sheet_gives_the_same_bytes():
    for suffix in (".pdf", ".html"):
        assert file_of_sheet(a_sheet(), suffix) == file_of_sheet(a_sheet(), suffix)


def test_pdf_is_tagged_and_carries_its_letters():
    pdf = as_pdf(a_sheet())
    assert b"/MarkInfo" in pdf
    assert b"pdfuaid" in pdf
    assert not re.search(rb"/URI|/Launch|/JavaScript|/EmbeddedFile", pdf)


@pytest.mark.parametrize("words", HOSTILE)
def test_hostile_words_print_as_words(words):
    pdf = "".join(text_of(as_pdf(a_sheet(words)))).replace(" ", "")
    assert words.replace(" ", "") in pdf
    page = as_html(a_sheet(words))
    assert "<script>alert" not in page
    assert page.count("http") == 1  # the header that refuses what comes from outside


@settings(max_examples=30, deadline=None)
@given(st.text(max_size=60))
def test_any_words_can_be_set(words):
    pdf = as_pdf(Sheet("s", (Section(Written(words), (Prose(Written(words)),)),)))
    assert pdf.startswith(b"%PDF")


def test_nothing_is_loaded_from_outside():
    page = as_html(a_sheet())
    assert "default-src 'none'" in page
    assert set(re.findall(r'src="(\w+):', page)) == {"data"}
    assert "url(" not in page


def test_the_heading_of_a_table_stands_on_every_page_and_so_does_the_foot():
    table = Table((Column("heading of it"), Column("b")), (("row", "b"),) * 90)
    pages = text_of(as_pdf(Sheet("s", (Section("one", (table,)),), ("records 01",), "Lock out.")))
    assert len(pages) > 1
    for number, page in enumerate(pages, 1):
        assert "heading of it" in page
        assert f"page {number} of {len(pages)}" in page
        assert "Lock out." in page
        assert "records 01" in page


def test_sections_begin_pages_and_say_so_on_those_that_follow():
    pages = text_of(as_pdf(a_sheet(rows=80)))
    assert sum("some words" in page for page in pages) == len(pages) - 1
    assert "second" in pages[-1]


def test_the_code_of_a_section_is_read():
    first = pictures_of(as_pdf(a_sheet()))[0]
    assert "unit?unit=A-1" in codes_on(first)


def test_words_are_told_and_what_people_wrote_is_not():
    facts = Facts((("breather", Written("breather")),))
    sheet = Sheet("s", (Section("s", (facts,)),))
    with reading_as(Reading("de", "space_comma")):
        (page,) = text_of(as_pdf(sheet))
        html = as_html(sheet)
    assert "Entlüfter breather" in page
    assert "Seite 1 von 1" in page
    assert '<html lang="de">' in html
    assert "Entlüfter" in html


def test_a_picture_that_stands_twice_is_one_file():
    sheet = Sheet("s", (Section("s", one_of_each() + one_of_each()),))
    once = Sheet("s", (Section("s", one_of_each()),))
    assert plain_data(sheet).files.keys() == plain_data(once).files.keys()
    assert a_photo() in plain_data(once).files.values()


def test_a_row_of_other_length_is_refused():
    with pytest.raises(ValueError, match="2 cells in a table of 1"):
        Table((Column("a"),), (("b", "c"),))


def test_another_kind_of_file_is_refused():
    with pytest.raises(FixableError, match=r"\.pdf or \.html"):
        file_of_sheet(a_sheet(), ".docx")
