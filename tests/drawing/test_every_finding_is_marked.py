"""Every finding of a unit is marked where it belongs, with the number of the list beside it."""

from functools import cache

import pandas as pd
import pytest
from geometry import marked, must_be_safe_svg, must_be_well_laid_out
from looked_at_units import Unit, assess_units
from units_to_draw import all_bad, all_good, every_unit, nothing_known

from scoring.assessment import FleetAssessor
from scoring.contract import CHECK_BY_NAME
from scoring.contract.mountings import CLAMPED, EVERY_MOUNTING
from scoring.drawing.joint_section import CHECKS_OF_THE_JOINT
from scoring.drawing.numbered_findings import numbered_findings
from scoring.drawing.pictures_of_unit import PICTURE_WORDS, pictures_of_unit
from scoring.drawing.torque_arm_picture import CHECKS_OF_THE_ARM
from scoring.explanation import explain
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.rules.slip import SLIP_RULE

PLANTS = ("small_quarry", "grain_port", "ore_works")
JOINT, ARM = set(CHECKS_OF_THE_JOINT), set(CHECKS_OF_THE_ARM)
AS_OF = pd.Timestamp("2026-06-30")


@cache
def drawn_units():
    units = every_unit()
    return assess_units(units), [f"U{n:04d}" for n in range(len(units))]


@cache
def worst_of(plant):
    checked = check_fleet(read_fleet(f"demo:{plant}").tables, AS_OF)
    assessment = FleetAssessor(checked.fleet).assess(AS_OF)
    return assessment, assessment.ranking["unit_id"].head(30).tolist()


@cache
def pictures_of(units, *arguments):
    assessment, unit_ids = units(*arguments)
    return {unit_id: pictures_of_unit(assessment, unit_id) for unit_id in unit_ids}


def must_mark_every_finding(found, pictures):
    expected = {finding.check: [(finding.number, finding.severe)] for finding in found}
    for names in (["joint", "arm"], ["walk"]):
        marks = marked([pictures[name] for name in names])
        assert {
            check: [(mark.number, mark.severe) for mark in some] for check, some in marks.items()
        } == expected
    assert set(marked([pictures["joint"]])) <= JOINT
    assert set(marked([pictures["arm"]])) <= ARM
    for picture in pictures.values():
        for check, marks in marked([picture]).items():
            assert [(mark.number, mark.severe) for mark in marks] == expected[check]


def test_joint_and_arm_share_out_all_checks_that_can_be_found():
    assert JOINT.isdisjoint(ARM)
    assert {*CHECK_BY_NAME, SLIP_RULE.check} == JOINT | ARM


def test_every_finding_is_marked_whatever_is_found():
    assessment, _ = drawn_units()
    for unit_id, pictures in pictures_of(drawn_units).items():
        must_mark_every_finding(numbered_findings(assessment, unit_id), pictures)


def test_the_drawn_units_show_every_finding_there_can_be():
    assessment, _ = drawn_units()
    assert set(assessment.findings.table["check"]) == {*CHECK_BY_NAME, SLIP_RULE.check}


@pytest.mark.parametrize("plant", PLANTS)
def test_every_finding_is_marked_in_the_demo_plants(plant):
    assessment, _ = worst_of(plant)
    for unit_id, pictures in pictures_of(worst_of, plant).items():
        must_mark_every_finding(numbered_findings(assessment, unit_id), pictures)


@pytest.mark.parametrize("plant", PLANTS)
def test_findings_are_numbered_as_they_are_listed(plant):
    assessment, unit_ids = worst_of(plant)
    for unit_id in unit_ids:
        listed = explain(assessment, unit_id).findings
        found = numbered_findings(assessment, unit_id)
        assert [finding.number for finding in found] == list(range(1, len(listed) + 1))
        assert [finding.check for finding in found] == listed["check"].tolist()
        assert [finding.words for finding in found] == listed["reason"].tolist()
        severe = [finding.severe for finding in found]
        assert severe == sorted(severe, reverse=True)


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_a_unit_has_its_pictures_in_the_order_in_which_they_are_shown(mounting):
    pictures = pictures_of_unit(assess_units([nothing_known(mounting)]), "U0000")
    wanted = [word for word in PICTURE_WORDS if word != "screws" or mounting in CLAMPED]
    assert list(pictures) == wanted
    assert len({picture.title for picture in pictures.values()}) == len(pictures)


def test_words_and_marks_have_room_whatever_is_found():
    for pictures in pictures_of(drawn_units).values():
        for picture in pictures.values():
            must_be_well_laid_out(picture)


@pytest.mark.parametrize("plant", PLANTS)
def test_words_and_marks_have_room_in_the_demo_plants(plant):
    for pictures in pictures_of(worst_of, plant).values():
        for picture in pictures.values():
            must_be_well_laid_out(picture)


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_every_picture_is_safe_svg(mounting):
    units = [all_good(mounting), all_bad(mounting), nothing_known(mounting)]
    assessment = assess_units(units)
    for n in range(len(units)):
        for picture in pictures_of_unit(assessment, f"U{n:04d}").values():
            must_be_safe_svg(picture)


@pytest.mark.parametrize("unit_id", ["W" * 64, "<script>&\"x'</desc>", "]]>"])
def test_every_picture_has_room_for_any_name(unit_id):
    units = [Unit({"unit_id": unit_id, "mounting": "shrink_disc"}, {"unit_id": unit_id})]
    for picture in pictures_of_unit(assess_units(units), unit_id).values():
        must_be_well_laid_out(picture)
        must_be_safe_svg(picture)
