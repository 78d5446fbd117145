from dataclasses import replace
from io import BytesIO

import pytest
from click.testing import CliRunner
from kept_plants import SMALL_QUARRY
from PIL import Image
from printed_pages import (
    beyond_the_edge,
    codes_on,
    overlapping_letters,
    pictures_of,
    smallest_letter_pt,
    text_of,
)
from said_in_german import GERMAN, left_in_english
from units_to_walk import fleet_of, rows_of_units, visit

from scoring.cli.main import cli
from scoring.contract import CHECK_BY_NAME
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.entering.walkdown_as_filled import last_walkdown_of, walkdown_as_filled
from scoring.errors import FixableError
from scoring.language.reading import AS_WRITTEN, reading_as
from scoring.printing.as_html import as_html
from scoring.printing.as_pdf import as_pdf
from scoring.printing.paper import Paper
from scoring.sheets.filled_walkdown import ReleaseKept, Signed, filled_walkdown
from scoring.sheets.unit_code import unit_of_code
from scoring.walkdown_form.findings_picture import draw_findings

SEEN = {
    "breather": "plugged",
    "arm_bolts": "tight",
    "guard": "missing",
    "smallest_clearance_mm": "1",
}
NOTE = "<script>alert(1)</script> #let $x$ *not bold* " + "a long note about rust dust " * 8
SIGNED = Signed("Ann #1 <b>", "2026-01-12 08:05 UTC", "hold", "the shift leader")


def filled_of(mounting, seen=SEEN, kind="periodic", **unit):
    (row,) = [u for u in rows_of_units() if u["unit_id"] == f"full {mounting}"]
    row |= unit
    walkdown = visit(row["unit_id"], **{"kind": kind, "notes": NOTE, "inspector": "Ben", **seen})
    return walkdown_as_filled(fleet_of([row], [walkdown]), walkdown["walkdown_id"])


def a_photo(shade, size=(1600, 1200)):
    file = BytesIO()
    Image.radial_gradient("L").resize(size).point(lambda grey: (grey + shade) % 256).save(
        file, "JPEG"
    )
    return file.getvalue()


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("reading", [AS_WRITTEN, GERMAN], ids=["en", "de"])
def test_it_can_be_read_on_paper(mounting, paper, reading):
    sheet = filled_walkdown(filled_of(mounting), ("as of 2026-06-30",))
    with reading_as(reading):
        pdf = as_pdf(sheet, paper)
    assert smallest_letter_pt(pdf) >= 7.99
    assert not overlapping_letters(pdf)
    assert not beyond_the_edge(pdf)
    assert len(text_of(pdf)) <= 3
    assert [unit_of_code(code) for code in codes_on(pictures_of(pdf, 200)[0])] == [
        f"full {mounting}"
    ]
    assert left_in_english(sheet) == []


def test_each_check_is_told_as_it_was_seen():
    filled = filled_of("keyed_bore")
    told = {one.label: (one.seen, one.result) for one in filled.seen}
    numbers = {one.check: n for n, one in enumerate(filled.findings, 1)}
    label = {name: CHECK_BY_NAME[name].label for name in CHECK_BY_NAME}
    assert told[label["breather"]] == ("plugged", f"finding {numbers['breather']}")
    assert told[label["guard"]] == ("one missing", f"finding {numbers['guard']}")
    assert told[label["arm_bolts"]] == ("all tight", "good")
    assert told[label["smallest_clearance_mm"]][0] == "1 mm"
    assert told[label["oil_level"]] == ("not seen", "no reason given")
    assert numbers["guard"] == 1
    page = " ".join(text_of(as_pdf(filled_walkdown(filled))))
    assert "hold: must not run guard missing" in page
    assert NOTE.strip() in page


def test_what_is_asked_once_a_unit_has_run_is_not_said_to_be_unseen_before():
    labels = {one.label for one in filled_of("shrink_disc", kind="post_install").seen}
    assert CHECK_BY_NAME["screws_rechecked"].label not in labels
    labels = {one.label for one in filled_of("shrink_disc").seen}
    assert CHECK_BY_NAME["screws_rechecked"].label in labels


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_every_finding_is_marked_where_it_is(mounting):
    filled = filled_of(mounting)
    sheet = filled_walkdown(filled)
    picture = sheet.sections[0].blocks[0].columns[0][0].picture
    marks = [shape for shape in picture.shapes if hasattr(shape, "severe")]
    assert sorted(mark.number for mark in marks) == list(range(1, len(filled.findings) + 1))
    assert [m.severe for m in sorted(marks, key=lambda m: m.number)] == [
        finding.severe for finding in filled.findings
    ]
    boxes = [mark.box for mark in marks]
    assert not any(a.overlaps(b) for n, a in enumerate(boxes) for b in boxes[:n])
    assert all(b.left >= 0 and b.right <= picture.width and b.top >= 0 for b in boxes)


