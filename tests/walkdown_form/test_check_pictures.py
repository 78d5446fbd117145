"""The pictures of the steps: what is looked at stands in the frame, and nothing over a letter."""

import re
from xml.etree import ElementTree as ET

import pytest
from parts_of_pictures import of_part, paper_of

from scoring.contract import CHECK_BY_NAME, CHECKS
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.contract.places_to_look import USUAL_PLACE
from scoring.drawing.machine_from_the_side import machine_from_the_side
from scoring.drawing.shapes import Circle, Polygon
from scoring.drawing.svg import THEMES
from scoring.drawing.walk_stations import station_of
from scoring.walkdown_form.check_picture import (
    PICTURE_COLOURS,
    draw_where_to_look,
    picture_id,
    step_picture,
)

ASKED = [(check.name, mounting) for check in CHECKS for mounting in check.mountings]


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_the_usual_places_are_drawn_whatever_the_mounting(mounting: str) -> None:
    machine = machine_from_the_side(mounting)
    for place in USUAL_PLACE.values():
        assert parts_of(place, machine)


def parts_of(place, shapes):
    """Return the shapes of a place; the drive end lies right of the middle, x above 70 mm."""
    of_place = [s for s in shapes if isinstance(s, Polygon | Circle) and s.part in place.parts]
    if not place.side:
        return of_place
    return [s for s in of_place if (s.box.left > 70) is (place.side == "drive end")]


@pytest.mark.parametrize(("check", "mounting"), ASKED)
def test_the_frame_holds_what_is_looked_at(check: str, mounting: str) -> None:
    picture = draw_where_to_look(check, mounting)
    (frame,) = of_part(picture, "looked at")
    parts = parts_of(CHECK_BY_NAME[check].place, picture.shapes)
    assert parts
    assert all(frame.box.holds(part.box) for part in parts)
    assert all(paper_of(picture).holds(shape.box) for shape in picture.shapes)


@pytest.mark.parametrize(("check", "mounting"), ASKED)
def test_the_letter_of_the_station_hides_nothing(check: str, mounting: str) -> None:
    picture = draw_where_to_look(check, mounting)
    ring, label = of_part(picture, "letter")
    assert label.lines == (station_of(check).letter,)
    for shape in picture.shapes:
        if isinstance(shape, Polygon):
            assert not shape.box.overlaps(ring.box), shape.part
    assert ring.box.holds(label.box)


@pytest.mark.parametrize(("check", "mounting"), ASKED)
def test_the_text_alternative_says_where(check: str, mounting: str) -> None:
    words = step_picture(check, mounting).words
    assert CHECK_BY_NAME[check].place.words in words
    assert f"station {station_of(check).letter}," in words


def test_a_picture_is_shared_only_by_steps_that_show_the_same() -> None:
    texts: dict[str, str] = {}
    for check, mounting in ASKED:
        name, svg = picture_id(check, mounting), step_picture(check, mounting).svg
        assert texts.setdefault(name, svg) == svg
        assert re.fullmatch(r"[A-Za-z_-]+", name)
    assert len(texts) < 0.7 * len(ASKED)
    for mounting in EVERY_MOUNTING:
        mine = sum(len(svg) for name, svg in texts.items() if name.startswith(f"{mounting}-"))
        assert mine < 200_000


def test_a_picture_is_well_formed_and_coloured_by_the_page() -> None:
    for check, mounting in ASKED:
        svg = step_picture(check, mounting).svg
        ET.fromstring(svg)  # noqa: S314 - our own text
        bare = re.sub(r"var\(--picture-(\w+),(#[0-9a-f]{6})\)", "", svg)
        assert not re.search(r"#[0-9a-f]{6}", bare)
        assert "<script" not in svg
        assert "href" not in svg
    assert set(PICTURE_COLOURS["light"]) == set(PICTURE_COLOURS["dark"]) == set(THEMES["light"])


def test_colours_can_be_told_apart_by_their_code() -> None:
    for theme in PICTURE_COLOURS.values():
        assert len(set(theme.values())) == len(theme)
