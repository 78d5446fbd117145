"""The calculation sheet: it can be followed, read on paper, and shows what the chain says."""

import pickle
import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
import recomputed_sheet
from click.testing import CliRunner
from printed_pages import beyond_the_edge, overlapping_letters, smallest_letter_pt, text_of
from recomputed_sheet import NOT_RECKONED, compared, number

from dashboard.calculation_file import pdf_of_unit
from scoring.assessment import FleetAssessor
from scoring.cli.main import cli
from scoring.contract.events import MODE_WORDS, MODES
from scoring.errors import FixableError
from scoring.explanation import explain
from scoring.explanation.what_moves_it import what_moves_it
from scoring.explanation.what_narrows_it import what_narrows_it
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.language.reading import Reading, reading_as
from scoring.looking.assessed_fleet import AssessedFleet
from scoring.printing.as_html import as_html
from scoring.printing.as_pdf import as_pdf
from scoring.printing.paper import Paper
from scoring.sheets.calculation_sheet import calculation_sheet
from scoring.sheets.formula_markup import as_formula, as_words
from scoring.walkdown_form.visit_questions import MOUNTING_WORDS
from scoring.what_if.rework_success import learn_rework_success
from scoring.what_if.site_efforts import SiteEfforts

AS_OF = pd.Timestamp("2026-06-30")
MOUNTINGS = tuple(MOUNTING_WORDS)
LONGEST_AWAY = 0.7
"""Half of the last digit, and what rounded inputs add to it."""
ENGLISH_WORDS = re.compile(
    r"\b(the|of|and|with|not|by|from|each|chance|loss|seen|assumed|known|cost|load|per|to|failure)\b"
)
PROSE = {
    "load that the arm adds to one bearing",
    "bearing life ratio",
    "run-out at the seal over what it follows",
    "multiplier of the grip, against usual joints known as well",
}
"""Numbers whose formula is said in words."""


@pytest.fixture(scope="module", params=["by the handbook", "after learning"])
def stands(request):
    assessor = FleetAssessor(check_fleet(read_fleet("demo:grain_port").tables, AS_OF).fleet)
    learning = assessor.learn(AS_OF) if request.param == "after learning" else None
    assessment = assessor.assess(AS_OF, learning=learning)
    success = learn_rework_success(assessor.timeline, AS_OF)
    return AssessedFleet(assessor, assessment, success, SiteEfforts())


def worst_of(stands, mounting):
    units = stands.assessment.known.units.set_index("unit_id")["mounting"]
    ranked = stands.assessment.ranking["unit_id"]
    return ranked[(units[ranked] == mounting).to_numpy()].iloc[0]


def sheet_made(stands, unit_id):
    assessment = stands.assessment
    explanation = explain(assessment, unit_id)
    moved = what_moves_it(stands, unit_id)
    return calculation_sheet(stands.assessor.fleet, assessment, explanation, moved)


MADE = {}
"""Sheets by fleet and unit, each made once."""


def sheet_of(stands, unit_id):
    key = stands.assessment.ranking["basis"].iloc[0], unit_id
    if key not in MADE:
        MADE[key] = sheet_made(stands, unit_id)
    return MADE[key]


@pytest.mark.parametrize("mounting", MOUNTINGS)
def test_what_is_printed_comes_to_the_same_when_reckoned_again(stands, mounting):
    found = compared(as_html(sheet_of(stands, worst_of(stands, mounting))))
    for one in found:
        assert one.reckoned or one.printed.name in NOT_RECKONED, one.printed
        assert not one.reckoned or one.away <= LONGEST_AWAY, (one.printed, one.made)
    for words in MODE_WORDS.values():
        of_mode = [one for one in found if one.printed.topic == f"chance of a {words}"]
        assert len(of_mode) >= 8
        assert sum(not one.reckoned for one in of_mode) <= 1
    assert sum(one.reckoned for one in found) >= 40