def test_files_hold_no_signature_and_leave_room_for_one():
    page = " ".join(text_of(as_pdf(filled_walkdown(filled_of("keyed_bore")))))
    assert "These records are files, which hold no signature and no photo." in page
    assert "inspector name day signature" in page


def test_signature_told_and_release_are_said():
    filled = replace(
        filled_of("keyed_bore"),
        signed=SIGNED,
        version=2,
        keeps_signatures=True,
        releases=(ReleaseKept("Cay", "2026-01-13 10:00 UTC", "guard fitted, <i>tried</i>"),),
    )
    sheet = filled_walkdown(filled)
    page = " ".join(text_of(as_pdf(sheet)))
    for words in ("Ann #1 <b>", "2026-01-12 08:05 UTC", "the shift leader", "version 2"):
        assert words in page
    assert "Cay" in page
    assert "guard fitted, <i>tried</i>" in page
    assert "inspector name day signature" not in page
    assert "<script>alert" not in as_html(sheet)
    assert left_in_english(sheet) == []


def test_the_verdict_is_the_one_that_was_signed():
    filled = replace(filled_of("keyed_bore"), signed=replace(SIGNED, verdict="watch"))
    page = " ".join(text_of(as_pdf(filled_walkdown(filled))))
    assert "watch: nothing found, something to look at" in page


def test_sixteen_photos_fit():
    photos = tuple(
        (label, a_photo(n * 9, (400, 300) if n % 2 else (300, 400)))
        for n, label in enumerate(["breather"] * 16)
    )
    pdf = as_pdf(filled_walkdown(replace(filled_of("shrink_disc"), photos=photos)))
    bare = as_pdf(filled_walkdown(filled_of("shrink_disc")))
    assert len(text_of(pdf)) <= len(text_of(bare)) + 2
    assert sum(page.count("breather") for page in text_of(pdf)) >= 16
    assert not beyond_the_edge(pdf)
    dark = [page.point(lambda grey: 255 * (grey < 250)).getbbox() for page in pictures_of(pdf, 50)]
    assert all(box[2] < 595 / 72 * 50 - 10 for box in dark)


def test_a_unit_without_findings_is_never_permitted_to_run():
    page = " ".join(text_of(as_pdf(filled_walkdown(filled_of("keyed_bore", {"guard": "fitted"})))))
    assert "No finding. Never a permission to run." in page


def test_a_picture_without_findings_says_so():
    assert "none" in draw_findings("keyed_bore", ()).description


def test_the_last_walkdown_is_that_of_the_last_day():
    (row,) = [u for u in rows_of_units() if u["unit_id"] == "full keyed_bore"]
    visits = [
        visit(row["unit_id"], n, inspected_on=day, kind="periodic")
        for n, day in enumerate(("2026-02-01", "2026-05-01", "2026-03-01"))
    ]
    known = fleet_of([row], visits)
    assert last_walkdown_of(known, row["unit_id"]) == visits[1]["walkdown_id"]
    with pytest.raises(FixableError, match="no unit 'x'"):
        last_walkdown_of(known, "x")
    with pytest.raises(FixableError, match="no walkdown 'x'"):
        walkdown_as_filled(known, "x")


def test_the_command_makes_the_last_walkdown_of_a_unit(tmp_path):
    out = tmp_path / "filled.pdf"
    words = ["sheet", "filled", str(SMALL_QUARRY), "--unit", "SS-001", "--out", str(out)]
    done = CliRunner().invoke(cli, words, catch_exceptions=False)
    assert done.exit_code == 0, done.output
    assert "SS-001" in text_of(out.read_bytes())[0]
    done = CliRunner().invoke(cli, words[:3] + words[5:], catch_exceptions=False)
    assert done.exit_code == 2
    assert "--walkdown" in done.output
