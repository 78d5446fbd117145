"""The joint in section: to scale, complete, nothing over anything, whatever was found."""

from itertools import pairwise

import numpy as np
import pytest
from drawn_units import looks, nameplates, possible
from geometry import marked, must_be_safe_svg, must_be_well_laid_out
from hypothesis import given, settings
from hypothesis import strategies as st
from looked_at_joints import BAD, GOOD, STATES, UNKNOWN, unit
from looked_at_units import Unit, assess_units
from parts_of_pictures import of_part

from scoring.contract import CHECKS
from scoring.contract.mountings import (
    EVERY_MOUNTING,
    KEYED_BORE,
    SHRINK_DISC,
    SHRINK_DISC_SUPPORT_BUSHINGS,
    TAPERED_BUSHING,
)
from scoring.drawing.joint_section import CHECKS_OF_THE_JOINT, draw_joint
from scoring.drawing.numbered_findings import numbered_findings
from scoring.drawing.shapes import Label, Line, Mark, Role
from scoring.drawing.svg import to_svg
from scoring.errors import FixableError
from scoring.rules.rulebook import RULEBOOK


@pytest.fixture(scope="module")
def assessment():
    return assess_units([unit(mounting, state) for mounting, state in STATES])


@pytest.fixture(scope="module")
def pictures(assessment):
    return {kind: draw_joint(assessment, f"U{n:04d}") for n, kind in enumerate(STATES)}


def draw(one):
    return draw_joint(assess_units([one]), "U0000")


def line(picture, part):
    (found,) = [shape for shape in of_part(picture, part) if isinstance(shape, Line)]
    return found


def length(picture, part):
    return line(picture, part).box.width


def paper_per_mm(picture):
    """Read the scale as a person would: from its bar."""
    (words,) = of_part(picture, "scale_bar_words")
    return length(picture, "scale_bar") / float(words.lines[0].split()[0])


def text(picture):
    return "\n".join(w for s in picture.shapes if isinstance(s, Label) for w in s.lines)


@pytest.mark.parametrize("kind", STATES, ids="-".join)
def test_well_laid_out(pictures, kind):
    must_be_well_laid_out(pictures[kind])
    must_be_safe_svg(pictures[kind])


@pytest.mark.parametrize(("place", "kind"), list(enumerate(STATES)), ids=str)
def test_every_finding_of_the_joint_is_marked_once(assessment, pictures, place, kind):
    found = {
        finding.check: finding
        for finding in numbered_findings(assessment, f"U{place:04d}")
        if finding.check in CHECKS_OF_THE_JOINT
    }
    marks = marked([pictures[kind]])
    assert marks.keys() == found.keys()
    for check, (mark,) in marks.items():
        assert (mark.number, mark.severe) == (found[check].number, found[check].severe)


def test_what_is_bad_is_found_at_every_check_of_the_joint(pictures):
    """So that the test above looks at them all."""
    seen = {check for mounting in EVERY_MOUNTING for check in marked([pictures[mounting, BAD]])}
    assert seen >= CHECKS_OF_THE_JOINT - {"slip_margin"}


def test_checks_of_the_joint_are_checks():
    assert CHECKS_OF_THE_JOINT - {"slip_margin"} <= {check.name for check in CHECKS}
    assert CHECKS_OF_THE_JOINT - {"slip_margin"} <= {rule.check for rule in RULEBOOK}


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
@pytest.mark.parametrize("state", [GOOD, BAD])
def test_lengths_are_to_scale(pictures, mounting, state):
    picture = pictures[mounting, state]
    scale = paper_per_mm(picture)
    assert length(picture, "engaged") == pytest.approx((180 if state == GOOD else 110) * scale)
    assert length(picture, "required") == pytest.approx(176 * scale)
    assert line(picture, "required").role is Role.REQUIRED


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_the_shaft_ends_where_its_dimension_ends(pictures, mounting):
    for state in (GOOD, BAD, UNKNOWN):
        picture = pictures[mounting, state]
        shaft = [*of_part(picture, "shaft"), *of_part(picture, "shaft_engaged")]
        end = max(shape.box.right for shape in shaft)
        assert end == pytest.approx(line(picture, "engaged").box.right)


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_shaft_is_as_thick_as_its_nameplate_says(mounting):
    picture = draw(unit(mounting, UNKNOWN, shaft_diameter_mm=63))
    (engaged,) = of_part(picture, "shaft_engaged")
    assert engaged.box.height == pytest.approx(63 * paper_per_mm(picture))


