"""The picture of a torque arm on a sheet: what is drawn large, what is written beside it below."""

from scoring.drawing.anchor_joint_detail import FRAME
from scoring.drawing.cut_out import cut_out
from scoring.drawing.shapes import AnyShape, Box, Label, Mark, Picture, Role
from scoring.drawing.smallest_clearance import PANEL
from scoring.sheets.drawing_on_paper import WIDEST_MM, Drawing
from scoring.sheets.sheet_blocks import (
    Block,
    Prose,
    Weight,
)

HEADINGS_END = 25.0
"""Headings and forces are written above this on the picture's paper. [mm]"""


def arm_on_paper(picture: Picture) -> tuple[Block, ...]:
    """Return the picture of an arm so that its letters are large enough to be read on paper.

    Parameters
    ----------
    picture : Picture
        From ``draw_torque_arm``.

    Returns
    -------
    tuple of Block
        What is drawn, without the words round it and, where nothing is marked there, without the
        panel of the smallest clearance; below, all that the picture says, in words.
    """
    marked = any(isinstance(one, Mark) and one.at[1] > PANEL.top for one in picture.shapes)
    kept = [shape for shape in picture.shapes if _is_drawn(shape, panel=marked)]
    return Drawing(cut_out(picture, kept), WIDEST_MM), Prose(picture.description, Weight.QUIET)


def _is_drawn(shape: AnyShape, *, panel: bool) -> bool:
    """Tell whether a shape belongs to what is drawn, or is needed to read it."""
    box: Box = shape.box
    in_panel = box.top > PANEL.top - 1.0
    if isinstance(shape, Label):
        x, y = shape.at
        if in_panel:
            return panel and x < PANEL.right and shape.role is not Role.QUIET
        is_heading = y < HEADINGS_END and x in {4.0, FRAME.left}
        names_in_detail = shape.role is Role.QUIET and x > FRAME.left
        return not is_heading and not names_in_detail
    return shape.part != "frame" and (panel or not in_panel)