def test_a_wrong_figure_is_found(stands):
    page = as_html(sheet_of(stands, worst_of(stands, MOUNTINGS[0])))
    (value,) = set(
        re.findall(r"expected loss within the horizon</strong>.*?value\">([\d.]+)", page)
    )
    wrong = page.replace(f'value">{value}', f'value">{float(value) * 1.001:.5g}')
    assert max(one.away for one in compared(wrong) if one.reckoned) > 1


def test_the_script_that_reckons_again_imports_nothing_of_ours():
    source = Path(recomputed_sheet.__file__).read_text(encoding="utf-8")
    imported = set(re.findall(r"^(?:from|import) (\w+)", source, re.MULTILINE))
    assert imported == {"math", "sys", "dataclasses", "html", "pathlib"}


@pytest.mark.parametrize("mounting", MOUNTINGS)
def test_the_results_on_it_are_those_of_the_ranking(stands, mounting):
    unit_id = worst_of(stands, mounting)
    ranked = explain(stands.assessment, unit_id).ranked
    sheet = recomputed_sheet.read(as_html(sheet_of(stands, unit_id)))
    results = {(one.topic, one.name): number(one.value) for one in sheet.numbers}
    for mode, words in MODE_WORDS.items():
        topic = f"chance of a {words}"
        assert results[topic, topic] == pytest.approx(ranked[f"p_{mode}"], rel=1e-4)
    loss = results["expected loss", "expected loss within the horizon"]
    assert loss == pytest.approx(ranked["expected_loss"], rel=1e-4)


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize("mounting", MOUNTINGS)
def test_it_can_be_read_on_paper(stands, mounting, language, paper):
    if (stands.assessment.learning is None) == (paper is Paper.A4):
        return  # each paper by one of both bases
    sheet = sheet_of(stands, worst_of(stands, mounting))
    with reading_as(Reading(language, "space_comma" if language == "de" else "comma_point")):
        pdf = as_pdf(sheet, paper)
    assert smallest_letter_pt(pdf) >= 7.99
    assert not overlapping_letters(pdf)
    assert not beyond_the_edge(pdf)


@pytest.mark.parametrize("mounting", MOUNTINGS)
def test_nothing_is_left_in_english(stands, mounting):
    unit_id = worst_of(stands, mounting)
    sheet = sheet_of(stands, unit_id)
    with reading_as(Reading("de", "space_comma")):
        page = as_html(sheet)
    said = re.sub(r"<style>.*?</style>|<[^>]*>", "\n", page.partition("<body>")[2])
    left = {line for line in said.splitlines() if ENGLISH_WORDS.search(line)}
    row = stands.assessment.known.units.set_index("unit_id").loc[unit_id]
    names = {str(row[name]) for name in ("site", "line", "driven_equipment")}
    assert ENGLISH_WORDS.search(re.sub(r"<[^>]*>", " ", as_html(sheet)))
    assert not {line for line in left if not any(name in line for name in names)}


def test_pdf_and_page_say_the_same_figures(stands):
    sheet = sheet_of(stands, worst_of(stands, MOUNTINGS[2]))
    printed = recomputed_sheet.read(as_html(sheet)).numbers
    whole = " ".join(text_of(as_pdf(sheet)))
    for one in printed:
        assert f"{one.value}" in whole, one
    for name, value in {pair for one in printed for pair in one.inputs}:
        assert value in whole, name


def test_every_formula_is_mathematics_or_listed_as_prose(stands):
    for mounting in MOUNTINGS:
        for one in explain(stands.assessment, worst_of(stands, mounting)).numbers:
            tree = as_formula(one.formula, [part.name for part in one.inputs if not part.beside])
            if one.name in PROSE or one.formula.startswith("1, for"):
                assert tree is None
            else:
                assert tree is not None, one
                assert as_words(tree) == one.formula


def test_the_same_records_give_the_same_bytes(stands):
    unit_id = worst_of(stands, MOUNTINGS[1])
    again = pickle.loads(pickle.dumps(stands))  # noqa: S301 - of this test
    for made in (as_pdf, as_html):
        assert made(sheet_of(stands, unit_id)) == made(sheet_made(again, unit_id))


