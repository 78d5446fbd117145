"""The manager's month: always one page, and what it says."""

from dataclasses import replace
from itertools import cycle, islice

import numpy as np
import pandas as pd
import pytest
from kept_plants import ORE_WORKS, SMALL_QUARRY
from printed_pages import (
    beyond_the_edge,
    is_in_order,
    overlapping_letters,
    pictures_of,
    smallest_letter_pt,
    text_of,
)
from reading_german import english_left

from scoring.assessment import FleetAssessor
from scoring.contract.amounts_in_words import NARROW_SPACE, rounded
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.language.reading import reading_as, reading_from
from scoring.printing.as_html import as_html
from scoring.printing.as_pdf import as_pdf
from scoring.printing.paper import Paper
from scoring.sheets.month_page import MONTHS, month_page
from scoring.sheets.month_results import month_results
from scoring.trends import month_ends, state_at
from scoring.trends.better_sentences import money_sentence
from scoring.trends.month_ends import StateAtMonthEnd

AS_OF = pd.Timestamp("2026-06-30")
LONG = "the very long name of a site that somebody typed in full, "


def results_of(fleet, months=MONTHS, as_of=AS_OF):
    assessor = FleetAssessor(fleet)
    assessment = assessor.assess(as_of, 365, assessor.learn(as_of))
    days = month_ends(as_of, months)
    states = [state_at(assessor, day, assessment.learning) for day in reversed(days)]
    return month_results(assessor, assessment, states)


def fleet_at(where):
    return check_fleet(read_fleet(where).tables, AS_OF).fleet


def at_many_sites(fleet, count=40, name=LONG):
    sites = list(islice(cycle(f"{name}{n}" for n in range(count)), len(fleet.units)))
    return replace(fleet, units=fleet.units.assign(site=pd.array(sites, dtype="str")))


@pytest.fixture(scope="module")
def quarry():
    return results_of(fleet_at(SMALL_QUARRY))


@pytest.fixture(scope="module")
def many_sites():
    return results_of(at_many_sites(fleet_at(SMALL_QUARRY)), months=3)


@pytest.fixture(scope="module")
def tiny():
    fleet = fleet_at(SMALL_QUARRY)
    some = fleet.units.iloc[:2]
    kept = {
        name: table[table["unit_id"].isin(some["unit_id"])].reset_index(drop=True)
        for name, table in vars(fleet).items()
        if name != "units"
    }
    return results_of(replace(fleet, units=some, **kept), months=3)


@pytest.fixture(scope="module")
def ore_works():
    return results_of(fleet_at(ORE_WORKS), months=2)


def read_as(sheet, language, paper):
    with reading_as(reading_from({"language": language, "measures": "metric"})):
        return as_pdf(sheet, paper)


@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("which", ["quarry", "many_sites", "tiny", "ore_works"])
def test_it_is_one_page_that_can_be_read(request, which, paper, language):
    sheet = month_page(request.getfixturevalue(which), "x" * 300)
    pdf = read_as(sheet, language, paper)
    assert len(text_of(pdf)) == 1
    assert smallest_letter_pt(pdf) >= 7.99
    assert not overlapping_letters(pdf)
    assert not beyond_the_edge(pdf)


def test_it_says_the_sentences_of_the_page(quarry):
    pdf = as_pdf(month_page(quarry, "demo:small_quarry"))
    (page,) = text_of(pdf)
    money = money_sentence(quarry.units, quarry.currency)
    for said in (money.verdict, money.rest):
        assert " ".join(said.replace(NARROW_SPACE, " ").split()) in page.replace(NARROW_SPACE, " ")
    assert is_in_order(
        pdf, "money at risk", "must not run", "Re-work", "Not looked at", "not known"
    )
    assert "as of 2026-06-30" in page
    assert "basis: handbook" in page
    assert quarry.currency in page


def test_the_money_is_that_of_the_ranking(quarry):
    loss = quarry.states[0].loss
    assert loss.mean == pytest.approx(quarry.assessment.risk.expected_loss.sum())
    assert loss.low < loss.mean < loss.high
    (page,) = text_of(as_pdf(month_page(quarry, "a")))
    assert rounded(loss.high).replace(NARROW_SPACE, "") in page.replace(NARROW_SPACE, "").replace(
        " ", ""
    )


def test_many_sites_are_the_worst_and_the_best_and_how_many_more(many_sites):
    (page,) = text_of(as_pdf(month_page(many_sites, "a")))
    here = many_sites.units.dropna(subset="loss_now").groupby("site")["loss_now"].mean()
    assert f"and {len(here) - 6} more" in page
    assert rounded(here.max()).replace(NARROW_SPACE, " ") in page.replace(NARROW_SPACE, " ")


def test_no_crew_is_named(quarry, ore_works):
    for results in (quarry, ore_works):
        (page,) = text_of(as_pdf(month_page(results, "a")))
        named = results.installations["installer"].dropna().unique()
        assert len(named) > 1
        assert not [name for name in named if name in page]


def test_it_is_right_in_black_and_white(quarry):
    """The bars of three ages differ by white, hatching and black, which all are there."""
    (page,) = pictures_of(as_pdf(month_page(quarry, "a")), 150)
    shades = np.asarray(page)
    assert (shades < 40).mean() > 0.01
    assert (shades > 215).mean() > 0.8


def test_a_month_without_holds_and_without_judged_installations(quarry):
    nothing = quarry.states[0]
    empty = StateAtMonthEnd(nothing.by_site, nothing.held.iloc[:0], nothing.day, nothing.loss)
    changed = replace(
        quarry,
        states=(empty,),
        installations=quarry.installations.assign(judged=False, right=False),
        units=quarry.units.assign(held_now=0.0),
        costs=quarry.costs.iloc[:0],
        overdue=0,
    )
    (page,) = text_of(as_pdf(month_page(changed, "a")))
    assert "No unit is on hold" in page
    assert "No installation could be judged" in page
    assert "No re-work before a failure is on record" in page


def test_it_has_no_english_left_in_german(quarry, many_sites, monkeypatch):
    for results in (quarry, many_sites):
        assert english_left(month_page(results, "a"), monkeypatch) == []


def test_the_html_says_the_same_and_loads_nothing(quarry):
    page = as_html(month_page(quarry, "<script>alert(1)</script>"))
    assert "<script>alert" not in page
    assert "Money at risk" in page
    assert page.count("http") == 1  # the header that refuses what comes from outside
