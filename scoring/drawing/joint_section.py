"""The joint of one unit in section, to scale: shaft, hub, what holds it, and what was found."""

from collections.abc import Callable

from scoring.assessment import Assessment
from scoring.contract.mountings import (
    KEYED_BORE,
    SHRINK_DISC,
    SHRINK_DISC_SUPPORT_BUSHINGS,
    TAPERED_BUSHING,
)
from scoring.drawing import (
    keyed_bore_section,
    shrink_disc_section,
    support_bushings,
    tapered_bushing_section,
)
from scoring.drawing.callouts import Tied, place_marks, row_of_callouts
from scoring.drawing.dimension_lines import Rows, scale_bar
from scoring.drawing.driven_shaft import add_shaft, shoulder_radius
from scoring.drawing.joint_found import JointFound
from scoring.drawing.joint_sizes import joint_sizes
from scoring.drawing.numbered_findings import NumberedFinding, numbered_findings
from scoring.drawing.reducer_around_joint import add_reducer
from scoring.drawing.section import Callout, Scale, Section
from scoring.drawing.shapes import LETTER_WIDTH, AnyShape, Box, Label, Line, Picture, Role
from scoring.rules.slip import SLIP_RULE

CHECKS_OF_THE_JOINT = frozenset(
    {
        "bore_condition",
        "clamp_seat_condition",
        "seated",
        "support_bushings",
        "engagement_mm",
        "shaft_end",
        "shaft_diameter_measured_mm",
        "shaft_runout_mm",
        "key_condition",
        "retention",
        "torque_passes",
        "tightening_order",
        "final_torque_nm",
        "screws_low",
        "collar_gap_mm",
        "disc_offset_mm",
        "screws_missing",
        "screws_rechecked",
        "witness_mark",
        "shaft_seat",
        "mounting_position",
        "oil_condition",
        "seal_lip",
        "backstop_direction",
        SLIP_RULE.check,
        "breather",
        "oil_level",
        "running_temperature_c",
        "vibration_mm_s",
        "seal_weep",
    }
)
"""Checks whose findings are marked in this picture, and in no other."""

WIDTH, HEIGHT = 180.0, 110.0
"""The paper. [mm]"""

MACHINE = Box(8.0, 20.0, 172.0, 72.0)
MARKS = Box(2.0, 16.5, 178.0, 73.0)
WORDS = Box(3.0, 2.0, 177.0, 108.0)
"""Where the machine, the marks and the words stand on the paper. [mm]"""

DIMENSIONS = Box(3.0, 73.0, 177.0, 87.0)
ABOVE, BELOW, FOOT = 15.5, 90.5, 106.0
"""Rows of dimensions; lower edge of the words above, top of the words below, foot. [mm]"""

_MOUNTINGS: dict[str, tuple[str, Callable[[Section], None], Callable[[Section], None]]] = {
    KEYED_BORE: ("keyed bore", keyed_bore_section.add_hub, keyed_bore_section.add_joint),
    TAPERED_BUSHING: (
        "tapered bushing",
        tapered_bushing_section.add_hub,
        tapered_bushing_section.add_joint,
    ),
    SHRINK_DISC: ("shrink disc", shrink_disc_section.add_hub, shrink_disc_section.add_joint),
    SHRINK_DISC_SUPPORT_BUSHINGS: (
        "shrink disc with support bushings",
        support_bushings.add_hub,
        support_bushings.add_joint,
    ),
}


def draw_joint(assessment: Assessment, unit_id: str) -> Picture:
    """Draw the joint of a unit in section, to scale.

    Parameters
    ----------
    assessment : Assessment
        What is said of the fleet.
    unit_id : str
        The unit.

    Returns
    -------
    Picture
        In mm of paper; what was exaggerated or assumed is in its notes.

    Raises
    ------
    FixableError
        If no unit of that id is in service.

    Notes
    -----
    What was not seen is drawn as if it were good, dashed, with the words *not seen*; what is
    missing is an empty outline. Only lengths that are written down are measured; others are as
    usual for such a shaft.
    """
    found = JointFound(assessment, assessment.place_of(unit_id))
    section = Section(joint_sizes(found), found)
    name, add_hub, add_joint = _MOUNTINGS[section.sizes.mounting]
    add_reducer(section)
    add_hub(section)
    add_shaft(section)
    add_joint(section)
    box = section.box
    over = 0.12 * section.sizes.shaft
    section.line("centre_line", Role.CENTRE, (box.left - over, 0.0), (box.right + over, 0.0))
    findings = [
        finding
        for finding in numbered_findings(assessment, unit_id)
        if finding.check in CHECKS_OF_THE_JOINT
    ]
    return Picture(
        title=f"The joint of {unit_id} in section: {name}",
        description=_description(section, name, findings),
        width=WIDTH,
        height=HEIGHT,
        shapes=_on_paper(section, findings),
        notes=_notes(section),
    )


