"""The torque arm of one unit: to scale, as it was found, with its forces."""

from collections.abc import Iterable

from scoring.assessment import Assessment
from scoring.drawing.anchor_joint_detail import (
    FRAME,
    Detail,
    draw_detail,
    lay_out_detail,
    squeeze_drawn,
)
from scoring.drawing.paper_scale import scale_words
from scoring.drawing.shapes import (
    LETTER_WIDTH,
    Box,
    Circle,
    Label,
    Line,
    Mark,
    Picture,
    Point,
    Role,
)
from scoring.drawing.sheet import Sheet
from scoring.drawing.smallest_clearance import (
    PANEL,
    Clearance,
    draw_clearance,
    lay_out_clearance,
)
from scoring.drawing.torque_arm_elevation import draw_elevation
from scoring.drawing.torque_arm_known import (
    CHECKS_OF_THE_ARM,
    LOADS,
    SIZES,
    ArmAsKnown,
    arm_as_known,
    force_words,
)
from scoring.drawing.torque_arm_layout import (
    Elevation,
    arc_at,
    bolts_at,
    force_scale_words,
    guard_radius,
    joint_above,
    lay_out,
)
from scoring.drawing.torque_arm_words import describe, notes_of
from scoring.drawing.what_was_seen import in_unit

__all__ = ["CHECKS_OF_THE_ARM", "draw_torque_arm"]

WIDTH, HEIGHT = 180.0, 110.0
"""The paper. [mm]"""


def draw_torque_arm(assessment: Assessment, unit_id: str) -> Picture:
    """Draw the torque arm of a unit.

    Parameters
    ----------
    assessment : Assessment
        What is known.
    unit_id : str
        A unit in service.

    Returns
    -------
    Picture
        The arm in elevation, its anchor joint and the smallest clearance larger beside it; what
        nobody has seen is dashed and said. Findings of ``CHECKS_OF_THE_ARM`` are marked.

    Raises
    ------
    FixableError
        If no unit of that id is in service.
    """
    arm = arm_as_known(assessment, unit_id)
    at, detail, clearance = lay_out(arm), lay_out_detail(arm), lay_out_clearance(arm)
    sheet = Sheet(Box(1.0, 1.0, WIDTH - 1.0, HEIGHT - 1.0))
    _write_headings(sheet, arm, at, detail)
    _draw_leader(sheet, arm, at)
    draw_detail(sheet, arm, detail)
    draw_clearance(sheet, arm, clearance)
    _write_captions(sheet, arm)
    draw_elevation(sheet, arm, at)
    _set_marks(sheet, arm, _places(arm, at, detail, clearance))
    return Picture(
        f"Torque arm of {unit_id}",
        describe(arm, at, detail),
        WIDTH,
        HEIGHT,
        tuple(sheet.shapes),
        notes_of(arm, detail),
    )


def _write_headings(sheet: Sheet, arm: ArmAsKnown, at: Elevation, detail: Detail) -> None:
    moment = ("output_torque_nm", "arm_length_mm")
    forces = (
        (
            f"added to one low-speed bearing, expected: {force_words(arm.added)}"
            f"{_assumed(arm, SIZES | LOADS)}"
        ),
        (
            f"that bearing, arm floating: {force_words(arm.floating)}"
            f"{_assumed(arm, (*moment, 'unit_mass_kg'))}"
        ),
        f"reaction at the anchor: {force_words(arm.reaction)}{_assumed(arm, moment)}",
        force_scale_words(at),
    )
    for n, words in enumerate(forces):
        size = min(2.8, 102.0 / (LETTER_WIDTH * len(words)))
        where = (4.0, 11.0 + 4.2 * n)
        sheet.write(Label(at=where, lines=(words,), size=size, role=Role.FORCE))
    for where, words in (
        ((4.0, 6.0), f"seen along the shaft, {scale_words(at.scale)}"),
        (
            (FRAME.left, 6.0),
            f"anchor joint, seen along the arm, {scale_words(detail.scale)}",
        ),
    ):
        size = min(3.2, 66.0 / (LETTER_WIDTH * len(words)))
        sheet.write(Label(at=where, lines=(words,), size=size))


def _assumed(arm: ArmAsKnown, columns: Iterable[str]) -> str:
    return " (sizes assumed)" if arm.assumed & {*columns} else ""


def _draw_leader(sheet: Sheet, arm: ArmAsKnown, at: Elevation) -> None:
    """Ring the joint, and lead to its detail."""
    x, y = at.anchor
    half = 0.5 * arm.sizes["isolator_outer_mm"] * at.scale
    radius = min(max(half, joint_above(arm.sizes) * at.scale) + 1.5, 16.0)
    sheet.draw(
        Circle(role=Role.QUIET, part="ring of the detail", centre=at.anchor, radius=radius),
        Line(role=Role.QUIET, part="to the detail", points=((x + radius, y), (FRAME.left, y))),
    )


