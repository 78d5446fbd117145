"""The shaft itself, in walking order."""

from scoring.contract.declaration import About, Kind, Seen, Worse
from scoring.contract.places_to_look import BORE
from scoring.contract.plausible import Bound, Plausible
from scoring.contract.what_a_check_is import Check

SHAFT_CHECKS: tuple[Check, ...] = (
    Check(
        name="shaft_diameter_measured_mm",
        label="measured shaft diameter",
        about=About.SHAFT,
        seen=Seen.HANGING,
        kind=Kind.NUMBER,
        unit="mm",
        worse=Worse.OUTSIDE_RANGE,
        minimum=5,
        maximum=2000,
        how_to_look="micrometer at three places and two angles; write down the smallest",
        good="within the limits of the shaft's tolerance",
        place=BORE,
        plausible=Plausible(
            low=Bound(of="shaft_diameter_mm", plus=-1), high=Bound(of="shaft_diameter_mm", plus=1)
        ),
        beside="shaft_diameter_mm",
    ),
    Check(
        name="shaft_seat",
        label="seat on the shaft",
        about=About.SHAFT,
        seen=Seen.HANGING,
        options={
            "sound": "sound",
            "fretted": "fretted: red or black dust, pitted",
            "worn": "worn: a step to be felt",
        },
        optional=True,
        how_to_look="wipe the shaft where the joint sits; look for fretting, feel for a step",
        good="sound, without rust dust, pits or a step",
        damage_from="worn",
        minutes=3,
        place=BORE,
    ),
    Check(
        name="shaft_runout_mm",
        label="shaft run-out",
        about=About.SHAFT,
        seen=Seen.STOPPED,
        kind=Kind.NUMBER,
        unit="mm",
        worse=Worse.MORE,
        minimum=0,
        maximum=100,
        how_to_look="dial indicator on the shaft at the unit, one full turn by hand, total reading",
        good="small; the seal bears little",
        minutes=15,
        behind_guard=True,
        plausible=Plausible(high=Bound(fixed=3)),
    ),
)
