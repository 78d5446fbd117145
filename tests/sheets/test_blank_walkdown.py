from itertools import pairwise

import pandas as pd
import pytest
from click.testing import CliRunner
from kept_plants import SMALL_QUARRY
from printed_pages import (
    beyond_the_edge,
    codes_on,
    is_in_order,
    overlapping_letters,
    pictures_of,
    smallest_letter_pt,
    text_of,
)
from said_in_german import GERMAN, left_in_english
from units_to_walk import HOSTILE, fleet

from scoring.cli.main import cli
from scoring.contract import CHECK_BY_NAME, CHECKS
from scoring.contract.cautions import CAUTIONS
from scoring.contract.mountings import CLAMPED, EVERY_MOUNTING
from scoring.contract.quantities import INCH
from scoring.contract.walkdown_kinds import PERIODIC, POST_INSTALL
from scoring.errors import FixableError
from scoring.language.reading import AS_WRITTEN, reading_as
from scoring.printing.as_html import as_html
from scoring.printing.as_pdf import as_pdf
from scoring.printing.paper import Paper
from scoring.printing.plain_data import plain_data
from scoring.sheets.blank_walkdown import Visit, blank_of_mounting, blank_walkdowns
from scoring.sheets.sheet_blocks import AtStation
from scoring.sheets.unit_code import unit_of_code
from scoring.walkdown_form.document import form_document

ON_A_ROUND = Visit(PERIODIC, "stopped")
FULL = [f"full {mounting}" for mounting in EVERY_MOUNTING]
LEAST = [f"least {mounting}" for mounting in EVERY_MOUNTING]


def sheet_of(*unit_ids, **given):
    return blank_walkdowns(fleet().units, unit_ids, **given)


def asked_on(sheet):
    """Return the checks of the first section as they are asked."""
    stations = [block for block in sheet.sections[0].blocks if isinstance(block, AtStation)]
    return [(station.letter, one) for station in stations for one in station.checks]


def by_label(sheet, check):
    return next(one for _, one in asked_on(sheet) if one.label == CHECK_BY_NAME[check].label)


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("reading", [AS_WRITTEN, GERMAN], ids=["en", "de"])
def test_it_can_be_read_on_paper(paper, reading):
    sheet = sheet_of(*FULL, *LEAST)
    with reading_as(reading):
        pdf = as_pdf(sheet, paper)
    assert smallest_letter_pt(pdf) >= 7.99
    assert not overlapping_letters(pdf)
    assert not beyond_the_edge(pdf)
    assert len(text_of(pdf)) <= 3 * len(FULL + LEAST)
    pages = text_of(pdf)
    assert all(any(unit_id in page for page in pages) for unit_id in FULL + LEAST)


@pytest.mark.parametrize("unit_id", FULL + LEAST)
def test_a_round_at_stopped_machines_takes_two_pages_a_unit(unit_id):
    pages = text_of(as_pdf(sheet_of(unit_id, visit=ON_A_ROUND)))
    assert len(pages) <= (3 if "support_bushings" in unit_id else 2)


def test_two_pages_ask_all_of_a_keyed_bore():
    assert len(text_of(as_pdf(sheet_of("full keyed_bore")))) == 2


@pytest.mark.parametrize("unit_id", FULL + LEAST)
def test_it_asks_what_the_form_asks_in_its_order(unit_id):
    (unit,) = form_document(fleet().units, [unit_id])["units"]
    sheet = sheet_of(unit_id)
    asked = asked_on(sheet)
    assert [(s["station"], s["label"]) for s in unit["steps"]] == [(at, c.label) for at, c in asked]
    for step, (_, check) in zip(unit["steps"], asked, strict=True):
        assert check.options == tuple(option["words"] for option in step["options"])
        assert step["how_to_look"] in check.look
        limit = (step["usual"] or {}).get("words", "")
        assert limit in check.good or check.good == step["good"]
    pdf = as_pdf(sheet)
    assert is_in_order(pdf, *(f"{n} {check.label}" for n, (_, check) in enumerate(asked, 1)))
    assert all(CAUTIONS in page for page in text_of(pdf))