def _on_paper(section: Section, findings: list[NumberedFinding]) -> tuple[AnyShape, ...]:
    scale = Scale.to_fit(section.box, MACHINE)
    machine: list[AnyShape] = [scale.shape(shape) for shape in section.shapes]
    crossed = tuple(scale.point(one.at)[0] for one in section.callouts if one.below)
    words = [
        *_callouts(section, scale, below=False),
        *_callouts(section, scale, below=True),
        *Rows(section, scale, DIMENSIONS, crossed).draw(),
        *scale_bar(scale, WORDS.left + 1, FOOT),
        *_key_to_lines(),
        *_to_conveyor(section, scale),
    ]
    taken = [shape.box for shape in words if isinstance(shape, Label)]
    places = {check: scale.point(at) for check, at in section.places.items()}
    return (*machine, *words, *place_marks(findings, places, MARKS, taken))


def _callouts(section: Section, scale: Scale, *, below: bool) -> list[AnyShape]:
    tied = [
        Tied(one.lines, scale.point(one.at), _role(section, one))
        for one in section.callouts
        if one.below == below
    ]
    edge = BELOW if below else ABOVE
    return row_of_callouts(tied, WORDS.left, WORDS.right, edge, below=below)


def _role(section: Section, callout: Callout) -> Role:
    """Return alarm where something bad was seen, quiet where nothing was seen."""
    found = section.found
    if any(found.seen(check) and found.bad(check) for check in callout.checks):
        return Role.FINDING
    if any(found.seen(check) for check in callout.checks):
        return Role.TEXT
    return Role.UNSEEN


def _key_to_lines() -> list[AnyShape]:
    text = "dashed: not seen, drawn as good"
    right = WORDS.right - 1
    left = right - len(text) * 3.0 * LETTER_WIDTH
    return [
        Line(role=Role.UNSEEN, part="not_seen", points=((left - 12, FOOT), (left - 2, FOOT))),
        Label(at=(left, FOOT + 1), lines=(text,), size=3.0, role=Role.UNSEEN, part="not_seen"),
    ]


def _to_conveyor(section: Section, scale: Scale) -> list[AnyShape]:
    """Say over the broken shaft where the conveyor is."""
    left, top = scale.point((section.box.left, 1.25 * shoulder_radius(section)))
    y = min(top - 1.5, scale.origin[1] - 5)
    arrow = Line(
        role=Role.DIMENSION, part="conveyor", points=((left + 12, y), (left, y)), head=True
    )
    words = Label(
        at=(left, y - 1.4), lines=("conveyor",), size=3.0, role=Role.DIMENSION, part="conveyor"
    )
    return [arrow, words]


def _notes(section: Section) -> tuple[str, ...]:
    scale = Scale.to_fit(section.box, MACHINE)
    return (
        f"scale: 1 mm on paper {WIDTH:g} mm wide is {1 / scale.per_mm:.3g} mm",
        *dict.fromkeys(section.notes),
        "sizes assumed: " + "; ".join(section.sizes.assumed),
    )


def _description(section: Section, name: str, findings: list[NumberedFinding]) -> str:
    s, found = section.sizes, section.found
    asked = "no length is stated" if s.required is None else f"{s.required:.4g} mm are asked for"
    in_bore = (
        f"{s.engaged:.4g} mm of it are in the bore"
        if found.seen("engagement_mm")
        else f"the length in the bore was {found.said('engagement_mm')}"
    )
    said = [
        f"Section through the joint of a reducer on a shaft of {s.shaft:.5g} mm, a {name}.",
        f"The conveyor is on the left. {_sentence(f'{in_bore}; {asked}')}",
        *(_sentence(", ".join(callout.lines)) for callout in section.callouts),
        *(f"Mark {finding.number}: {finding.words}." for finding in findings),
    ]
    return " ".join(said)


def _sentence(words: str) -> str:
    return f"{words[0].upper()}{words[1:]}."
