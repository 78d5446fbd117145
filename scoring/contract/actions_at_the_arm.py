"""Re-work at the torque arm and its anchor."""

from scoring.contract.action import Action
from scoring.contract.effort import ARM_IS_LOADED, WRENCH, Effort

_ISOLATORS = ("isolators_free", "isolator_squeeze_mm")

ARM_ACTIONS: tuple[Action, ...] = (
    Action(
        name="back_off_isolators",
        does="back off the anchor nut until one isolator turns by hand",
        cures=_ISOLATORS,
        effort=Effort(
            hours=1, people=1, tools=("wrench for the anchor nut",), caution=ARM_IS_LOADED
        ),
    ),
    Action(
        name="replace_isolators",
        does="fit new isolators and washers, clamped so that one turns by hand",
        cures=(*_ISOLATORS, "isolator_stack"),
        effort=Effort(
            hours=3,
            people=2,
            lead_days=7,
            parts_cost=120,
            tools=("wrench for the anchor nut", "sling to hold the arm"),
            parts=("isolators and washers",),
            caution=ARM_IS_LOADED,
        ),
    ),
    Action(
        name="restore_isolation",
        does="rebuild the anchor joint so that no metal touches metal",
        cures=("metal_contact", "isolator_stack"),
        effort=Effort(
            hours=4,
            people=2,
            lead_days=7,
            parts_cost=150,
            tools=("wrench for the anchor nut", "sling to hold the arm"),
            parts=("washers, sleeve or isolators as found",),
            caution=ARM_IS_LOADED,
        ),
    ),
    Action(
        name="restore_clearance",
        does="clear what arm, housing, motor or guard can touch in a full turn",
        cures=("metal_contact", "smallest_clearance_mm"),
        effort=Effort(
            hours=4,
            people=2,
            parts_cost=50,
            tools=("cutting and welding tools",),
            caution="hot work: permit, and no current through the unit's bearings",
        ),
    ),
    Action(
        name="realign_arm",
        does="bring arm and anchor into one plane and the arm square to its link",
        cures=("arm_misset_mm", "arm_angle_deg"),
        effort=Effort(hours=4, people=2, tools=("straight edge", "shims"), caution=ARM_IS_LOADED),
    ),
    Action(
        name="tighten_arm_bolts",
        does="fit and tighten the bolts of the torque arm",
        cures=("arm_bolts",),
        parts_where=(("arm_bolts", "missing"),),
        effort=Effort(
            hours=1,
            people=1,
            lead_days=2,
            parts_cost=10,
            tools=WRENCH,
            parts=("bolts and lock washers, where one is missing",),
            caution=ARM_IS_LOADED,
        ),
    ),
)
