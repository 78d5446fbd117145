"""The anchor joint of the torque arm, larger, cut along the bolt and seen along the arm."""

from dataclasses import dataclass

from scoring.drawing.paper_scale import largest_scale
from scoring.drawing.shapes import LETTER_WIDTH, AnyShape, Box, Label, Line, Polygon, Role
from scoring.drawing.sheet import Sheet
from scoring.drawing.torque_arm_elevation import block
from scoring.drawing.torque_arm_known import ArmAsKnown
from scoring.drawing.what_was_seen import in_unit

FRAME = Box(111.0, 10.0, 178.0, 80.0)
"""Where the detail stands on the paper. [mm]"""

MOST_SQUEEZE = 0.8
"""Rubber squeezed by more of its thickness is drawn squeezed by this share; ours. [-]"""

_MIDDLE = 145.0
_LEAST_NAMED = 2.8
"""Plates drawn thinner are not named. [mm]"""

_ROOM = Box(_MIDDLE - 31.0, 17.0, _MIDDLE + 31.0, 77.0)


@dataclass(frozen=True)
class Detail:
    """Where the parts of the joint lie on the paper.

    Attributes
    ----------
    scale : float
        Paper over machine. [-]
    middle, arm_middle : float
        Centre of the bracket's hole, and of the arm's. [mm]
    head, washer, upper, arm, lower, bracket, bottom : float
        Height of the upper edge of bolt head, washer, upper isolator, arm, lower isolator and
        bracket, and of the lower edge of the bracket. [mm]
    """

    scale: float
    middle: float
    arm_middle: float
    head: float
    washer: float
    upper: float
    arm: float
    lower: float
    bracket: float
    bottom: float


def squeeze_drawn(arm: ArmAsKnown) -> float:
    """Return by how much each isolator is drawn squeezed [mm of the machine]."""
    squeeze = arm.seen.number("isolator_squeeze_mm") or 0.0
    return min(squeeze, MOST_SQUEEZE * arm.sizes["isolator_thickness_mm"])


def lay_out_detail(arm: ArmAsKnown) -> Detail:
    """Find the largest scale at which the joint stands in its frame."""
    thick, outer = arm.sizes["isolator_thickness_mm"], arm.sizes["isolator_outer_mm"]
    inner = arm.sizes["isolator_inner_mm"]
    misset = arm.seen.number("arm_misset_mm") or 0.0
    squeezed = thick - squeeze_drawn(arm)
    heights = (0.5 * inner, 0.07 * outer, squeezed, 0.5 * thick, squeezed, 0.4 * thick)
    tail = 0.07 * outer + 0.5 * inner
    whole = sum(heights) + tail
    free = 2.4 * thick + 2 * tail

    def fits(scale: float) -> bool:
        return (
            free * scale <= _ROOM.height
            and 0.56 * outer * scale <= 20.5
            and (0.62 * outer + misset) * scale <= 0.5 * _ROOM.width
        )

    scale = largest_scale(fits, largest=5.0)
    y = 0.5 * (_ROOM.top + _ROOM.bottom) - 0.5 * whole * scale
    edges = [y]
    for height in heights:
        edges.append(edges[-1] + height * scale)
    return Detail(scale, _MIDDLE, _MIDDLE + misset * scale, *edges)


