"""The picture of the torque arm in words: its description, and what must be said beside it."""

from scoring.drawing.anchor_joint_detail import MOST_SQUEEZE, Detail, isolator_states
from scoring.drawing.paper_scale import scale_words
from scoring.drawing.torque_arm_known import LOADS, SIZES, ArmAsKnown, force_words
from scoring.drawing.torque_arm_layout import Elevation
from scoring.drawing.what_was_seen import in_unit


def describe(arm: ArmAsKnown, at: Elevation, detail: Detail) -> str:
    """Say what one would tell a person who cannot see the picture."""
    seen = arm.seen
    upper, lower = isolator_states(arm)
    found = "; ".join(f"{finding.number}, {finding.words}" for finding in arm.findings)
    return (
        f"Torque arm of {in_unit(arm.sizes['arm_length_mm'], 'mm')} at {scale_words(at.scale)}, "
        f"angle at the anchor {arm.with_limit('arm_angle_deg')}. "
        f"Arm bolts: {seen.words('arm_bolts')}. Guard: {seen.words('guard')}. "
        f"Anchor joint at {scale_words(detail.scale)}: {seen.words('isolator_stack')}; "
        f"isolators that turn by hand: {upper}, {lower}; "
        f"squeeze {arm.with_limit('isolator_squeeze_mm')}; "
        f"mis-set {arm.with_limit('arm_misset_mm')}. "
        f"Smallest clearance {arm.with_limit('smallest_clearance_mm')}; "
        f"metal to metal: {seen.words('metal_contact')}. "
        f"Reaction at the anchor {force_words(arm.reaction)}; expected load that the arm adds to "
        f"one low-speed bearing {force_words(arm.added)}, to the {force_words(arm.floating)} of "
        f"the one that carries more when the unit floats. Findings marked: {found or 'none'}."
    )


def notes_of(arm: ArmAsKnown, detail: Detail) -> tuple[str, ...]:
    """Say what was assumed, and what is not recorded."""
    notes = [
        (
            "Housing, bolts, washers, plates and bracket are drawn in proportion; their sizes are "
            "not recorded. Which way the shaft turns is not recorded: the reaction may point down."
        ),
        "The load added to a bearing is the mean over what was not measured or not seen.",
        "To which side the arm is mis-set is not recorded.",
        (
            f"Detail at {scale_words(detail.scale)}: mis-set and squeeze are not drawn larger than "
            "the joint; each isolator is drawn squeezed as the one that was measured."
        ),
    ]
    named = SIZES | LOADS
    if arm.assumed:
        assumed = ", ".join(words for column, words in named.items() if column in arm.assumed)
        notes.append(f"Sizes assumed: {assumed}.")
    if arm.seen.number("arm_angle_deg") is None:
        notes.append("Angle not seen: drawn square.")
    squeeze = arm.seen.number("isolator_squeeze_mm") or 0.0
    if squeeze > MOST_SQUEEZE * arm.sizes["isolator_thickness_mm"]:
        notes.append(f"More squeeze than rubber can bear: drawn at {MOST_SQUEEZE:.0%}.")
    if arm.seen.number("isolators_free") == 1:
        notes.append("Which of the isolators turns is not recorded.")
    if arm.seen.word("isolator_stack") not in (None, "complete"):
        notes.append("Which isolator or washer it is, is not recorded.")
    return tuple(notes)
