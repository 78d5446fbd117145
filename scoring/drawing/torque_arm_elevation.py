"""The torque arm in elevation, seen along the shaft: housing, arm, anchor, forces."""

from dataclasses import replace

from scoring.drawing.shapes import AnyShape, Box, Circle, Label, Line, Point, Polygon, Role
from scoring.drawing.sheet import Sheet
from scoring.drawing.torque_arm_known import ArmAsKnown, force_words
from scoring.drawing.torque_arm_layout import (
    GROUND,
    WINDOW,
    Elevation,
    arc_at,
    bolts_at,
    guard_radius,
    joint_above,
)


def draw_elevation(sheet: Sheet, arm: ArmAsKnown, at: Elevation) -> None:
    """Draw housing, arm, anchor and forces."""
    sheet.draw(*_ground_and_bracket(arm, at), *_housing(arm, at))
    sheet.draw(*_joint(arm, at), *_arm(arm, at), *_guard(arm, at))
    _draw_forces(sheet, arm, at)
    _draw_angle(sheet, arm, at)
    _name_parts(sheet, arm, at)


def _name_parts(sheet: Sheet, arm: ArmAsKnown, at: Elevation) -> None:
    """Name the parts, where there is room left."""
    below = at.along_arm(0.6, -0.3 * at.housing - 3.0)
    side = at.anchor[0] + max(0.65 * arm.sizes["isolator_outer_mm"] * at.scale, 3.0) + 1.5
    for words, where, anchor in (
        ("housing", (at.hub[0] - 2.0, at.hub[1] - at.housing - 1.2), "end"),
        ("torque arm", below, "end"),
        ("bracket", (side, WINDOW.bottom - GROUND - 1.5), "start"),
    ):
        sheet.write(Label(at=where, lines=(words,), anchor=anchor, size=2.4, role=Role.QUIET))


def block(role: Role, part: str, box: Box, *, cut: bool = False) -> Polygon:
    """Return an upright rectangle."""
    points = (
        (box.left, box.top),
        (box.right, box.top),
        (box.right, box.bottom),
        (box.left, box.bottom),
    )
    return Polygon(role=role, part=part, points=points, cut=cut)


def _housing(arm: ArmAsKnown, at: Elevation) -> list[AnyShape]:
    (x, y), reach = at.hub, at.housing + 2.0
    shaft = 0.5 * arm.sizes["shaft_diameter_mm"] * at.scale
    return [
        Circle(role=Role.HOUSING, part="housing", centre=at.hub, radius=at.housing),
        Circle(role=Role.SHAFT, part="output shaft", centre=at.hub, radius=shaft),
        Line(role=Role.CENTRE, part="shaft centre", points=((x - reach, y), (x + reach, y))),
        Line(role=Role.CENTRE, part="shaft centre", points=((x, y - reach), (x, y + reach))),
    ]


def _arm(arm: ArmAsKnown, at: Elevation) -> list[AnyShape]:
    length = arm.sizes["arm_length_mm"] * at.scale
    root = min(0.62 * at.housing / length, 0.9)
    end = 1.0 + 0.6 * arm.sizes["isolator_outer_mm"] * at.scale / length
    thick = 0.25 * arm.sizes["isolator_thickness_mm"] * at.scale
    wide = max(0.45 * at.housing, thick)
    corners = (
        at.along_arm(root, wide),
        at.along_arm(1.0, thick),
        at.along_arm(end, thick),
        at.along_arm(end, -thick),
        at.along_arm(1.0, -thick),
        at.along_arm(root, -wide),
    )
    state = arm.seen.word("arm_bolts")
    good = Role.PART if state else Role.UNSEEN
    roles = (Role.FINDING if state in ("loose", "missing") else good, good)
    bolts = [
        Circle(role=role, part="arm bolt", centre=place, radius=min(1.2, 0.12 * at.housing))
        for place, role in zip(bolts_at(at), roles, strict=True)
    ]
    centre = Line(role=Role.CENTRE, part="arm length", points=(at.hub, at.anchor))
    return [Polygon(role=Role.PART, part="arm", points=corners), *bolts, centre]


