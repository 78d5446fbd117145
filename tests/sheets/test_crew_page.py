"""A crew's page: what it names, what it never names, and how it prints."""

from dataclasses import replace

import pandas as pd
import pytest
from kept_plants import SMALL_QUARRY
from printed_pages import (
    beyond_the_edge,
    is_in_order,
    overlapping_letters,
    smallest_letter_pt,
    text_of,
)
from reading_german import english_left

from demo_data.plants import FOLDER
from scoring.assessment import FleetAssessor
from scoring.contract import CHECK_BY_NAME
from scoring.contract.cautions import CAUTIONS
from scoring.contract.events import MODES
from scoring.errors import FixableError
from scoring.explanation.what_a_fault_does import what_a_fault_does
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.language.reading import reading_as, reading_from
from scoring.printing.as_html import as_html
from scoring.printing.as_pdf import as_pdf
from scoring.printing.paper import Paper
from scoring.sheets.crew_page import crew_page, crew_results
from scoring.trends.steps_of_a_crew import MORE

AS_OF = pd.Timestamp("2026-06-30")
BUSY = "shutdown crew"
HOSTILE = "#let x = 1; <b>*crew*</b> $a$ " + "very long name " * 12


def judged(fleet):
    assessor = FleetAssessor(fleet)
    return assessor, assessor.assess(AS_OF, 365, assessor.learn(AS_OF))


@pytest.fixture(scope="module")
def large():
    return judged(check_fleet(read_fleet(str(FOLDER / "ore_works")).tables, AS_OF).fleet)


@pytest.fixture(scope="module")
def small():
    return judged(check_fleet(read_fleet(SMALL_QUARRY).tables, AS_OF).fleet)


def crews_of(fleet_and_assessment):
    return sorted(fleet_and_assessment[0].fleet.units["installer"].dropna().unique())


@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize("paper", Paper)
def test_it_can_be_read_on_two_pages(large, paper, language):
    for crew in (BUSY, "crew J", "crew H"):
        with reading_as(reading_from({"language": language, "measures": "metric"})):
            pdf = as_pdf(crew_page(*large, crew), paper)
        assert len(text_of(pdf)) <= 2
        assert smallest_letter_pt(pdf) >= 7.99
        assert not overlapping_letters(pdf)
        assert not beyond_the_edge(pdf)


def test_it_names_this_crew_and_no_other(large, small):
    for plant in (large, small):
        crews = crews_of(plant)
        for crew in crews[:4]:
            pages = " ".join(text_of(as_pdf(crew_page(*plant, crew))))
            assert crew in pages
            assert [one for one in crews if one != crew and one in pages] == []


def test_each_named_step_is_counted_told_and_drawn(large):
    results = crew_results(*large, BUSY)
    named = results.steps.standing(MORE)
    assert len(named) >= 2
    pdf = as_pdf(crew_page(*large, BUSY))
    first, second = text_of(pdf)
    for row in named.to_dict("records"):
        check = CHECK_BY_NAME[row["check"]]
        assert f"{row['wrong']} of {row['looks']}" in first
        assert f": {check.good}" in " ".join(second.split())
        assert check.label in first
    assert is_in_order(pdf, "Found wrong more often", "What it does", "What has improved", "good:")
    assert CAUTIONS[:60] in first


def test_what_a_fault_does_is_what_the_chain_says_of_such_units(large):
    assessor, assessment = large
    does = what_a_fault_does(assessment, "breather", ("keyed_bore", "shrink_disc"), BUSY)
    for good, wrong in does.chances.values():
        assert 0 <= good <= wrong <= 1
    assert does.chances["seal_leak"][1] > 1.3 * does.chances["seal_leak"][0]
    assert does.loss > 0
    assert set(does.chances) == set(MODES)
    # which does nothing to bearing or seal
    assert what_a_fault_does(assessment, "guard", ("keyed_bore",), BUSY) is None
    del assessor


def test_a_crew_that_nobody_knows_is_refused_and_those_there_are_named(small):
    for unknown in ("", "crew a", "nobody"):
        with pytest.raises(FixableError, match=r"no crew .* --crew") as refused:
            crew_page(*small, unknown)
        assert crews_of(small)[0] in str(refused.value)


def with_crews(fleet, names):
    return replace(fleet, units=fleet.units.assign(installer=pd.array(names, dtype="str")))


def test_a_plant_that_writes_down_no_crew_says_so(small):
    fleet = with_crews(small[0].fleet, [None] * len(small[0].fleet.units))
    nobody = fleet.rework.assign(crew=pd.array([None] * len(fleet.rework), dtype="str"))
    none = fleet.events.assign(crew=pd.array([None] * len(fleet.events), dtype="str"))
    plant = judged(replace(fleet, rework=nobody, events=none))
    with pytest.raises(FixableError, match="column installer"):
        crew_page(*plant, "crew A")


def test_hostile_and_long_names_print_as_words(small):
    units = small[0].fleet.units
    plant = judged(with_crews(small[0].fleet, [HOSTILE] * len(units)))
    sheet = crew_page(*plant, HOSTILE)
    pdf = as_pdf(sheet)
    whole = "".join(text_of(pdf)).replace(" ", "")
    assert HOSTILE.replace(" ", "") in whole
    assert not beyond_the_edge(pdf)
    assert not overlapping_letters(pdf)
    assert "<b>" not in as_html(sheet)


def test_a_crew_whose_work_nobody_saw_is_told_nothing(small):
    fleet = small[0].fleet
    unseen = fleet.walkdowns.iloc[:0]
    plant = judged(replace(fleet, walkdowns=unseen))
    (page,) = text_of(as_pdf(crew_page(*plant, crews_of(plant)[0])))
    assert "Nobody looked at this crew's hangings in time" in page


def test_few_looks_accuse_nobody(small):
    """The quarry has but a few hangings a crew."""
    for crew in crews_of(small):
        pages = text_of(as_pdf(crew_page(*small, crew)))
        assert "cannot be told" in " ".join(pages)


def test_it_has_no_english_left_in_german(large, small, monkeypatch):
    for plant, crews in ((large, (BUSY, "crew J")), (small, crews_of(small))):
        for crew in crews:
            assert english_left(crew_page(*plant, crew), monkeypatch) == []
