"""Re-work at the shaft, its key, and what holds the unit along it."""

from scoring.contract.action import Action
from scoring.contract.effort import UNCOVERED, UNIT_HANGS, WRENCH, Effort

SHAFT_ACTIONS: tuple[Action, ...] = (
    Action(
        name="true_shaft",
        does="take the unit off and true the shaft where it sits",
        cures=("shaft_runout_mm",),
        off_shaft=True,
        effort=Effort(
            hours=12,
            people=2,
            who="machinist",
            lead_days=3,
            parts_cost=600,
            tools=("dial indicator",),
            caution=UNIT_HANGS,
        ),
    ),
    Action(
        name="renew_shaft",
        does="take the unit off and fit a shaft of the right length and size",
        cures=(
            "shaft_runout_mm",
            "engagement_mm",
            "shaft_end",
            "shaft_diameter_measured_mm",
            "shaft_seat",
            "witness_mark",
        ),
        cures_damage=("engagement_mm", "shaft_end", "shaft_seat", "witness_mark"),
        off_shaft=True,
        effort=Effort(
            hours=16,
            people=3,
            lead_days=28,
            parts_cost=2500,
            parts=("shaft of the right length and size",),
            caution=UNIT_HANGS,
        ),
    ),
    Action(
        name="renew_key",
        does="take the unit off and fit the right key in both keyways",
        cures=("key_condition",),
        off_shaft=True,
        effort=Effort(
            hours=3,
            people=2,
            lead_days=2,
            parts_cost=60,
            parts=("key of the right size and length",),
            caution=UNIT_HANGS,
        ),
    ),
    Action(
        name="tighten_retention",
        does="fit and tighten the axial collar or retaining screw",
        cures=("retention",),
        parts_where=(("retention", "missing"),),
        effort=Effort(
            hours=1,
            people=1,
            lead_days=3,
            parts_cost=20,
            set_ups=UNCOVERED,
            tools=WRENCH,
            parts=("axial collar or retaining screw, where it is missing",),
        ),
    ),
)
