"""The picture of the torque arm shows what was recorded, to the scales that it tells."""

import re
from math import dist, isclose

import pytest
from drawn_units import between, looks, nameplates, possible
from geometry import must_be_safe_svg, must_be_well_laid_out
from hypothesis import given, settings
from hypothesis import strategies as st
from looked_at_units import Unit, assess_units
from parts_of_pictures import of_part

from scoring.contract import CHECK_BY_NAME, Kind
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.drawing.numbered_findings import numbered_findings
from scoring.drawing.shapes import Label, Line, Mark, Picture, Role
from scoring.drawing.torque_arm_picture import CHECKS_OF_THE_ARM, draw_torque_arm
from scoring.errors import FixableError
from scoring.explanation import explain

LISTED = [check for name in CHECKS_OF_THE_ARM if (check := CHECK_BY_NAME[name]).kind is Kind.CHOICE]
GOOD = {check.name: check.allowed[0] for check in LISTED} | {
    "isolators_free": 1,
    "isolator_squeeze_mm": 1.5,
    "smallest_clearance_mm": 8,
    "arm_misset_mm": 0.5,
    "arm_angle_deg": 88,
}
BAD = {check.name: check.allowed[-1] for check in LISTED} | {
    "arm_bolts": "loose",
    "isolator_stack": "washer_missing",
    "isolators_free": 0,
    "isolator_squeeze_mm": 6,
    "smallest_clearance_mm": 1.5,
    "arm_misset_mm": 4,
    "arm_angle_deg": 62,
}
PLATE = {
    "arm_length_mm": 620,
    "output_torque_nm": 1800,
    "isolator_outer_mm": 75,
    "isolator_inner_mm": 26,
    "isolator_thickness_mm": 30,
}


def picture_of(plate, checks):
    return draw_torque_arm(assess_units([Unit(plate, checks)]), "U0000")


def words_of(picture: Picture) -> str:
    labels = [shape for shape in picture.shapes if isinstance(shape, Label)]
    return "\n".join(" ".join(label.lines) for label in labels)


def scales_of(picture: Picture) -> list[float]:
    """Return the scales written: elevation, detail, clearance."""
    found = {}
    for shape in picture.shapes:
        if isinstance(shape, Label) and (ratio := re.search(r"([\d.]+):([\d.]+)", shape.lines[0])):
            found[shape.lines[0].split(",")[0]] = float(ratio[1]) / float(ratio[2])
    return list(found.values())


def length_of(picture: Picture, part: str) -> float:
    lines = [shape for shape in of_part(picture, part) if isinstance(shape, Line)]
    return sum(dist(line.points[0], line.points[-1]) for line in lines)


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
@pytest.mark.parametrize("checks", [GOOD, BAD, {}], ids=["good", "bad", "unknown"])
def test_is_well_laid_out_and_marks_every_finding_once(mounting, checks):
    assessment = assess_units([Unit({**PLATE, "mounting": mounting}, checks)])
    picture = draw_torque_arm(assessment, "U0000")
    must_be_well_laid_out(picture)
    must_be_safe_svg(picture)
    marks = [shape for shape in picture.shapes if isinstance(shape, Mark)]
    expected = [
        (finding.number, finding.check, finding.severe)
        for finding in numbered_findings(assessment, "U0000")
        if finding.check in CHECKS_OF_THE_ARM
    ]
    assert sorted((mark.number, mark.check, mark.severe) for mark in marks) == expected
    assert {mark.check for mark in marks} == (set(CHECKS_OF_THE_ARM) if checks is BAD else set())


MEASURED = st.fixed_dictionaries(
    {
        "arm_length_mm": between(120, 2500),
        "arm_angle_deg": between(0, 90),
        "arm_misset_mm": between(0.01, 25),
        "isolator_squeeze_mm": between(0.01, 20),
        "smallest_clearance_mm": between(0.01, 40),
    }
)


@given(drawn=st.lists(MEASURED, min_size=6, max_size=6))
@settings(max_examples=5, deadline=None)
def test_drawn_is_recorded_times_scale(drawn):
    units = [
        Unit({**PLATE, "arm_length_mm": seen["arm_length_mm"]}, without_arm_length(seen))
        for seen in drawn
    ]
    assessment = assess_units(units)
    for n, seen in enumerate(drawn):
        picture = draw_torque_arm(assessment, f"U{n:04d}")
        arm_scale, detail_scale, clearance_scale = scales_of(picture)
        for part, check, scale in (
            ("arm length", "arm_length_mm", arm_scale),
            ("mis-set", "arm_misset_mm", detail_scale),
            ("squeeze", "isolator_squeeze_mm", detail_scale),
            ("clearance", "smallest_clearance_mm", clearance_scale),
        ):
            assert isclose(length_of(picture, part), seen[check] * scale, rel_tol=2e-3), part
        must_be_well_laid_out(picture)


def without_arm_length(seen):
    return {check: value for check, value in seen.items() if check != "arm_length_mm"}


def test_rubber_stands_as_thick_as_it_was_squeezed():
    picture = picture_of(PLATE, BAD)
    _, scale, _ = scales_of(picture)
    for ring in of_part(picture, "isolator in detail"):
        assert isclose(ring.box.height, (30 - 6) * scale, rel_tol=1e-3)


def test_more_squeeze_than_thickness_is_drawn_less_and_said():
    picture = picture_of(PLATE, {"isolator_squeeze_mm": 40})
    assert any("drawn at 80%" in note for note in picture.notes)
    assert "40 mm" in words_of(picture)
    must_be_well_laid_out(picture)


