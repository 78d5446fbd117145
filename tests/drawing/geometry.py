"""What every picture must keep to, whatever it shows: room for its words, and nothing outside."""

import re
from collections.abc import Sequence
from dataclasses import astuple
from xml.etree import ElementTree as ET

import numpy as np
from parts_of_pictures import paper_of

from scoring.drawing.shapes import Label, Mark, Picture
from scoring.drawing.svg import THEMES, to_svg

SVG = "{http://www.w3.org/2000/svg}"


def must_be_well_laid_out(picture: Picture) -> None:
    """Fail where something lies off the paper, or a label over a label or a mark."""
    for shape in picture.shapes:
        assert paper_of(picture).holds(shape.box), f"off the paper of {picture.title}: {shape}"
    written = [shape for shape in picture.shapes if isinstance(shape, Label | Mark)]
    boxes = np.array([astuple(shape.box) for shape in written]).reshape(-1, 4)
    left, top, right, bottom = boxes.T
    over = (left[:, None] < right) & (left < right[:, None])
    over &= (top[:, None] < bottom) & (top < bottom[:, None])
    pairs = np.argwhere(np.triu(over, 1))
    assert not len(pairs), f"over one another: {[(written[i], written[j]) for i, j in pairs]}"


def must_be_safe_svg(picture: Picture) -> None:
    """Fail where the SVG is not well formed, lacks its words, or reaches outside itself."""
    for theme in THEMES:
        text = to_svg(picture, theme)
        root = ET.fromstring(text)  # noqa: S314 - our own text is what is tested
        assert root.tag == f"{SVG}svg"
        assert root.findtext(f"{SVG}title") == picture.title
        assert root.findtext(f"{SVG}desc") == picture.description
        assert picture.title
        assert len(picture.description) > 40
        assert re.findall(r"url\((?!#)", text) == []
        names = {child.tag for child in root.iter()}
        assert not names & {f"{SVG}{bad}" for bad in ("script", "image", "use", "foreignObject")}
        keys = {key.lower() for child in root.iter() for key in child.keys()}  # noqa: SIM118
        assert not [key for key in keys if key.startswith("on") or key.endswith("href")]


def marked(pictures: Sequence[Picture]) -> dict[str, list[Mark]]:
    """Return the marks of all pictures by the check they mark."""
    found: dict[str, list[Mark]] = {}
    for picture in pictures:
        for shape in picture.shapes:
            if isinstance(shape, Mark):
                found.setdefault(shape.check, []).append(shape)
    return found