def test_what_is_good_is_that_of_the_unit_with_whose_word_it_is():
    full, least = sheet_of("full tapered_bushing"), sheet_of("least tapered_bushing")
    assert by_label(full, "engagement_mm").good == "at least 150 mm, as recorded"
    assert by_label(full, "final_torque_nm").good == "114 to 126 N·m, as recorded"
    assert by_label(least, "final_torque_nm").good == CHECK_BY_NAME["final_torque_nm"].good
    assert "planning value of ours" in by_label(least, "engagement_mm").good
    assert by_label(full, "screws_low").good == "none"


def test_numbers_are_written_in_the_measures_of_who_sees_the_unit():
    inch = sheet_of("full tapered_bushing", measures=INCH)
    assert by_label(inch, "engagement_mm").good == "at least 5.9056 in, as recorded"
    assert by_label(inch, "engagement_mm").entry == "in"
    assert by_label(inch, "final_torque_nm").entry == "lbf·ft"
    assert "torque, lbf·ft" in " ".join(text_of(as_pdf(inch)))


def test_the_visit_decides_what_is_asked():
    rechecked = CHECK_BY_NAME["screws_rechecked"]
    asked_by_visit = {
        kind: {one.label for _, one in asked_on(sheet_of("full shrink_disc", visit=Visit(kind)))}
        for kind in (POST_INSTALL, PERIODIC)
    }
    assert rechecked.label not in asked_by_visit[POST_INSTALL]
    assert rechecked.label in asked_by_visit[PERIODIC]
    assert "on a round" in by_label(sheet_of("full shrink_disc"), rechecked.name).look
    at_rest = asked_on(sheet_of("full shrink_disc", visit=ON_A_ROUND))
    assert {letter for letter, _ in at_rest} == set("BCDEF")
    assert [one.mark for _, one in at_rest] == [str(n) for n in range(1, len(at_rest) + 1)]
    page = " ".join(text_of(as_pdf(sheet_of("full shrink_disc", visit=ON_A_ROUND))))
    assert "why on a round" in page
    assert "after first start" not in page


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_torques_are_those_recorded_and_none_is_supplied(mounting):
    recorded = " ".join(text_of(as_pdf(sheet_of(f"full {mounting}"))))
    least = " ".join(text_of(as_pdf(sheet_of(f"least {mounting}"))))
    is_clamped = mounting in CLAMPED
    assert ("Tightening the clamp screws" in recorded) is is_clamped
    if not is_clamped:
        return
    assert is_in_order(as_pdf(sheet_of(f"full {mounting}")), "25% 30", "63% 75.6", "100% 120")
    assert "compare it with the unit's own manual" in recorded
    assert "from the unit's own manual; none is supplied" in least
    assert "number of screws" in least
    passes = least.partition("Tightening the clamp screws")[2]
    assert (
        "1 25% 2 50% 3 100% check" in passes
    )  # nothing stands between share and share but room to write


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_a_sheet_of_a_mounting_says_no_limit_that_goes_by_a_size(mounting):
    sheet = blank_of_mounting(mounting)
    asked = asked_on(sheet)
    ours = {check.label for check in CHECKS if mounting in check.mountings}
    assert {one.label for _, one in asked} == ours
    assert by_label(sheet, "engagement_mm").good == CHECK_BY_NAME["engagement_mm"].good
    pdf = as_pdf(sheet)
    assert not codes_on(pictures_of(pdf, 200)[0])
    assert len(text_of(pdf)) <= 3
    assert "nan" not in " ".join(text_of(pdf)).split()


@pytest.mark.parametrize("host", ["", "https://plant.example:8501"])
def test_the_code_of_each_first_page_leads_to_its_unit(host):
    pages = pictures_of(as_pdf(sheet_of(*FULL, host=host)), 200)
    read = [code for page in pages for code in codes_on(page)]
    assert [unit_of_code(code) for code in read] == FULL
    assert all(code.startswith(host) for code in read)