@pytest.mark.parametrize("gap", [0, 0.4, 1.5, 4, 30])
def test_collar_gap_is_to_scale_or_says_by_how_much_it_is_not(gap):
    picture = draw(unit(TAPERED_BUSHING, GOOD, {"collar_gap_mm": gap}))
    (times,) = [
        int(note.split("×")[1])
        for note in picture.notes
        if note.startswith("collar gap exaggerated")
    ] or [1]
    first, second = of_part(picture, "collar_gap")
    drawn = second.box.left - first.box.left
    assert drawn == pytest.approx(gap * times * paper_per_mm(picture), abs=1e-9)
    assert (f"exaggerated × {times}" in text(picture).split("\n")) == (times > 1)


@pytest.mark.parametrize("offset", [0, 0.5, 12, 90])
@pytest.mark.parametrize("mounting", [SHRINK_DISC, SHRINK_DISC_SUPPORT_BUSHINGS])
def test_disc_offset_is_to_scale(mounting, offset):
    picture = draw(unit(mounting, GOOD, {"disc_offset_mm": offset}))
    apart = line(picture, "disc_middle").box.left - line(picture, "hub_extension_middle").box.left
    assert apart == pytest.approx(offset * paper_per_mm(picture), abs=1e-9)


@pytest.mark.parametrize("runout", [0.01, 0.3, 2])
def test_run_out_is_exaggerated_by_what_is_said(runout):
    picture = draw(unit(KEYED_BORE, GOOD, {"shaft_runout_mm": runout}))
    (times,) = [int(note.split("×")[1]) for note in picture.notes if "run-out" in note]
    tops = sorted(shape.box.top for shape in of_part(picture, "runout"))
    assert tops[1] - tops[0] == pytest.approx(times * runout * paper_per_mm(picture))
    assert f"exaggerated × {times}" in text(picture)


def test_what_was_not_seen_is_dashed_and_said():
    for mounting, parts in (
        (KEYED_BORE, ("key", "retaining_plate")),
        (TAPERED_BUSHING, ("screw", "collar_gap")),
        (SHRINK_DISC, ("screw", "disc_middle")),
        (SHRINK_DISC_SUPPORT_BUSHINGS, ("support_bushing", "screw", "retaining_bolt")),
    ):
        picture = draw(unit(mounting, UNKNOWN))
        for part in (*parts, "shaft_engaged", "seal", "breather", "oil_level", "engaged"):
            assert {shape.role for shape in of_part(picture, part)} >= {Role.UNSEEN}, part
        assert text(picture).count("not seen") >= 8
        assert not marked([picture]).keys() & CHECKS_OF_THE_JOINT


def test_what_was_seen_is_not_dashed(pictures):
    for mounting in EVERY_MOUNTING:
        picture = pictures[mounting, GOOD]
        dashed = {shape.part for shape in picture.shapes if shape.role is Role.UNSEEN}
        assert dashed == {"not_seen"}
        assert not marked([picture])


def test_what_is_missing_is_an_outline():
    for part, mounting, checks in (
        ("key", KEYED_BORE, {"key_condition": "missing"}),
        ("retaining_plate", KEYED_BORE, {"retention": "missing"}),
        ("support_bushing", SHRINK_DISC_SUPPORT_BUSHINGS, {"support_bushings": "missing"}),
    ):
        shapes = of_part(draw(unit(mounting, GOOD, checks)), part)
        assert {shape.role for shape in shapes} == {Role.FINDING}, part


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
@pytest.mark.parametrize("shaft", [20, 400])
@pytest.mark.parametrize("share", [0, 1, 2])
def test_extreme_sizes_stay_on_the_paper(mounting, shaft, share):
    checks = {
        "engagement_mm": share * 2 * shaft,
        "shaft_diameter_measured_mm": shaft - 0.01,
    }
    plate = {"shaft_diameter_mm": shaft, "required_engagement_mm": 2 * shaft}
    picture = draw(unit(mounting, BAD, checks, **plate))
    must_be_well_laid_out(picture)
    assert length(picture, "engaged") == pytest.approx(share * 2 * shaft * paper_per_mm(picture))


def test_the_place_of_a_finding_at_the_very_edge_is_on_the_paper():
    """A clamp as long as two shafts, so that its screws stand at the edge."""
    plate = {
        "shaft_diameter_mm": 20,
        "bearing_span_mm": 40,
        "hub_outer_mm": 25,
        "clamp_length_mm": 40,
    }
    checks = {"engagement_mm": 0.0, "shaft_diameter_measured_mm": 19.5}
    must_be_well_laid_out(draw(unit(SHRINK_DISC, BAD, checks, required_engagement_mm=20, **plate)))


