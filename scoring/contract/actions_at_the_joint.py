"""Re-work at the joint between unit and shaft."""

from scoring.contract.action import Action
from scoring.contract.effort import JOINT_IS_LOADED, UNCOVERED, UNIT_HANGS, WRENCH, Effort
from scoring.contract.mountings import SHRINK_DISC_SUPPORT_BUSHINGS

_SEATED = ("seated", "engagement_mm", "shaft_end", "support_bushings")
_RETORQUE = ("retorque_in_passes",)

JOINT_ACTIONS: tuple[Action, ...] = (
    Action(
        name="reseat_on_shaft",
        does="take the unit off and push it fully home",
        cures=_SEATED,
        off_shaft=True,
        effort=Effort(hours=4, people=2, caution=UNIT_HANGS),
    ),
    Action(
        name="renew_support_bushings",
        does="take the unit off and fit both support bushings",
        cures=_SEATED,
        cures_damage=("support_bushings",),
        off_shaft=True,
        only_on=(SHRINK_DISC_SUPPORT_BUSHINGS,),
        effort=Effort(
            hours=4,
            people=2,
            lead_days=21,
            parts_cost=400,
            parts=("both support bushings",),
            caution=UNIT_HANGS,
        ),
    ),
    Action(
        name="exchange_unit",
        does="take the unit off and hang one whose bore and hub suit the length of the shaft",
        cures=("engagement_mm", "shaft_end"),
        cures_damage=("engagement_mm", "shaft_end"),
        off_shaft=True,
        effort=Effort(
            hours=6,
            people=2,
            lead_days=56,
            parts_cost=6000,
            parts=("unit with another bore or hub length",),
            caution=UNIT_HANGS,
        ),
    ),
    Action(
        name="clean_and_refit",
        does="take the unit off, wipe bore, shaft and clamp seat clean and dry, hang it again",
        cures=("bore_condition", "clamp_seat_condition"),
        brings=_RETORQUE,
        off_shaft=True,
        effort=Effort(
            hours=4,
            people=2,
            parts_cost=30,
            tools=("solvent and clean white cloths",),
            caution=UNIT_HANGS,
        ),
    ),
    Action(
        name="retorque_in_passes",
        does="bring the screws to the manual's torque in rising passes, in the right order",
        cures=(
            "torque_passes",
            "tightening_order",
            "final_torque_nm",
            "screws_low",
            "screws_missing",
            "screws_rechecked",
        ),
        parts_where=(("screws_missing", ""),),
        effort=Effort(
            hours=3,
            people=2,
            lead_days=5,
            parts_cost=40,
            set_ups=UNCOVERED,
            tools=WRENCH,
            parts=("clamp screws as the manual states, where one is missing",),
            caution="the final torque is the one that the unit's own manual states",
        ),
    ),
    Action(
        name="reset_collar_gap",
        does="set the gap between bushing flange and thrust collar",
        cures=("collar_gap_mm",),
        brings=_RETORQUE,
        effort=Effort(
            hours=3,
            people=2,
            set_ups=UNCOVERED,
            tools=("feeler gauge",),
            caution=JOINT_IS_LOADED,
        ),
    ),
    Action(
        name="recentre_disc",
        does="centre the disc on its hub extension",
        cures=("disc_offset_mm",),
        brings=_RETORQUE,
        effort=Effort(
            hours=4,
            people=2,
            set_ups=UNCOVERED,
            tools=("steel rule",),
            caution=f"{JOINT_IS_LOADED}; ease the screws evenly, in steps: a disc under tension "
            "can spring off",
        ),
    ),
)
