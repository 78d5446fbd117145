from urllib.parse import quote

import pandas as pd
import pytest
import zxingcpp
from hypothesis import given
from hypothesis import strategies as st
from PIL import ImageFilter
from printed_pages import codes_on, overlapping_letters, pictures_of, smallest_letter_pt, text_of

from scoring.errors import FixableError
from scoring.printing.as_pdf import as_pdf
from scoring.sheets.machine_label import CODE_SIDE_MM, machine_labels
from scoring.sheets.unit_code import code_of_unit, unit_of_code
from scoring.walkdown_form.visit_questions import MOUNTING_WORDS

MOUNTINGS = tuple(MOUNTING_WORDS)
IDS = ("CH-1935", "north/ü 7", "a" * 24, "N=1&2")


def some_units(ids=IDS):
    return pd.DataFrame(
        {
            "unit_id": ids,
            "site": "a site with a name that is longer than a label is wide",
            "line": "line of the long conveyors",
            "driven_equipment": [None, *["belt conveyor 12"] * (len(ids) - 1)],
            "mounting": [MOUNTINGS[n % len(MOUNTINGS)] for n in range(len(ids))],
        }
    )


@pytest.mark.parametrize("host", ["", "https://plant.example:8501"])
@pytest.mark.parametrize(("turned", "blurred"), [(0, 0), (7, 1.0), (-12, 2.0), (31, 1.5)])
def test_a_turned_and_blurred_label_is_read(turned, blurred, host):
    for unit_id in IDS:
        (page,) = pictures_of(as_pdf(machine_labels(some_units(), [unit_id], host)), 300)
        label = page.crop((0, 0, page.width, page.height // 3))
        seen = label.rotate(turned, expand=True, fillcolor=255)
        codes = codes_on(seen.filter(ImageFilter.GaussianBlur(blurred)))
        assert [unit_of_code(code) for code in codes] == [unit_id]
        assert all(code.startswith(host or "unit?") for code in codes)


def test_the_code_is_as_large_as_said():
    (page,) = pictures_of(as_pdf(machine_labels(some_units(), IDS[:1])), 300)
    dark = page.point(lambda grey: 255 * (grey < 128))
    (found,) = zxingcpp.read_barcodes(page)
    corner, right = found.position.top_left, found.position.top_right
    squares = 33  # version 2 of ISO/IEC 18004 has 25, and 4 on either side stay white
    assert dark.getbbox()
    assert (right.x - corner.x) / 300 * 25.4 == pytest.approx(CODE_SIDE_MM * 25 / squares, abs=0.3)


def test_many_labels_stand_whole_on_paper():
    ids = tuple(f"CH-{n}" for n in range(200))
    pdf = as_pdf(machine_labels(some_units(ids), ids))
    pages = pictures_of(pdf, 200)
    assert sorted(unit_of_code(code) for page in pages for code in codes_on(page)) == sorted(ids)
    assert smallest_letter_pt(pdf) >= 7.99
    assert not overlapping_letters(pdf)
    assert all(unit_id in " ".join(text_of(pdf)) for unit_id in ids)


@given(st.text(min_size=1, max_size=40).filter(lambda text: text.isprintable()))
def test_what_a_code_holds_leads_back_to_the_unit(unit_id):
    assert unit_of_code(code_of_unit(unit_id)) == unit_id
    assert unit_of_code(code_of_unit(unit_id, "https://plant.example", "form")) == unit_id


@pytest.mark.parametrize(
    "other",
    ["", "unit", "unit?unit=", "walkdown?unit=A", "https://plant.example/unit?unit=a&unit=b"],
)
def test_what_is_no_code_leads_nowhere(other):
    assert unit_of_code(other) is None


@pytest.mark.parametrize(
    "host", ["plant.example", "ftp://plant.example", "https://a:b@c", "https://"]
)
def test_what_is_no_address_is_refused(host):
    with pytest.raises(FixableError, match=r"https://plant\.example:8501"):
        code_of_unit("A", host)


def test_a_code_too_long_to_be_read_is_refused():
    with pytest.raises(FixableError, match="400"):
        code_of_unit(quote("ü" * 200))