@settings(max_examples=15, deadline=None)
@given(
    mounting=st.sampled_from(EVERY_MOUNTING),
    shaft=st.floats(20, 400),
    engagement=st.floats(0, 4),
    required=st.floats(0.1, 6),
    span=st.floats(0.3, 12),
    hub=st.floats(1.02, 2.5),
    clamp=st.floats(0.1, 2),
)
def test_any_sizes_stay_on_the_paper(mounting, shaft, engagement, required, span, hub, clamp):  # noqa: PLR0913, PLR0917 - sizes
    plate = {
        "shaft_diameter_mm": shaft,
        "required_engagement_mm": required * shaft,
        "bearing_span_mm": span * shaft,
        "hub_outer_mm": hub * shaft,
        "clamp_length_mm": clamp * shaft,
    }
    plate = {name: round(value, 3) for name, value in plate.items()}
    engaged = round(engagement * shaft, 3)
    checks = {"engagement_mm": engaged, "shaft_diameter_measured_mm": round(shaft - 0.5, 3)}
    picture = draw(unit(mounting, BAD, checks, **plate))
    must_be_well_laid_out(picture)
    scale = paper_per_mm(picture)
    assert length(picture, "engaged") == pytest.approx(engaged * scale)
    assert length(picture, "required") == pytest.approx(plate["required_engagement_mm"] * scale)


@settings(max_examples=12, deadline=None)
@given(st.data())
def test_any_looks_at_any_units(data):
    units = []
    for mounting in EVERY_MOUNTING:
        plate = data.draw(nameplates(mounting))
        found = data.draw(looks(mounting, plate["shaft_diameter_mm"]))
        units.append(Unit(plate, possible(plate, found)))
    assessed = assess_units(units)
    for name in assessed.known.units["unit_id"]:
        picture = draw_joint(assessed, name)
        must_be_well_laid_out(picture)
        found = [f.check for f in numbered_findings(assessed, name)]
        marks = [shape.check for shape in picture.shapes if isinstance(shape, Mark)]
        assert sorted(marks) == sorted(CHECKS_OF_THE_JOINT.intersection(found))


def test_says_what_was_assumed_and_only_that():
    (assumed,) = [n for n in draw(unit(SHRINK_DISC, GOOD)).notes if n.startswith("sizes assumed")]
    assert "low-speed bearings 1.9 shafts apart" in assumed
    given_all = unit(SHRINK_DISC, GOOD, bearing_span_mm=150, hub_outer_mm=105, clamp_length_mm=40)
    (assumed,) = [n for n in draw(given_all).notes if n.startswith("sizes assumed")]
    assert assumed == "sizes assumed: housing, bearings and screws as usual for such a shaft"


def test_scale_in_the_notes_is_that_of_the_bar():
    picture = draw(unit(KEYED_BORE, GOOD))
    said = float(picture.notes[0].split()[-2])
    assert said == pytest.approx(1 / paper_per_mm(picture), rel=0.01)


def test_description_tells_lengths_and_marks():
    description = draw(unit(KEYED_BORE, BAD)).description
    for words in ("110 mm of it are in the bore", "176 mm are asked for", "Mark 1:", "keyed bore"):
        assert words in description


def test_joint_that_slips_is_marked():
    plate = {"mounting": SHRINK_DISC, "joint_rated_torque_nm": 100, "output_torque_nm": 5000}
    checks = {"bore_condition": "antiseize_or_grease", "torque_passes": 1}
    picture = draw(Unit(plate, checks))
    assert "slip_margin" in marked([picture])


def test_short_end_that_nobody_measured_is_drawn_short_and_says_so():
    plate = {"mounting": SHRINK_DISC, "required_engagement_mm": 176}
    picture = draw(Unit(plate, {"shaft_end": "short"}))
    assert length(picture, "engaged") < length(picture, "required")
    assert "engaged: not measured" in text(picture)
    assert [note for note in picture.notes if "not measured" in note]


@pytest.mark.parametrize("kind", STATES, ids="-".join)
def test_no_line_goes_through_the_words_of_a_dimension(pictures, kind):
    picture = pictures[kind]
    words = [*of_part(picture, "engaged_words"), *of_part(picture, "required_words")]
    for shape in picture.shapes:
        if not isinstance(shape, Line) or shape.part == "mark_line":
            continue
        for (x, y), (other_x, other_y) in pairwise(shape.points):
            for label in words:
                middle = (label.box.left + label.box.right) / 2
                through = abs(x - middle) < 0.45 * label.box.width
                above = min(y, other_y) < label.box.bottom and max(y, other_y) > label.box.top
                assert not (x == other_x and through and above), (shape, label)


def test_no_such_unit(assessment):
    with pytest.raises(FixableError, match="in service"):
        draw_joint(assessment, "nobody")


@pytest.mark.benchmark(group="drawing")
def test_is_drawn_at_once(benchmark, assessment):
    place = STATES.index((SHRINK_DISC_SUPPORT_BUSHINGS, BAD))
    svg = benchmark(lambda: to_svg(draw_joint(assessment, f"U{place:04d}")))
    assert np.char.count(svg, "<text") > 20