@pytest.mark.parametrize("mounting", MOUNTINGS)
def test_a_finding_as_found_leaves_the_loss_as_it_is_known(stands, mounting):
    unit_id = worst_of(stands, mounting)
    loss = stands.assessment.risk.expected_loss[stands.assessment.place_of(unit_id)]
    moved = what_moves_it(stands, unit_id)
    as_found = [one for one in moved if one.known == "as found"]
    assert as_found
    for one in as_found:
        assert np.isclose([end[1] for end in one.ends], loss).any(), one
    assert all(a.moves >= b.moves for a, b in pairwise(moved))
    assert all(one.ends[0][1] < one.ends[1][1] for one in moved)


def test_costs_move_the_loss_as_they_are_multiplied(stands):
    unit_id = worst_of(stands, MOUNTINGS[2])
    place = stands.assessment.place_of(unit_id)
    costs, known = stands.assessment.risk.costs.table.iloc[place], stands.assessment.known
    loss = stands.assessment.risk.expected_loss[place]
    (hour,) = [one for one in what_moves_it(stands, unit_id) if "hour of standstill" in one.name]
    modes = stands.assessment.risk.modes
    hours = (("low_speed_bearing", "bearing"), ("seal_leak", "leak"), ("joint_slip", "slip"))
    a_unit = sum(modes[m].probability[place] * costs[f"{name}_repair_h"] for m, name in hours)
    blank = pd.isna(known.units["downtime_cost_per_h"].iloc[place])
    times = 1.5 if blank else 1.1
    cost = costs["downtime_cost_per_h"]
    ends = [loss + a_unit * (cost * more - cost) for more in (1 / times, times)]
    assert [end[1] for end in hour.ends] == pytest.approx(ends)


@pytest.mark.parametrize("mounting", MOUNTINGS)
def test_what_is_known_more_narrows_the_interval(stands, mounting):
    explanation = explain(stands.assessment, worst_of(stands, mounting))
    narrows = what_narrows_it(explanation.unit)
    assert narrows.mode in MODES
    assert narrows.by
    widths = [np.log(one.high / one.low) for one in narrows.by]
    assert max(widths) <= np.log(narrows.high / narrows.low)
    assert widths == sorted(widths)


def test_the_command_writes_it(tmp_path):
    out = tmp_path / "sheet.pdf"
    asked = ["sheet", "calculation", "demo:small_quarry", "--unit", "SS-001"]
    done = CliRunner().invoke(cli, [*asked, "--as-of", "2026-06-30", "--out", str(out)])
    assert done.exit_code == 0, done.output
    assert "Calculation sheet of SS-001" in " ".join(text_of(out.read_bytes()))
    missing = CliRunner().invoke(cli, [*asked[:-1], "nowhere", "--out", str(out)])
    assert isinstance(missing.exception, FixableError)
    assert "no unit 'nowhere'" in str(missing.exception)


def test_the_page_of_a_unit_offers_it(stands):
    unit_id = worst_of(stands, MOUNTINGS[0])
    explanation = explain(stands.assessment, unit_id)
    offered = pdf_of_unit(explanation, stands)
    assert offered == as_pdf(sheet_of(stands, unit_id))


def test_long_and_hostile_names_print_as_names():
    fleet = check_fleet(read_fleet("demo:small_quarry").tables, AS_OF).fleet
    wild = "<b>#let x=1; $a/b$ *bold* {{7*7}} " + "M" * 160
    units = fleet.units.copy()
    for name in ("site", "line", "driven_equipment", "installer"):
        units[name] = units[name].astype("str").mask(units["unit_id"] == "SS-014", wild)
    assessor = FleetAssessor(replace(fleet, units=units))
    success = learn_rework_success(assessor.timeline, AS_OF)
    stands = AssessedFleet(assessor, assessor.assess(AS_OF), success, SiteEfforts())
    pdf = as_pdf(sheet_made(stands, "SS-014"))
    assert wild[:30] in " ".join(text_of(pdf))
    assert not overlapping_letters(pdf)
    assert not beyond_the_edge(pdf)
