"""The torque arm in elevation, seen along the shaft: housing, arm, anchor, forces."""

from dataclasses import dataclass, replace
from math import cos, log10, radians, sin

from scoring.drawing.paper_scale import largest_scale
from scoring.drawing.shapes import AnyShape, Box, Circle, Label, Line, Point, Polygon, Role
from scoring.drawing.sheet import Sheet
from scoring.drawing.torque_arm_known import ArmAsKnown, force_words

WINDOW = Box(13.0, 30.0, 104.0, 84.0)
"""Where the elevation stands on the paper. [mm]"""

LONGEST_ARROW = 18.0
"""The longer of the two forces is drawn no longer. [mm]"""

_GROUND = 3.0
_ARROW_ROOM = LONGEST_ARROW + 2.0


@dataclass(frozen=True)
class Elevation:
    """Where everything lies on the paper.

    Attributes
    ----------
    scale : float
        Paper over machine. [-]
    hub, anchor : Point
        Shaft's centre, and middle of the arm's hole at the anchor. [mm]
    housing : float
        Radius of the housing, not recorded and taken in proportion. [mm]
    force_scale : float
        Length of an arrow over its force. [mm/N]
    """

    scale: float
    hub: Point
    anchor: Point
    housing: float
    force_scale: float

    def along_arm(self, share: float, across: float = 0.0) -> Point:
        """Return a point on the arm, a share of the way to the anchor and some mm above it."""
        (x, y), (u, v) = self.hub, self.anchor
        length = ((u - x) ** 2 + (v - y) ** 2) ** 0.5
        dx, dy = (u - x) / length, (v - y) / length
        return x + share * (u - x) + across * dy, y + share * (v - y) - across * dx


def lay_out(arm: ArmAsKnown) -> Elevation:
    """Find the largest scale at which the arm stands in its window."""
    scale = largest_scale(lambda scale: _place(arm, scale) is not None)
    placed = _place(arm, scale)
    if placed is None:
        raise AssertionError("no scale is small enough")
    hub, anchor, housing = placed
    longest = max(arm.reaction, arm.added, 1e-9)
    return Elevation(scale, hub, anchor, housing, LONGEST_ARROW / _force_of_longest(longest))


def _force_of_longest(force: float) -> float:
    """Return a round force, at least the given one, that the longest arrow stands for."""
    tens = 10.0 ** int(log10(force) // 1)
    for round_one in (1.8, 3.6, 9.0, 18.0):
        if round_one * tens >= force:
            return round_one * tens
    return 18.0 * tens


def joint_above(sizes: dict[str, float]) -> float:
    """Return how far the anchor joint stands above the middle of the arm [mm of the machine]."""
    thickness, outer = sizes["isolator_thickness_mm"], sizes["isolator_outer_mm"]
    return 1.25 * thickness + 0.06 * outer + 0.5 * sizes["isolator_inner_mm"]


def _place(arm: ArmAsKnown, scale: float) -> tuple[Point, Point, float] | None:
    sizes = arm.sizes
    shaft, length = sizes["shaft_diameter_mm"], sizes["arm_length_mm"]
    housing = max(0.6 * shaft, min(1.5 * shaft, 0.55 * length)) * scale
    across = length * sin(radians(arm.angle)) * scale
    down = length * cos(radians(arm.angle)) * scale
    above = joint_above(sizes) * scale
    below = above + 0.4 * sizes["isolator_thickness_mm"] * scale
    right = max(0.75 * sizes["isolator_outer_mm"] * scale, 4.0)
    left = max(housing, 3.0, max(right, _arc_radius(arm, scale)) - across)
    width = max(left + across + right, left + max(housing, 3.0))
    top = max(WINDOW.top + housing, WINDOW.top + _ARROW_ROOM + above - down)
    bottom = WINDOW.bottom - _GROUND
    fits = (
        width <= WINDOW.width
        and top + down + below + 3.0 <= bottom
        and top + max(housing, _ARROW_ROOM) + 5.0 <= bottom
    )
    if not fits:
        return None
    x = WINDOW.left + left + 0.25 * (WINDOW.width - width)
    return (x, top), (x + across, top + down), housing


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
        ("bracket", (side, WINDOW.bottom - _GROUND - 1.5), "start"),
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


def bolts_at(at: Elevation) -> list[Point]:
    """Return where the arm is bolted to the housing."""
    length = ((at.anchor[0] - at.hub[0]) ** 2 + (at.anchor[1] - at.hub[1]) ** 2) ** 0.5
    share = 0.78 * at.housing / length
    return [at.along_arm(share, 0.28 * at.housing), at.along_arm(share, -0.28 * at.housing)]


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
    top, ground = y + 1.25 * thick, WINDOW.bottom - _GROUND
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


def guard_radius(arm: ArmAsKnown, at: Elevation) -> float:
    """Return the radius of the guard over the shaft's end [mm]."""
    return 0.5 * (0.5 * arm.sizes["shaft_diameter_mm"] * at.scale + at.housing)


def arc_at(arm: ArmAsKnown, at: Elevation, share: float) -> Point:
    """Return a point of the arc of the angle: from the bolt's axis to the arm."""
    turned = share * radians(arm.angle)
    radius = _arc_radius(arm, at.scale)
    return at.anchor[0] - radius * sin(turned), at.anchor[1] - radius * cos(turned)


def _arc_radius(arm: ArmAsKnown, scale: float) -> float:
    return (0.5 * arm.sizes["isolator_outer_mm"] + joint_above(arm.sizes)) * scale


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
        Label(at=(where[0] - 1, where[1] - 1), lines=(words,), anchor="end", size=2.8, role=role)
    )


def _draw_forces(sheet: Sheet, arm: ArmAsKnown, at: Elevation) -> None:
    (x, y), (u, v) = at.hub, at.anchor
    start = v - joint_above(arm.sizes) * at.scale - 0.5
    tip = start - arm.reaction * at.force_scale
    end = y + arm.added * at.force_scale
    sheet.draw(*_arrow("reaction", (u, start), (u, tip)), *_arrow("added load", (x, y), (x, end)))
    reaction = f"reaction {force_words(arm.reaction)}"
    above = Label(at=(u - 4, tip - 1.5), lines=(reaction,), size=2.8, role=Role.FORCE)
    beyond = max(above.box.right - WINDOW.right - 5.0, 0.0)
    sheet.write(replace(above, at=(above.at[0] - beyond, above.at[1])))
    added = f"bearing + {force_words(arm.added)}"
    under = (x - 2, max(end, y + at.housing + 3.6))
    sheet.write(Label(at=under, lines=(added,), anchor="end", size=2.8, role=Role.FORCE))


def _arrow(part: str, start: Point, end: Point) -> list[AnyShape]:
    """Return an arrow; too short for a head, it is a stroke; none for no force."""
    length = abs(end[1] - start[1])
    if length < 0.05:
        return []
    return [Line(role=Role.FORCE, part=part, points=(start, end), head=length > 3.0)]


def force_scale_words(at: Elevation) -> str:
    """Say what ten millimetres of arrow stand for."""
    return f"arrows: 10 mm is {force_words(10.0 / at.force_scale)}"