def _write_captions(sheet: Sheet, arm: ArmAsKnown) -> None:
    """Write below the drawings what was seen."""
    sizes, seen = arm.sizes, arm.seen
    assumed = ", assumed" if "arm_length_mm" in arm.assumed else ""
    rubber = ", assumed" if arm.assumed & {c for c in SIZES if c.startswith("isolator")} else ""
    outer, inner = (f"{sizes[f'isolator_{name}_mm']:.3g}" for name in ("outer", "inner"))
    thick = in_unit(sizes["isolator_thickness_mm"], "mm")
    free = seen.words("isolators_free")
    turning = free if "not seen" in free else f"{free} of 2"
    for x, room, rows in (
        (
            60.0,
            48.0,
            (
                ("", f"arm {in_unit(sizes['arm_length_mm'], 'mm')}{assumed}"),
                ("arm_angle_deg", f"angle: {arm.with_limit('arm_angle_deg')}"),
                ("arm_bolts", f"arm bolts: {seen.words('arm_bolts')}"),
                ("guard", f"guard: {seen.words('guard')}"),
            ),
        ),
        (
            FRAME.left,
            67.0,
            (
                ("", f"isolators {outer}/{inner} mm, {thick} thick{rubber}"),
                ("isolator_squeeze_mm", f"squeeze: {arm.with_limit('isolator_squeeze_mm')}"),
                ("arm_misset_mm", f"mis-set: {arm.with_limit('arm_misset_mm')}"),
                ("isolators_free", f"turn by hand: {turning}, at least 1"),
                ("isolator_stack", f"anchor joint: {seen.words('isolator_stack')}"),
            ),
        ),
    ):
        for n, (check, words) in enumerate(rows):
            role = _role_of(arm, check)
            size = min(2.8, room / (LETTER_WIDTH * len(words)))
            sheet.write(Label(at=(x, 88.5 + 4.7 * n), lines=(words,), size=size, role=role))


def _role_of(arm: ArmAsKnown, check: str) -> Role:
    if arm.has_fault(check):
        return Role.FINDING
    return Role.UNSEEN if check and "not seen" in arm.seen.words(check) else Role.TEXT


def _places(
    arm: ArmAsKnown, at: Elevation, detail: Detail, clearance: Clearance
) -> dict[str, tuple[Point, Point]]:
    """Return for each check what its mark points at, and where the mark is wished."""
    half = 0.5 * arm.sizes["isolator_outer_mm"] * detail.scale
    bolt, arc = bolts_at(at)[0], arc_at(arm, at, 0.55)
    guard = (at.hub[0] - guard_radius(arm, at), at.hub[1])
    gap = 0.5 * (clearance.face + clearance.other)
    upper = 0.5 * (detail.upper + detail.arm)
    squeezed = squeeze_drawn(arm) * detail.scale
    right, left = detail.middle + half, detail.middle - half
    washer = 0.5 * (detail.washer + detail.upper)
    return {
        "arm_bolts": (bolt, (bolt[0] + 7.0, bolt[1] - 10.0)),
        "arm_angle_deg": (arc, (arc[0] - 12.0, arc[1] - 10.0)),
        "guard": (guard, (6.0, at.hub[1] - 8.0)),
        "smallest_clearance_mm": ((PANEL.left + 10.0, gap), (PANEL.left + 2.0, 90.5)),
        "metal_contact": ((PANEL.left + 9.0, clearance.other), (PANEL.left + 2.0, 98.0)),
        "isolator_stack": (
            (left + 1.0, washer),
            (FRAME.left + 5.0, min(washer - 4.0, detail.lower - 14.5)),
        ),
        "isolators_free": ((right - 1.0, upper), (FRAME.right - 5.0, upper - 6.0)),
        "isolator_squeeze_mm": (
            (detail.middle - 1.2 * half - 1.5, detail.lower - 0.5 * squeezed),
            (FRAME.left + 5.0, detail.lower - 7.0),
        ),
        "arm_misset_mm": (
            (detail.arm_middle, detail.head - 3.0),
            (detail.middle - 9.0, detail.head - 3.0),
        ),
    }


def _set_marks(sheet: Sheet, arm: ArmAsKnown, places: dict[str, tuple[Point, Point]]) -> None:
    for finding in arm.findings:
        if finding.check not in places:  # it is marked on the walk round
            continue
        target, wished = places[finding.check]
        sheet.mark(
            target,
            Mark(at=wished, number=finding.number, check=finding.check, severe=finding.severe),
        )
