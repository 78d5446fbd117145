"""The circle of clamp screws shows their number, order, passes, and what was found."""

from math import dist, isclose

import pytest
from geometry import must_be_safe_svg, must_be_well_laid_out
from hypothesis import given, settings
from hypothesis import strategies as st
from looked_at_units import Unit, assess_units
from parts_of_pictures import of_part

from scoring.contract.mountings import CLAMPED, EVERY_MOUNTING, KEYED_BORE
from scoring.drawing.screw_circle import draw_screw_circle, has_screw_circle
from scoring.drawing.shapes import Label, Line, Mark, Picture, Role
from scoring.errors import FixableError, OutOfRangeError
from scoring.rules.tightening_schedule import screw_order, tightening_table

GOOD = {"torque_passes": 3, "final_torque_nm": 120, "screws_low": 0}
BAD = {"torque_passes": 1, "tightening_order": "no_order", "final_torque_nm": 80, "screws_low": 3}
PLATE = {"screw_count": 8, "screw_torque_nm": 120}


def picture_of(plate, checks, final_torque_nm=None) -> Picture:
    return draw_screw_circle(assess_units([Unit(plate, checks)]), "U0000", final_torque_nm)


def words_of(picture: Picture) -> str:
    return "\n".join(shape.lines[0] for shape in picture.shapes if isinstance(shape, Label))


def numbers_of(picture: Picture, part: str) -> list[int]:
    return [int(label.lines[0]) for label in of_part(picture, part)]


def rows_of(picture: Picture) -> list[list[str]]:
    rows: dict[float, list[str]] = {}
    for label in of_part(picture, "pass"):
        rows.setdefault(label.at[1], []).append(label.lines[0])
    return list(rows.values())


@pytest.mark.parametrize("mounting", CLAMPED)
@pytest.mark.parametrize("checks", [GOOD, BAD, {}], ids=["good", "bad", "unknown"])
@pytest.mark.parametrize("plate", [PLATE, {}], ids=["known", "assumed"])
def test_is_well_laid_out(mounting, checks, plate):
    picture = picture_of({**plate, "mounting": mounting}, checks)
    must_be_well_laid_out(picture)
    must_be_safe_svg(picture)
    assert not any(isinstance(shape, Mark) for shape in picture.shapes)
    faults = [shape for shape in picture.shapes if shape.role is Role.FINDING]
    assert bool(faults) == (checks is BAD)


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_only_clamped_mountings_have_one(mounting):
    assert has_screw_circle(mounting) == (mounting != KEYED_BORE)


def test_a_keyed_bore_has_none():
    with pytest.raises(ValueError, match="no clamp screws"):
        picture_of({"mounting": KEYED_BORE}, {})


CIRCLES = st.tuples(
    st.integers(1, 70),
    st.sampled_from(CLAMPED),
    st.none() | st.floats(0.5, 99_999),
    st.integers(1, 9),
    st.integers(0, 70),
).map(lambda drawn: (*drawn[:4], min(drawn[4], drawn[0])))  # no more low than there are


@given(circles=st.lists(CIRCLES, min_size=10, max_size=10))
@settings(max_examples=5, deadline=None)
def test_screws_and_order_are_those_of_the_schedule(circles):
    units = [
        Unit(
            {"mounting": mounting, "screw_count": count, "torque_passes_required": passes},
            {"screws_low": low},
        )
        for count, mounting, _, passes, low in circles
    ]
    assessment = assess_units(units)
    for n, (count, mounting, torque, _, low) in enumerate(circles):
        picture = draw_screw_circle(assessment, f"U{n:04d}", torque)
        must_be_well_laid_out(picture)
        must_show_screws_and_order(picture, count, mounting)
        assert len(of_part(picture, "screw found low")) == min(low, count, 48)
        assert ("which ones: not recorded" in words_of(picture)) == (low > 0)


def must_show_screws_and_order(picture: Picture, count: int, mounting: str) -> None:
    numbers, turns = of_part(picture, "number of a screw"), of_part(picture, "turn of a screw")
    if count > 48:
        assert of_part(picture, "screw") == numbers == turns == []
        assert f"{count} screws:" in words_of(picture)
        return
    assert len(of_part(picture, "screw")) == count
    assert numbers_of(picture, "number of a screw") == list(range(1, count + 1))
    if count > 1:
        assert numbers_of(picture, "turn of a screw") == list(range(1, count + 1))
        beside = [_nearest(label, numbers) for label in turns]
        assert beside == screw_order(count, mounting)
        assert sorted(beside) == list(range(1, count + 1))


def _nearest(label: Label, others: list[Label]) -> int:
    return int(min(others, key=lambda other: dist(other.at, label.at)).lines[0])


def test_the_path_goes_through_the_screws_in_order():
    picture = picture_of({**PLATE, "mounting": "tapered_bushing"}, {})
    (path,) = of_part(picture, "order of the screws")
    assert isinstance(path, Line)
    centres = [circle.centre for circle in of_part(picture, "screw")]
    order = screw_order(8, "tapered_bushing")
    assert list(path.points) == [centres[screw - 1] for screw in order]


def test_torque_of_each_pass_is_that_of_the_schedule():
    picture = picture_of({**PLATE, "screw_torque_nm": 60}, {}, 333.0)
    table = tightening_table(333.0, 8, "shrink_disc")
    rows = rows_of(picture)
    assert [row[0] for row in rows] == ["1", "2", "3", "check"]
    assert [float(row[2]) for row in rows] == table["torque_nm"].tolist()
    assert [row[1] for row in rows] == ["25%", "50%", "100%", "100%"]
    assert "final torque 333 N·m, as entered: from the unit's own manual" in words_of(picture)


def test_the_nameplate_serves_where_nothing_is_entered():
    picture = picture_of(PLATE, {})
    assert isclose(float(rows_of(picture)[-1][2]), 120)
    assert "final torque 120 N·m, on the nameplate: from the unit's own manual" in words_of(picture)


def test_without_a_final_torque_only_shares_are_shown():
    picture = picture_of({"screw_count": 8}, {})
    assert all(len(row) == 2 for row in rows_of(picture))
    assert "final torque: from the unit's own manual" in words_of(picture)
    assert "N·m" not in words_of(picture)


def test_an_assumed_number_of_screws_is_said():
    picture = picture_of({}, {})
    assert "8 screws (assumed)" in words_of(picture)
    assert any("8 clamp screws" in note for note in picture.notes)


@pytest.mark.parametrize("torque", [0.0, -5.0, float("nan")])
def test_a_final_torque_must_be_above_zero(torque):
    with pytest.raises(OutOfRangeError):
        picture_of(PLATE, {}, torque)


def test_a_unit_that_is_not_in_service_is_told():
    with pytest.raises(FixableError, match="U9"):
        draw_screw_circle(assess_units([Unit({})]), "U9")