def test_hostile_and_long_names_print_as_text():
    units = fleet().units.iloc[:2].copy()
    units["unit_id"] = ["#let x = 1 <b> $a$", "b" * 24]
    units["site"] = HOSTILE
    units["line"] = "conveyor of the long north line " * 8
    sheet = blank_walkdowns(units, units["unit_id"].tolist())
    pdf = as_pdf(sheet)
    assert "#let x = 1 <b> $a$" in " ".join(text_of(pdf))
    assert not overlapping_letters(pdf)
    assert not beyond_the_edge(pdf)
    page = as_html(sheet)
    assert "<script" not in page
    assert "<img src=x" not in page


@pytest.mark.parametrize("visit", [Visit(), ON_A_ROUND])
def test_it_is_wholly_german(visit):
    for sheet in (
        sheet_of(*FULL, *LEAST, visit=visit),
        sheet_of(*FULL, *LEAST, visit=visit, measures=INCH),
        *(blank_of_mounting(mounting, visit=visit) for mounting in EVERY_MOUNTING),
    ):
        assert left_in_english(sheet) == []


def many_units(count):
    rows = [row for _, row in zip(range(count), cycle_of_rows(), strict=False)]
    units = fleet().units.iloc[rows].reset_index(drop=True)
    units["unit_id"] = pd.Series([f"CH-{n}" for n in range(count)], dtype=units["unit_id"].dtype)
    return units


def cycle_of_rows():
    while True:
        yield from range(len(fleet().units))


def test_two_hundred_units_share_their_drawings_and_stay_small():
    units = many_units(200)
    sheet = blank_walkdowns(units, units["unit_id"].tolist())
    drawings = [name for name in plain_data(sheet).files if name.endswith("svg")]
    codes = 200
    of_mountings = 8  # with a backstop and without
    of_screws = 2
    assert len(drawings) == codes + of_mountings + of_screws
    pdf = as_pdf(sheet)
    assert len(pdf) <= 100_000 * 200
    firsts = [page.split()[0] for page in text_of(pdf) if page.startswith("CH-")]
    assert firsts == units["unit_id"].tolist()


def test_the_same_units_give_the_same_bytes():
    for made in (as_pdf, as_html):
        assert made(sheet_of(*FULL)) == made(sheet_of(*FULL))


def test_unknown_and_repeated_units_are_refused():
    with pytest.raises(FixableError, match="no unit 'nowhere'"):
        sheet_of("nowhere")
    with pytest.raises(FixableError, match="twice"):
        sheet_of(FULL[0], FULL[0])


def test_marks_rise_along_the_walk():
    letters = [letter for letter, _ in asked_on(sheet_of(FULL[3]))]
    assert all(a <= b for a, b in pairwise(letters))


def run(*words):
    return CliRunner().invoke(cli, ["sheet", "blank", *map(str, words)], catch_exceptions=False)


def test_the_command_prints_a_line_in_walking_order(tmp_path):
    out = tmp_path / "line.pdf"
    done = run(SMALL_QUARRY, "--line", "wash line", "--visit", "periodic", "--out", out)
    assert done.exit_code == 0, done.output
    assert CAUTIONS.split(";")[0] in " ".join(done.output.split())
    assert len(text_of(out.read_bytes())) >= 2


def test_the_command_prints_a_mounting_without_records(tmp_path):
    out = tmp_path / "sheet.html"
    done = run("--mounting", "shrink_disc", "--language", "de", "--out", out)
    assert done.exit_code == 0, done.output
    assert "Schrumpfscheibe" in out.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "give FLEET"),
        ([SMALL_QUARRY, "--mounting", "keyed_bore"], "without --mounting"),
        (["--mounting", "keyed_bore", "--unit", "A"], "--unit chooses among the units of FLEET"),
    ],
)
def test_the_command_says_what_does_not_go_together(tmp_path, words, said):
    done = run(*words, "--out", tmp_path / "a.pdf")
    assert done.exit_code == 2
    assert said in " ".join(done.output.split())