def draw_detail(sheet: Sheet, arm: ArmAsKnown, at: Detail) -> None:
    """Draw the joint as it was found."""
    half = 0.5 * arm.sizes["isolator_outer_mm"] * at.scale
    hole = 0.5 * arm.sizes["isolator_inner_mm"] * at.scale
    plate = 1.2 * half
    sheet.draw(block(Role.QUIET, "frame", FRAME))
    for middle, top, bottom, part in (
        (at.middle, at.bracket, at.bottom, "bracket in detail"),
        (at.arm_middle, at.arm, at.lower, "arm in detail"),
    ):
        role = Role.GROUND if part.startswith("bracket") else Role.PART
        left = Box(middle - plate, top, middle - hole, bottom)
        right = Box(middle + hole, top, middle + plate, bottom)
        sheet.draw(block(role, part, left, cut=True), block(role, part, right, cut=True))
    sheet.draw(*_isolator(arm, at, upper=False), *_isolator(arm, at, upper=True))
    sheet.draw(*_bolt_and_washers(arm, at))
    _draw_squeeze(sheet, arm, at)
    _draw_misset(sheet, arm, at)
    _write_states(sheet, arm, at)
    for words, x, top, bottom in (
        ("arm", at.arm_middle + plate, at.arm, at.lower),
        ("bracket", at.middle + plate, at.bracket, at.bottom),
    ):
        where = (x + 1.5, 0.5 * (top + bottom) + 0.9)
        name = Label(at=where, lines=(words,), size=2.4, role=Role.QUIET)
        if bottom - top > _LEAST_NAMED and FRAME.holds(name.box):
            sheet.write(name)


def _isolator(arm: ArmAsKnown, at: Detail, *, upper: bool) -> list[AnyShape]:
    """Return one isolator, cut, bulging where it is squeezed."""
    stack = arm.seen.word("isolator_stack")
    role = Role.RUBBER if arm.joint_was_seen else Role.UNSEEN
    if stack == "isolator_missing" and upper:
        role = Role.FINDING
    top, bottom = (at.upper, at.arm) if upper else (at.lower, at.bracket)
    half = 0.5 * arm.sizes["isolator_outer_mm"] * at.scale
    hole = 0.5 * arm.sizes["isolator_inner_mm"] * at.scale
    share = squeeze_drawn(arm) / arm.sizes["isolator_thickness_mm"]
    bulge = min(0.12, 0.25 * share) * half
    shapes: list[AnyShape] = []
    for side in (-1.0, 1.0):
        inside, outside = at.middle + side * hole, at.middle + side * half
        edge = [
            (outside + side * bulge * (1 - (step / 4 - 1) ** 2), top + (bottom - top) * step / 8)
            for step in range(9)
        ]
        points = ((inside, top), *edge, (inside, bottom))
        shapes.append(Polygon(role=role, part="isolator in detail", points=points))
    if stack == "damaged" and upper:
        shapes.append(_crack(at.middle + 0.5 * (hole + half), top, bottom))
    return shapes


def _crack(x: float, top: float, bottom: float) -> Line:
    step = (bottom - top) / 4
    points = tuple((x + (0.8 if n % 2 else -0.8), top + n * step) for n in range(5))
    return Line(role=Role.FINDING, part="damage", points=points)


def _bolt_and_washers(arm: ArmAsKnown, at: Detail) -> list[AnyShape]:
    half = 0.5 * arm.sizes["isolator_outer_mm"] * at.scale
    shank = 0.35 * arm.sizes["isolator_inner_mm"] * at.scale
    tall, thin = at.washer - at.head, at.upper - at.washer
    foot = at.bottom + thin
    state = arm.seen.word("isolator_stack")
    missing = state == "washer_missing"
    washer = Role.FINDING if missing else Role.PART if state else Role.UNSEEN
    middle = at.middle
    return [
        block(Role.PART, "bolt", Box(middle - shank, at.washer, middle + shank, foot)),
        block(Role.PART, "bolt", Box(middle - 2 * shank, at.head, middle + 2 * shank, at.washer)),
        block(Role.PART, "bolt", Box(middle - 2 * shank, foot, middle + 2 * shank, foot + tall)),
        block(washer, "washer", Box(middle - half, at.washer, middle + half, at.upper)),
        block(
            Role.PART if state else Role.UNSEEN,
            "washer",
            Box(middle - half, at.bottom, middle + half, foot),
        ),
    ]


