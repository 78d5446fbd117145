"""Where the torque arm lies on the paper in elevation, and at which scales."""

from dataclasses import dataclass
from math import cos, log10, radians, sin

from scoring.drawing.paper_scale import largest_scale
from scoring.drawing.shapes import Box, Point
from scoring.drawing.torque_arm_known import ArmAsKnown, force_words

WINDOW = Box(13.0, 30.0, 104.0, 84.0)
"""Where the elevation stands on the paper. [mm]"""

LONGEST_ARROW = 18.0
"""The longer of the two forces is drawn no longer. [mm]"""

GROUND = 3.0
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
    bottom = WINDOW.bottom - GROUND
    fits = (
        width <= WINDOW.width
        and top + down + below + 3.0 <= bottom
        and top + max(housing, _ARROW_ROOM) + 5.0 <= bottom
    )
    if not fits:
        return None
    x = WINDOW.left + left + 0.25 * (WINDOW.width - width)
    return (x, top), (x + across, top + down), housing


def bolts_at(at: Elevation) -> list[Point]:
    """Return where the arm is bolted to the housing."""
    length = ((at.anchor[0] - at.hub[0]) ** 2 + (at.anchor[1] - at.hub[1]) ** 2) ** 0.5
    share = 0.78 * at.housing / length
    return [at.along_arm(share, 0.28 * at.housing), at.along_arm(share, -0.28 * at.housing)]


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


def force_scale_words(at: Elevation) -> str:
    """Say what ten millimetres of arrow stand for."""
    return f"arrows: 10 mm is {force_words(10.0 / at.force_scale)}"