def test_arrows_are_in_proportion_and_have_the_explained_numbers():
    assessment = assess_units([Unit(PLATE, BAD)])
    picture = draw_torque_arm(assessment, "U0000")
    by_name = {number.name: number.value for number in explain(assessment, "U0000").numbers}
    reaction, added = (
        by_name["force in the link"],
        by_name["load that the arm adds to one bearing"],
    )
    drawn = length_of(picture, "reaction"), length_of(picture, "added load")
    assert isclose(drawn[0] / drawn[1], reaction / added, rel_tol=1e-6)
    reported = re.search(r"10 mm is ([\d.]+) (k?)N", words_of(picture))
    ten = float(reported[1]) * (1000 if reported[2] else 1)
    assert isclose(drawn[0], 10 * reaction / ten, rel_tol=1e-3)
    assert f"reaction {reaction / 1000:.3g} kN" in words_of(picture)
    assert f"added load {added / 1000:.3g} kN" in words_of(picture)


def test_an_arm_that_floats_adds_no_load():
    picture = picture_of(PLATE, GOOD)
    assert of_part(picture, "added load") == []
    assert "added load 0 N" in words_of(picture)


@pytest.mark.parametrize(
    ("free", "said"),
    [(0, ["clamped", "clamped"]), (1, ["1 turns", "1 clamped"]), (2, ["turns", "turns"])],
)
def test_says_which_isolators_turn(free, said):
    labels = of_part(picture_of(PLATE, {"isolators_free": free}), "state of an isolator")
    assert [label.lines[0] for label in labels] == said


def test_what_nobody_has_seen_is_dashed_and_said():
    picture = picture_of({}, {})
    parts = ("isolator", "isolator in detail", "guard", "arm bolt", "angle", "washer")
    unseen = [*parts, "nearest thing"]
    roles = {shape.role for part in unseen for shape in of_part(picture, part)}
    assert roles == {Role.UNSEEN}
    assert words_of(picture).count("not seen") >= len(CHECKS_OF_THE_ARM)
    assert any(note.startswith("Sizes assumed: ") for note in picture.notes)
    assert "arm 480 mm, assumed" in words_of(picture)
    assert not any(shape.role is Role.FINDING for shape in picture.shapes)


def test_a_reported_cure_is_not_called_good():
    unit = Unit(PLATE, BAD, "realign_arm")
    picture = draw_torque_arm(assess_units([unit]), "U0000")
    assert "mis-set: reported cured, not seen" in words_of(picture)
    assert of_part(picture, "mis-set") == []
    must_be_well_laid_out(picture)


def test_given_sizes_are_not_called_assumed():
    plate = {
        **PLATE,
        "unit_mass_kg": 150,
        "bearing_span_mm": 150,
        "arm_offset_mm": 30,
        "shaft_support_distance_mm": 200,
        "isolator_hardness_shore_a": 60,
    }
    picture = picture_of(plate, GOOD)
    assert not any("assumed" in note for note in picture.notes)
    assert "assumed" not in words_of(picture)


@given(data=st.data())
@settings(max_examples=8, deadline=None)
def test_any_records_stay_inside_the_paper(data):
    plates = [data.draw(nameplates(mounting)) for mounting in EVERY_MOUNTING]
    units = [
        Unit(
            plate, possible(plate, data.draw(looks(plate["mounting"], plate["shaft_diameter_mm"])))
        )
        for plate in plates
    ]
    assessment = assess_units(units)
    for n in range(len(units)):
        picture = draw_torque_arm(assessment, f"U{n:04d}")
        must_be_well_laid_out(picture)
        marks = [shape.check for shape in picture.shapes if isinstance(shape, Mark)]
        found = {finding.check for finding in numbered_findings(assessment, f"U{n:04d}")}
        assert sorted(marks) == sorted(found & set(CHECKS_OF_THE_ARM))


@pytest.mark.parametrize(
    "plate",
    [
        {"shaft_diameter_mm": 20, "arm_length_mm": 9000},
        {"shaft_diameter_mm": 400, "arm_length_mm": 30},
        {"isolator_thickness_mm": 400, "isolator_outer_mm": 20, "isolator_inner_mm": 4},
        {"isolator_thickness_mm": 0.5, "isolator_outer_mm": 2000, "isolator_inner_mm": 1},
    ],
)
@pytest.mark.parametrize("angle", [0, 45, 90])
def test_extremes_stay_inside_the_paper(plate, angle):
    for misset in (0, 900):
        checks = {**BAD, "arm_angle_deg": angle, "arm_misset_mm": misset}
        must_be_well_laid_out(picture_of(plate, checks))


def test_a_unit_that_is_not_in_service_is_told():
    with pytest.raises(FixableError, match="U9"):
        draw_torque_arm(assess_units([Unit({})]), "U9")


def test_a_finding_without_a_place_of_its_own_is_left_to_the_walk_round(monkeypatch):
    listed = (*CHECKS_OF_THE_ARM, "breather")
    monkeypatch.setattr("scoring.drawing.torque_arm_known.CHECKS_OF_THE_ARM", listed)
    picture = picture_of(PLATE, {**BAD, "breather": "plugged"})
    marked = {shape.check for shape in picture.shapes if isinstance(shape, Mark)}
    assert marked == set(BAD)
