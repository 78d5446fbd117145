import re
from collections import Counter, defaultdict

import pytest
from orders_to_print import AS_OF, HOSTILE, WILD_IDS, a_stand, work_at
from printed_pages import (
    beyond_the_edge,
    codes_on,
    overlapping_letters,
    pictures_of,
    smallest_letter_pt,
    text_of,
)

from scoring.contract import CHECK_BY_NAME
from scoring.contract.cautions import CAUTIONS
from scoring.contract.rework import ACTIONS
from scoring.contract.steps_of_a_job import steps_of_a_job
from scoring.language import tell
from scoring.language.reading import Reading, reading_as
from scoring.printing.as_html import as_html
from scoring.printing.as_pdf import as_pdf
from scoring.printing.paper import Paper
from scoring.sheets.sheet_blocks import Beside, Blank, Table, Together
from scoring.sheets.unit_code import unit_of_code
from scoring.sheets.work_order import work_order
from scoring.sheets.work_to_order import work_of_kept_jobs

GERMAN = Reading("de", "space_comma")
ENGLISH = Reading("en", "space_point")


@pytest.fixture(scope="module")
def of_each_mounting():
    stands = a_stand(4)
    return stands, work_at(stands, starts_on="2026-07-20")


@pytest.fixture(scope="module")
def of_sixty():
    stands = a_stand(60)
    return stands, work_at(stands, windows=("July stop", "autumn stop"))


def sheet_of(made):
    stands, work = made
    return work_order(work, stands.assessor.fleet)


def plain(text):
    return "".join(text.split())


def tables_of(blocks):
    for block in blocks:
        match block:
            case Table():
                yield block
            case Together(inside):
                yield from tables_of(inside)
            case Beside(columns):
                for column in columns:
                    yield from tables_of(column)


def table_with(section, heading):
    """Return the table of a section one of whose headings is this."""
    (found,) = (
        table
        for table in tables_of(section.blocks)
        if heading in {column.heading for column in table.columns}
    )
    return found


def section_of(sheet, unit_id):
    (found,) = (section for section in sheet.sections if section.title == unit_id)
    return found


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("reading", [ENGLISH, GERMAN], ids=["en", "de"])
def test_every_mounting_can_be_read_on_paper(of_each_mounting, paper, reading):
    with reading_as(reading):
        pdf = as_pdf(sheet_of(of_each_mounting), paper)
    assert smallest_letter_pt(pdf) >= 7.98
    assert not overlapping_letters(pdf)
    assert not beyond_the_edge(pdf)


def test_each_page_carries_the_cautions_and_what_it_rests_on(of_each_mounting):
    for page in text_of(as_pdf(sheet_of(of_each_mounting))):
        assert plain(CAUTIONS) in plain(page)
        assert f"as of {AS_OF}" in page


def test_each_job_says_its_steps_in_order(of_each_mounting):
    stands, work = of_each_mounting
    sheet = sheet_of(of_each_mounting)
    units = stands.assessment.known.units.set_index("unit_id")
    for job, unit_id in enumerate(work.jobs["unit_id"]):
        steps = steps_of_a_job(work.actions_at(job), units.loc[unit_id, "mounting"])
        rows = table_with(section_of(sheet, unit_id), "step").rows
        assert [row[1] for row in rows] == [step.words for step in steps]
        assert {row[2:] for row in rows} == {(Blank.BOX, Blank.LINE)}


def test_torque_is_the_one_on_record_or_room_to_write(of_each_mounting):
    without = a_stand(4, torque=False)
    for made, cells in (
        (of_each_mounting, ["22.5 N·m", "45 N·m", "90 N·m", "90 N·m"]),
        ((without, work_at(without)), [Blank.LINE] * 4),
    ):
        sheet = sheet_of(made)
        for unit_id in WILD_IDS[1:]:  # the first has a key and no screws
            rows = table_with(section_of(sheet, unit_id), "torque").rows
            assert [row[2] for row in rows] == cells
        keyed = section_of(sheet, WILD_IDS[0])
        heads = {one.heading for table in tables_of(keyed.blocks) for one in table.columns}
        assert "torque" not in heads
    blank = " ".join(text_of(as_pdf(sheet_of((without, work_at(without))))))
    assert not re.search(r"\d\s*N·m", blank)


