"""Re-work at the housing, and new parts in it."""

from scoring.contract.action import Action
from scoring.contract.effort import UNCOVERED, UNIT_HANGS, Effort
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
        name="fit_guard",
        does="fit the guard",
        cures=("guard",),
        effort=Effort(hours=2, people=2, parts_cost=200, parts=("guard",)),
    ),
    Action(
        name="renew_seal",
        does="fit a new output seal",
        cures=("seal_weep",),
        renews=(SEAL,),
        effort=Effort(
            hours=6,
            people=2,
            lead_days=5,
            parts_cost=150,
            set_ups=UNCOVERED,
            parts=("output seal",),
            caution="drain the oil below the seal first",
        ),
    ),
    Action(
        name="renew_bearing",
        does="take the unit off and fit new low-speed bearings and output seal",
        cures=("seal_weep",),
        renews=(BEARING, SEAL),
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
