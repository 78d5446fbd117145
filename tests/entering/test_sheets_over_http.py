"""Sheets over HTTP: of one unit, of a route, and of what was just signed."""

import time
from io import BytesIO
from urllib.parse import quote

import pytest
from kept_plants import SMALL_QUARRY
from PIL import Image
from printed_pages import codes_on, pictures_of, text_of

from dashboard import launch_settings
from dashboard.walkdown import sheets
from dashboard.walkdown.answering import FormRequest
from scoring.errors import FixableError
from scoring.sheets.unit_code import unit_of_code


def printed(server, path, **cookies):
    kept = "; ".join(f"{name}={value}" for name, value in cookies.items())
    answer = server.ask("GET", path, headers={"Cookie": f"person=Ben%20Meier; {kept}"})
    assert answer.code == 200, answer.text
    assert answer.headers["content-type"] == "application/pdf"
    return answer.body


def units_of(pdf):
    return [unit_of_code(code) for page in pictures_of(pdf, 150) for code in codes_on(page)]


def test_a_sheet_that_was_signed_says_who_signed_who_was_told_and_shows_photos(server):
    draft = server.begin("SS-003")
    server.answer_visit(draft, notes="<b>loud</b>")
    server.give(draft, "guard", "missing")
    server.give(draft, "breather", "", reason="no_access")
    file = BytesIO()
    Image.new("RGB", (1200, 900), "navy").save(file, "JPEG")
    path = f"/walkdown/api/drafts/{draft}/photos/guard?by=Ben+Meier"
    assert server.ask("POST", path, file.getvalue()).code == 200
    done = server.submit(draft, told="Cay, shift leader")
    assert done.code == 200, done.text
    page = " ".join(text_of(printed(server, done.said["sheet"])))
    for words in (
        "SS-003",
        "hold: must not run",
        "signed by Ben Meier",
        "told of the hold Cay, shift leader",
        "<b>loud</b>",
        "breather not seen no access",
        "guard one missing finding 2",  # after the anchor, which was found before
        time.strftime("%Y-%m-%d"),
    ):
        assert words in page, page
    assert "Photos guard" in page.replace("  ", " ")
    assert "None is on record since" in page
    last = printed(server, "/sheet/filled?unit=SS-003")
    assert " ".join(text_of(last)) == page
    assert "Unterschrift" in " ".join(text_of(printed(server, done.said["sheet"], language="de")))


def test_a_unit_and_a_walk_have_blank_sheets(server):
    assert units_of(printed(server, "/sheet/blank?unit=SS-001")) == ["SS-001"]
    one_line = printed(server, "/sheet/blank?line=" + quote("wash line"), measures="inch")
    assert len(units_of(one_line)) > 1
    assert "lbf·ft" in " ".join(text_of(one_line))
    assert units_of(printed(server, "/sheet/label?unit=SS-001")) == ["SS-001"]


@pytest.mark.parametrize(
    ("path", "said"),
    [
        ("/sheet/blank?unit=nowhere", "nowhere"),
        ("/sheet/filled", "which walkdown?"),
        ("/sheet/filled?walkdown=nothing", "there is no walkdown"),
        ("/sheet/blank?unit=SS-001&paper=a9", "paper is"),
    ],
)
def test_what_is_not_there_is_said_in_words(server, path, said):
    answer = server.ask("GET", path)
    assert answer.code in {404, 422}
    assert said in answer.text


def test_pages_that_show_files_have_sheets_too(monkeypatch):
    monkeypatch.setenv(launch_settings.FLEET, str(SMALL_QUARRY))
    asked = FormRequest(None, {}, {"unit": "SS-001"})
    assert units_of(bytes(sheets.blank(asked).body)) == ["SS-001"]
    filled = " ".join(text_of(bytes(sheets.filled(asked).body)))
    assert "These records are files, which hold no signature and no photo." in filled
    with pytest.raises(FixableError, match="nowhere"):
        sheets.filled(FormRequest(None, {}, {"unit": "nowhere"}))


def test_a_code_that_a_phone_read_begins_a_walkdown(server):
    answer = server.ask("GET", "/walkdown?search=" + quote("unit?unit=SS-001"))
    assert answer.code == 303
    assert answer.headers["location"] == "/walkdown/new?unit=SS-001"


def test_today_offers_the_sheets_of_the_walk(server):
    page = server.ask("GET", "/today?line=" + quote("wash line")).text
    assert 'href="/sheet/blank?line=wash+line"' in page