def _draw_squeeze(sheet: Sheet, arm: ArmAsKnown, at: Detail) -> None:
    """Draw how thick the lower isolator would be free, and by how much it is squeezed."""
    check = "isolator_squeeze_mm"
    squeeze = arm.seen.number(check)
    x = at.middle - 0.6 * arm.sizes["isolator_outer_mm"] * at.scale - 1.5
    role = Role.FINDING if arm.has_fault(check) else Role.DIMENSION
    free = at.bracket - arm.sizes["isolator_thickness_mm"] * at.scale
    for y in (free, at.lower) if squeeze else (at.lower,):
        sheet.draw(Line(role=Role.DIMENSION, part="edge", points=((x - 2.0, y), (x + 1.5, y))))
    if squeeze:
        points = ((x, free), (x, free + squeeze_drawn(arm) * at.scale))
        sheet.draw(Line(role=role, part="squeeze", points=points))
    words = "not seen" if squeeze is None else in_unit(squeeze, "mm")
    role = Role.UNSEEN if squeeze is None else role
    where = (x - 1.5, at.lower + 3.6)
    lines = ("squeeze", words)
    size = _fitting(lines, where[0] - FRAME.left - 0.5)
    sheet.write(Label(at=where, lines=lines, anchor="end", size=size, role=role, part="squeeze"))


def _draw_misset(sheet: Sheet, arm: ArmAsKnown, at: Detail) -> None:
    """Draw how far the arm's hole stands beside the bracket's, along the shaft."""
    check = "arm_misset_mm"
    misset = arm.seen.number(check)
    role = Role.FINDING if arm.has_fault(check) else Role.DIMENSION
    role = Role.UNSEEN if misset is None else role
    top, foot = at.head - 3.0, at.bottom + (at.upper - at.head) + 2.0
    sheet.draw(
        Line(
            role=Role.CENTRE,
            part="centre of the bracket's hole",
            points=((at.middle, top), (at.middle, foot)),
        )
    )
    if misset:
        x = at.arm_middle
        below = at.lower + 2.0
        sheet.draw(
            Line(role=role, part="centre of the arm's hole", points=((x, top), (x, below))),
            Line(role=role, part="mis-set", points=((at.middle, top), (x, top))),
        )
    words = "mis-set " + ("not seen" if misset is None else in_unit(misset, "mm"))
    sheet.write(
        Label(at=(at.arm_middle + 1.5, top + 0.5), lines=(words,), size=2.6, role=role, part="mis")
    )


def _write_states(sheet: Sheet, arm: ArmAsKnown, at: Detail) -> None:
    """Write beside each isolator whether it turns by hand."""
    states = isolator_states(arm)
    x = at.middle + 0.57 * arm.sizes["isolator_outer_mm"] * at.scale + 1.5
    fault = arm.has_fault("isolators_free")
    missing = arm.seen.word("isolator_stack") == "isolator_missing"
    for n, (words, top, bottom) in enumerate(
        zip(states, (at.upper, at.lower), (at.arm, at.bracket), strict=True)
    ):
        gone = missing and n == 0
        role = Role.FINDING if gone or fault else Role.TEXT
        role = Role.UNSEEN if words == "not seen" and not gone else role
        lines = ("missing",) if gone else (words,)
        y = 0.5 * (top + bottom) + 0.9
        size = _fitting(lines, FRAME.right - 0.5 - x)
        sheet.write(
            Label(at=(x, y), lines=lines, size=size, role=role, part="state of an isolator")
        )


def _fitting(lines: tuple[str, ...], room: float) -> float:
    """Return the size of letters at which lines take no more than their room."""
    return min(2.6, room / (LETTER_WIDTH * max(len(line) for line in lines)))


def isolator_states(arm: ArmAsKnown) -> tuple[str, str]:
    """Say of the upper and the lower isolator whether it turns by hand."""
    free = arm.seen.number("isolators_free")
    if free is None:
        return "not seen", "not seen"
    if free == 1:
        return "1 turns", "1 clamped"
    return ("turns", "turns") if free == 2 else ("clamped", "clamped")