def test_what_is_cured_and_what_hangs_anew_is_looked_at(of_each_mounting):
    sheet = sheet_of(of_each_mounting)
    rows = table_with(section_of(sheet, WILD_IDS[0]), "what to look at").rows
    why = {row[0].partition("\n")[0]: row[2] for row in rows}
    label = {name: check.label for name, check in CHECK_BY_NAME.items()}
    assert why[label["key_condition"]] == "cured"
    assert why[label["oil_level"]] == "cured"
    assert why[label["seated"]] == "hung anew"
    assert why[label["isolators_free"]] == "hung anew"
    assert label["shaft_runout_mm"] not in why  # neither cured nor made anew
    in_place = table_with(section_of(sheet, WILD_IDS[1]), "what to look at").rows
    assert {row[2] for row in in_place} == {"cured"}


def test_a_finding_that_the_job_leaves_is_said_to_be_left(of_each_mounting):
    sheet = sheet_of(of_each_mounting)
    rows = table_with(section_of(sheet, WILD_IDS[2]), "cured by this job").rows
    cured = {row[1]: row[3] for row in rows}
    assert {said for words, said in cured.items() if "pass" in words} == {"yes"}
    assert {said for words, said in cured.items() if "runs out" in words} == {"no"}


def test_a_plan_of_sixty_jobs_prints_whole(of_sixty):
    _, work = of_sixty
    sheet = sheet_of(of_sixty)
    pdf = as_pdf(sheet)
    ids = set(work.jobs["unit_id"])
    codes = Counter(unit_of_code(code) for page in pictures_of(pdf, 200) for code in codes_on(page))
    assert codes == dict.fromkeys(ids, 1)
    planned = defaultdict(set)
    for section in sheet.sections[:2]:
        for row in table_with(section, "hours of the day").rows:
            planned[row[3].partition("\n")[0]].add(section.below)
    assert planned == {
        row.unit_id: {row.window} for row in work.jobs.itertuples()
    }  # each in its own shutdown
    assert smallest_letter_pt(pdf) >= 7.98
    assert not beyond_the_edge(pdf)


def test_the_same_plan_gives_the_same_bytes(of_each_mounting):
    stands, _ = of_each_mounting
    again = stands, work_at(stands, starts_on="2026-07-20")
    assert as_pdf(sheet_of(of_each_mounting)) == as_pdf(sheet_of(again))


def test_names_print_as_text(of_each_mounting):
    pages = plain("".join(text_of(as_pdf(sheet_of(of_each_mounting)))))
    for name in (*WILD_IDS, HOSTILE):
        assert plain(name) in pages
    page = as_html(sheet_of(of_each_mounting))
    assert "<script>alert" not in page
    assert "&lt;script&gt;alert(1)" in page


def test_holds_that_stay_are_told(of_each_mounting):
    stands, work = of_each_mounting
    ranking = stands.assessment.ranking
    held = ranking.loc[ranking["verdict"] == "hold", "unit_id"].tolist()
    assert held
    jobs = work.jobs[~work.jobs["unit_id"].isin(held)]
    rest = work_of_kept_jobs(jobs, stands.assessment, stands.efforts)
    sheet = work_order(rest, stands.assessor.fleet)
    (section,) = (one for one in sheet.sections if one.title == "What stays on hold")
    assert [row[0] for row in table_with(section, "why it stays").rows] == held
    assert not set(held) & {one.title for one in sheet.sections}


def test_all_that_may_have_to_be_at_hand_is_said_in_german():
    efforts = [action.effort for action in ACTIONS]
    words = {one for e in efforts for one in (*e.tools, *e.parts, e.who, e.caution) if one}
    words.remove("mechanic")  # the usual one is not named
    with reading_as(GERMAN):
        assert {one for one in words if tell.told(one) == one} == set()


def test_no_english_is_left_in_german(of_each_mounting, monkeypatch):
    left = set()
    beside_numbers = tell._Speaker._beside_numbers  # noqa: SLF001 - where a piece is given up

    def noted(speaker, text):
        said = beside_numbers(speaker, text)
        if said == text and re.search("[a-z]{3}", text):
            left.add(text.strip())
        return said

    monkeypatch.setattr(tell._Speaker, "_beside_numbers", noted)  # noqa: SLF001
    tell._told.cache_clear()  # noqa: SLF001 - what was told before is not noted again
    with reading_as(GERMAN):
        as_html(sheet_of(of_each_mounting))
    tell._told.cache_clear()  # noqa: SLF001
    assert {words for words in left if not any(words in name for name in WILD_IDS)} == set()