def _joint(arm: ArmAsKnown, at: Elevation) -> list[AnyShape]:
    """Return the isolators above and below the arm, small, as they are shown in the detail."""
    (x, y), scale, sizes = at.anchor, at.scale, arm.sizes
    thick, half = sizes["isolator_thickness_mm"] * scale, 0.5 * sizes["isolator_outer_mm"] * scale
    bolt, plate = 0.3 * sizes["isolator_inner_mm"] * scale, 0.25 * thick
    above = joint_above(sizes) * scale
    role = Role.RUBBER if arm.joint_was_seen else Role.UNSEEN
    return [
        block(
            Role.PART, "anchor bolt", Box(x - bolt, y - above, x + bolt, y + above + 0.4 * thick)
        ),
        block(role, "isolator", Box(x - half, y - plate - thick, x + half, y - plate)),
        block(role, "isolator", Box(x - half, y + plate, x + half, y + plate + thick)),
    ]


def _ground_and_bracket(arm: ArmAsKnown, at: Elevation) -> list[AnyShape]:
    (x, y), scale = at.anchor, at.scale
    thick = arm.sizes["isolator_thickness_mm"] * scale
    half = max(0.65 * arm.sizes["isolator_outer_mm"] * scale, 3.0)
    top, ground = y + 1.25 * thick, WINDOW.bottom - GROUND
    plate = max(0.4 * thick, 0.8)
    leg = max(1.5, 0.3 * half)
    return [
        block(
            Role.GROUND,
            "ground",
            Box(
                max(x - 22.0, min(x - half - 1.0, 26.0), 1.5),
                ground,
                min(x + 22.0, WINDOW.right),
                WINDOW.bottom,
            ),
            cut=True,
        ),
        block(Role.GROUND, "bracket", Box(x - half, top, x + half, top + plate)),
        block(Role.GROUND, "bracket", Box(x + half - leg, top + plate, x + half, ground)),
        block(Role.GROUND, "bracket", Box(x - half, top + plate, x - half + leg, ground)),
    ]


def _guard(arm: ArmAsKnown, at: Elevation) -> list[AnyShape]:
    state = arm.seen.word("guard")
    role = {"fitted": Role.QUIET, "missing": Role.FINDING}.get(state or "", Role.UNSEEN)
    return [Circle(role=role, part="guard", centre=at.hub, radius=guard_radius(arm, at))]


def _draw_angle(sheet: Sheet, arm: ArmAsKnown, at: Elevation) -> None:
    unseen = arm.seen.number("arm_angle_deg") is None
    role = Role.UNSEEN if unseen else Role.DIMENSION
    (x, y), above = at.anchor, joint_above(arm.sizes) * at.scale
    points = tuple(arc_at(arm, at, step / 16) for step in range(17))
    sheet.draw(
        Line(role=Role.CENTRE, part="bolt axis", points=((x, y - above - 2), (x, y + above + 2))),
        Line(role=role, part="angle", points=points),
    )
    words = "not seen" if unseen else arm.seen.words("arm_angle_deg")
    where = arc_at(arm, at, 0.4)
    role = Role.FINDING if arm.has_fault("arm_angle_deg") else role
    sheet.write(
        Label(at=(where[0] - 2, where[1] - 1), lines=(words,), anchor="end", size=2.8, role=role)
    )


def _draw_forces(sheet: Sheet, arm: ArmAsKnown, at: Elevation) -> None:
    (x, y), (u, v) = at.hub, at.anchor
    start = v - joint_above(arm.sizes) * at.scale - 0.5
    tip = start - arm.reaction * at.force_scale
    end = y + arm.added * at.force_scale
    sheet.draw(*_arrow("reaction", (u, start), (u, tip)), *_arrow("added load", (x, y), (x, end)))
    reaction = f"reaction {force_words(arm.reaction)}"
    left = u + 2 if arm.angle < 45 else u - 4
    above = Label(at=(left, tip - 1.5), lines=(reaction,), size=2.8, role=Role.FORCE)
    beyond = max(above.box.right - WINDOW.right - 5.0, 0.0)
    sheet.write(replace(above, at=(above.at[0] - beyond, above.at[1])))
    added = f"added load {force_words(arm.added)}"
    under = (x - 2, max(end, y + at.housing + 3.6))
    sheet.write(Label(at=under, lines=(added,), anchor="end", size=2.8, role=Role.FORCE))


def _arrow(part: str, start: Point, end: Point) -> list[AnyShape]:
    """Return an arrow; too short for a head, it is a stroke; none for no force."""
    length = abs(end[1] - start[1])
    if length < 0.05:
        return []
    return [Line(role=Role.FORCE, part=part, points=(start, end), head=length > 3.0)]
