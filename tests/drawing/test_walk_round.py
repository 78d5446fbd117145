"""The walk round: every check has its place, and what is not known is never drawn as good."""

from collections import Counter
from xml.etree import ElementTree as ET

import pytest
from geometry import SVG, must_be_safe_svg, must_be_well_laid_out
from looked_at_units import Unit, assess_units
from parts_of_pictures import of_part
from units_to_draw import all_bad, all_good, checks_of, every_unit, nothing_known

from scoring.contract import CHECK_BY_NAME, CHECKS
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.drawing.numbered_findings import numbered_findings
from scoring.drawing.shapes import Label, Line, Mark, Picture, Role
from scoring.drawing.svg import to_svg
from scoring.drawing.walk_round import draw_walk_round
from scoring.drawing.walk_stations import STATIONS, WORKED_OUT
from scoring.errors import FixableError
from scoring.rules.slip import SLIP_RULE


def walk(unit, unit_id="U0000"):
    return draw_walk_round(assess_units([unit]), unit_id)


def words_beside(picture, check):
    """Return the role and the words in which a check is told."""
    labels = [shape for shape in of_part(picture, check) if isinstance(shape, Label)]
    return {label.role for label in labels}, [line for label in labels for line in label.lines]


def test_every_check_has_its_one_station_where_it_can_be_seen():
    placed = Counter(check for station in STATIONS for check in station.checks)
    assert placed == Counter(check.name for check in CHECKS)
    for station in STATIONS:
        assert {CHECK_BY_NAME[check].seen for check in station.checks} == {station.state}
    assert set(WORKED_OUT) == {SLIP_RULE.check}


def test_within_a_station_checks_stand_in_the_order_of_the_walkdowns():
    order = list(CHECK_BY_NAME)
    for station in STATIONS:
        assert sorted(station.checks, key=order.index) == list(station.checks)


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_it_lists_the_checks_of_the_mounting_and_no_other(mounting):
    picture = walk(nothing_known(mounting))
    reported = {shape.part for shape in picture.shapes if isinstance(shape, Label)} & set(
        CHECK_BY_NAME
    )
    looked_for = [check for check in checks_of(mounting) if not check.only_where]
    assert reported == {check.name for check in looked_for}
    for check in looked_for:
        assert words_beside(picture, check.name) == ({Role.TEXT}, [check.label, "not seen"])
        assert check.label in picture.description
    assert "good" not in picture.description


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_what_was_seen_and_good_is_quiet(mounting):
    picture = walk(all_good(mounting))
    assert not [shape for shape in picture.shapes if isinstance(shape, Mark)]
    for check in checks_of(mounting):
        assert words_beside(picture, check.name) == ({Role.QUIET}, [check.label, "good"])
    assert "not seen" not in picture.description


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_every_finding_has_its_mark_beside_its_check(mounting):
    assessment = assess_units([all_bad(mounting)])
    found = numbered_findings(assessment, "U0000")
    assert len(found) >= len(checks_of(mounting)) - 3
    picture = draw_walk_round(assessment, "U0000")
    marks = {shape.check: shape for shape in picture.shapes if isinstance(shape, Mark)}
    assert {f.check: (f.number, f.severe) for f in found} == {
        check: (mark.number, mark.severe) for check, mark in marks.items()
    }
    for check, mark in marks.items():
        labels = [shape for shape in of_part(picture, check) if isinstance(shape, Label)]
        assert all(label.role is Role.FINDING for label in labels)
        assert all(mark.box.top < label.at[1] < mark.box.bottom for label in labels)
        assert f"finding {mark.number}, {labels[0].lines[0]}" in picture.description


def test_a_reported_cure_is_not_told_as_seen():
    unit = Unit({"mounting": "shrink_disc"}, {"screws_low": 2}, "retorque_in_passes")
    assert words_beside(walk(unit), "screws_low")[1][1] == "reported cured, not seen"


def test_the_path_leads_from_each_station_to_the_next():
    picture = walk(nothing_known("shrink_disc"))
    path = [shape for shape in of_part(picture, "path") if isinstance(shape, Line)]
    assert len(path) == len(STATIONS) - 1
    for way, here, there in zip(path, STATIONS, STATIONS[1:], strict=False):
        assert way.head
        assert not way.tail
        for end, station in ((way.points[0], here), (way.points[-1], there)):
            assert max(abs(end[0] - station.at[0]), abs(end[1] - station.at[1])) <= 4


def test_a_station_stands_in_a_bold_ring_where_something_was_found():
    picture = walk(Unit({"mounting": "keyed_bore"}, {"breather": "plugged"}))
    ringed = {letter for letter in "ABCDEFG" if is_ringed(picture, letter)}
    assert ringed == {"F"}


def is_ringed(picture, letter):
    roles = {shape.role for shape in of_part(picture, f"station {letter}")}
    assert len(roles) == 1
    return roles == {Role.FINDING}


def test_words_and_marks_have_room_whatever_is_known():
    units = every_unit()
    assessment = assess_units(units)
    for n in range(len(units)):
        must_be_well_laid_out(draw_walk_round(assessment, f"U{n:04d}"))


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_its_svg_is_safe(mounting):
    for unit in (all_good(mounting), all_bad(mounting), nothing_known(mounting)):
        must_be_safe_svg(walk(unit))


def test_a_unit_whose_id_is_markup_is_drawn_as_text():
    unit_id = "<script>&\"x'</desc>"
    unit = Unit({"unit_id": unit_id, "mounting": "keyed_bore"}, {"unit_id": unit_id})
    picture = walk(unit, unit_id)
    must_be_safe_svg(picture)
    root = ET.fromstring(to_svg(picture))  # noqa: S314 - our own text is what is tested
    assert unit_id in root.findtext(f"{SVG}title", "")
    assert unit_id in root.findtext(f"{SVG}desc", "")


@pytest.mark.parametrize("letter", ["\x07", "\x1b", "\ufffe"])
def test_what_xml_cannot_hold_is_replaced(letter):
    drawn = to_svg(Picture(f"U{letter}1", "One unit.", 10, 10, ()))
    root = ET.fromstring(drawn)  # noqa: S314 - our own text
    assert "U\N{REPLACEMENT CHARACTER}1" in root.findtext(f"{SVG}title", "")


def test_a_unit_that_is_not_in_service_is_told():
    with pytest.raises(FixableError, match="no unit 'nobody' was in service"):
        walk(nothing_known("keyed_bore"), "nobody")
