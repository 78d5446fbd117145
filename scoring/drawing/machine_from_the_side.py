"""A shaft-mounted reducer seen from the side, as a sketch: what is where, not how large."""

from scoring.contract.mountings import CLAMPED, KEYED_BORE, TAPERED_BUSHING
from scoring.drawing.shapes import AnyShape, Circle, Label, Line, Point, Polygon, Role

_SHAFT_Y = 42.0


def machine_from_the_side(mounting: str) -> tuple[AnyShape, ...]:
    """Return the sketch of a unit of a mounting, on 120 by 95 mm of paper.

    Parameters
    ----------
    mounting : str
        How the unit holds its shaft.

    Returns
    -------
    tuple of shapes
        Pulley left, drive end right, torque arm down to its anchor.

    Examples
    --------
    >>> {shape.part for shape in machine_from_the_side("keyed_bore")} >= {"breather", "seal"}
    True
    """
    return (*_conveyor(), *_unit(), *_hold_on_the_shaft(mounting), *_torque_arm(), *_names())


def _block(role: Role, part: str, corner: Point, opposite: Point, *, cut: bool = False) -> Polygon:
    (left, top), (right, bottom) = corner, opposite
    points = ((left, top), (right, top), (right, bottom), (left, bottom))
    return Polygon(role=role, part=part, points=points, cut=cut)


def _conveyor() -> tuple[AnyShape, ...]:
    return (
        _block(Role.GROUND, "ground", (4, 91), (116, 94), cut=True),
        _block(Role.GROUND, "frame", (31, 49), (41, 91)),
        _block(Role.SHAFT, "shaft", (4, 38), (94, 46)),
        _block(Role.PART, "pulley", (7, 18), (27, 66)),
        _block(Role.PART, "support bearing", (31, 35), (41, 49)),
        Line(role=Role.CENTRE, part="shaft", points=((3, _SHAFT_Y), (104, _SHAFT_Y))),
    )


def _unit() -> tuple[AnyShape, ...]:
    return (
        _block(Role.PART, "motor bracket", (68, 19), (91, 21)),
        _block(Role.PART, "motor", (66, 7), (93, 19)),
        _block(Role.SHAFT, "input shaft", (84, 28), (100, 31)),
        _block(Role.SHAFT, "motor shaft", (93, 12), (100, 15)),
        _block(Role.PART, "guard", (97, 10), (104, 34)),
        _block(Role.HOUSING, "housing", (54, 23), (85, 61)),
        _block(Role.PART, "hub", (50.5, 34.5), (54, 49.5)),
        _block(Role.SEAL, "seal", (52, 34.5), (54, 38)),
        _block(Role.SEAL, "seal", (52, 46), (54, 49.5)),
        _block(Role.BEARING, "low-speed bearing", (56, 33), (61, 38)),
        _block(Role.BEARING, "low-speed bearing", (56, 46), (61, 51)),
        _block(Role.PART, "breather", (57, 19), (60, 23)),
        _block(Role.PART, "breather", (55.8, 17), (61.2, 19)),
        Circle(role=Role.BEARING, part="sight glass", centre=(77, 41), radius=2.4),
        Line(role=Role.QUIET, part="sight glass", points=((74.8, 41.3), (79.2, 41.3))),
    )


def _hold_on_the_shaft(mounting: str) -> tuple[AnyShape, ...]:
    """Return what is seen of the joint at the drive end."""
    if mounting == KEYED_BORE:
        return (
            _block(Role.PART, "hub", (85, 34.5), (88, 49.5)),
            _block(Role.PART, "axial retention", (94, 35.5), (96, 48.5)),
            *_screws(96, (42,)),
        )
    if mounting == TAPERED_BUSHING:
        return (
            _block(Role.PART, "hub", (85, 34.5), (88, 49.5)),
            _block(Role.PART, "bushing flange", (88, 32.5), (91, 51.5)),
            *_screws(91, (35, 49)),
        )
    assert mounting in CLAMPED, mounting  # noqa: S101 - the contract knows four mountings
    return (
        _block(Role.PART, "hub", (85, 35.5), (94, 48.5)),
        _block(Role.PART, "shrink disc", (87, 31), (89.2, 53)),
        _block(Role.PART, "shrink disc", (89.8, 31), (92, 53)),
        *_screws(92, (33.5, 50.5)),
    )


def _screws(x: float, heights: tuple[float, ...]) -> tuple[AnyShape, ...]:
    return tuple(_block(Role.PART, "screw", (x, y - 1.3), (x + 1.6, y + 1.3)) for y in heights)


def _torque_arm() -> tuple[AnyShape, ...]:
    """Return the arm and its joint: washer, rubber, structure, rubber, washer, nut."""
    x = 69.5
    return (
        _block(Role.PART, "torque arm", (x - 4, 57), (x + 4, 63)),
        _block(Role.PART, "arm bolt", (x - 3.2, 58.2), (x - 1.6, 59.8)),
        _block(Role.PART, "arm bolt", (x + 1.6, 58.2), (x + 3.2, 59.8)),
        _block(Role.PART, "torque arm", (x - 2, 63), (x + 2, 73)),
        _block(Role.GROUND, "anchor", (x - 14, 80), (x - 11, 91)),
        _block(Role.PART, "anchor bolt", (x - 0.9, 73), (x + 0.9, 87.6)),
        _block(Role.PART, "washer", (x - 5, 73), (x + 5, 74)),
        _block(Role.RUBBER, "isolator", (x - 4, 74), (x + 4, 78)),
        _block(Role.GROUND, "anchor", (x - 14, 78), (x + 9, 80)),
        _block(Role.RUBBER, "isolator", (x - 4, 80), (x + 4, 84)),
        _block(Role.PART, "washer", (x - 5, 84), (x + 5, 85)),
        _block(Role.PART, "nut", (x - 2, 85), (x + 2, 87)),
    )


def _names() -> tuple[AnyShape, ...]:
    named: tuple[tuple[Point, str, tuple[str, ...]], ...] = (
        ((17, 31), "middle", ("pulley",)),
        ((36, 29.5), "middle", ("support", "bearing")),
        ((79.5, 14), "middle", ("motor",)),
        ((100.5, 9), "middle", ("guard",)),
        ((58.5, 15), "middle", ("breather",)),
        ((53.4, 32.6), "end", ("seal",)),
        ((62, 35), "start", ("low-speed", "bearing")),
        ((77, 47.5), "middle", ("sight glass",)),
        ((58, 69), "middle", ("torque arm",)),
        ((76, 87.2), "start", ("anchor",)),
    )
    return tuple(
        Label(role=Role.QUIET, part="name", at=at, lines=lines, anchor=anchor, size=2.8)
        for at, anchor, lines in named
    )
