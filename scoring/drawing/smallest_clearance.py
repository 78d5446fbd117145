"""The smallest clearance of a unit, drawn larger: housing or motor above, what is nearest below."""

from dataclasses import dataclass

from scoring.drawing.paper_scale import largest_scale, scale_words
from scoring.drawing.shapes import LETTER_WIDTH, Box, Label, Line, Role
from scoring.drawing.sheet import Sheet
from scoring.drawing.torque_arm_elevation import block
from scoring.drawing.torque_arm_known import ArmAsKnown
from scoring.drawing.what_was_seen import in_unit

PANEL = Box(3.0, 86.0, 56.0, 108.0)
"""Where it stands on the paper. [mm]"""

_FACE = 92.0
_RIGHT = 24.0
_CHECK = "smallest_clearance_mm"


@dataclass(frozen=True)
class Clearance:
    """Where it lies on the paper.

    Attributes
    ----------
    scale : float
        Paper over machine. [-]
    face, other : float
        Height of the unit's face, and of what is nearest to it. [mm]
    """

    scale: float
    face: float
    other: float


def lay_out_clearance(arm: ArmAsKnown) -> Clearance:
    """Find the largest scale at which clearance and required clearance can be drawn."""
    required = arm.required[_CHECK]
    clearance = arm.seen.number(_CHECK)
    gap = required if clearance is None else clearance
    if arm.seen.word("metal_contact") == "yes" and clearance is None:
        gap = 0.0
    scale = largest_scale(lambda scale: max(gap, required) * scale <= 9.0, largest=2.0)
    return Clearance(scale, _FACE, _FACE + gap * scale)


def draw_clearance(sheet: Sheet, arm: ArmAsKnown, at: Clearance) -> None:
    """Draw the clearance beside the required one."""
    seen = arm.seen.number(_CHECK) is not None
    contact = arm.seen.word("metal_contact")
    fault = arm.has_fault(_CHECK) or arm.has_fault("metal_contact")
    nearest = Role.GROUND if seen or contact == "yes" else Role.UNSEEN
    required = at.face + arm.required[_CHECK] * at.scale
    left, bottom = PANEL.left + 8.0, at.other + 4.4
    sheet.draw(
        block(Role.HOUSING, "face of the unit", Box(left, at.face - 4.0, _RIGHT, at.face)),
        block(nearest, "nearest thing", Box(left, at.other, _RIGHT, bottom), cut=seen),
        Line(
            role=Role.REQUIRED,
            part="required clearance",
            points=((left, required), (_RIGHT + 3.0, required)),
        ),
    )
    middle = 0.5 * (left + _RIGHT)
    if seen and at.other > at.face:
        role = Role.FINDING if fault else Role.DIMENSION
        points = ((middle, at.face), (middle, at.other))
        long = at.other - at.face > 7.0
        sheet.draw(Line(role=role, part="clearance", points=points, head=long, tail=long))
    role = Role.FINDING if arm.has_fault(_CHECK) else Role.TEXT if seen else Role.UNSEEN
    metal = Role.FINDING if contact == "yes" else Role.TEXT if contact else Role.UNSEEN
    least = f"at least {in_unit(arm.required[_CHECK], 'mm')}"
    for x, y, words, said in (
        (_RIGHT + 4.0, 89.0, "smallest clearance", role),
        (_RIGHT + 4.0, 92.9, arm.seen.words(_CHECK), role),
        (_RIGHT + 4.0, 96.8, least, Role.REQUIRED),
        (_RIGHT + 4.0, 100.7, f"drawn {scale_words(at.scale)}", Role.QUIET),
        (_RIGHT + 4.0, 104.6, "where: not recorded", Role.QUIET),
        (PANEL.left + 1.0, 108.3, f"metal to metal: {arm.seen.words('metal_contact')}", metal),
    ):
        size = min(2.6, (PANEL.right + 3.0 - x) / (LETTER_WIDTH * len(words)))
        sheet.write(Label(at=(x, y), lines=(words,), size=size, role=said))
