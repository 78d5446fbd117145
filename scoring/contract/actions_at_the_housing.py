"""Re-work at the housing, and new parts in it."""

from scoring.contract.action import Action
from scoring.contract.details import OUTBOARD
from scoring.contract.effort import UNIT_HANGS, Effort
from scoring.contract.parts import BEARING, SEAL

HOUSING_ACTIONS: tuple[Action, ...] = (
    Action(
        name="open_breather",
        does="clean or fit the breather",
        cures=("breather",),
        effort=Effort(
            hours=0.5,
            people=1,
            parts_cost=10,
            parts=("breather",),
            caution="the housing may be under pressure, and hot",
        ),
    ),
    Action(
        name="correct_oil_level",
        does="bring the oil to its level mark",
        cures=("oil_level",),
        effort=Effort(
            hours=0.5,
            people=1,
            parts_cost=20,
            parts=("oil of the kind that is in it",),
            caution="hot oil",
        ),
    ),
    Action(
        name="change_oil",
        does="drain the oil, flush, and fill the kind that the manual states to its level mark",
        cures=("oil_condition", "oil_level"),
        effort=Effort(
            hours=3,
            people=1,
            parts_cost=120,
            parts=("oil of the kind that the unit's own manual states",),
            caution="hot oil",
        ),
    ),
    Action(
        name="move_plugs",
        does="move breather, level plug and drain plug to where this mounting position wants them",
        cures=("mounting_position",),
        effort=Effort(
            hours=1.5,
            people=1,
            parts_cost=10,
            parts=("sealing rings of the plugs",),
            caution="hot oil runs out: drain it first, and set its level anew afterwards",
        ),
    ),
    Action(
        name="turn_backstop",
        does="turn the backstop round, and prove its direction with the motor uncoupled",
        cures=("backstop_direction",),
        effort=Effort(
            hours=4,
            people=2,
            tools=("puller",),
            caution="nothing else holds a loaded incline: secure the belt before it is opened",
        ),
    ),
    Action(
        name="fit_guard",
        does="fit the guard",
        cures=("guard",),
        effort=Effort(hours=2, people=2, parts_cost=200, parts=("guard",)),
    ),
    Action(
        name="renew_seal",
        does="take the unit off, unless it is the outboard seal alone, and fit a new output seal",
        cures=("seal_weep", "seal_lip"),
        renews=(SEAL,),
        off_shaft=True,
        on_shaft_for=OUTBOARD,
        effort=Effort(
            hours=6,
            people=2,
            lead_days=5,
            parts_cost=150,
            parts=("output seal",),
            caution=f"drain the oil below the seal first; {UNIT_HANGS}",
        ),
    ),
    Action(
        name="renew_bearing",
        does="take the unit off and fit new low-speed bearings and output seal",
        cures=("seal_weep", "seal_lip", "oil_condition"),
        renews=(BEARING, SEAL),
        cures_damage=("oil_condition",),
        off_shaft=True,
        effort=Effort(
            hours=14,
            people=2,
            who="gearbox fitter",
            lead_days=14,
            parts_cost=2000,
            parts=("low-speed bearings", "output seal", "oil"),
            caution=UNIT_HANGS,
        ),
    ),
)
