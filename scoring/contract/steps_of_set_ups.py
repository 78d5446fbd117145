"""The steps of the work around the work: stop, uncover, hold the weight, take off and hang again.

All of it is common practice, no source; a value, such as a torque, is never among them.
"""

from collections.abc import Mapping

from scoring.contract.effort import GUARD_OFF, LIFTING, LOCK_OUT, OFF_AND_ON
from scoring.contract.mountings import (
    CLAMPED,
    KEYED_BORE,
    SHRINK_DISC_SUPPORT_BUSHINGS,
    SHRINK_DISCS,
    TAPERED_BUSHING,
)
from scoring.contract.step_of_work import Step, When

_KEYED, _TAPERED = (KEYED_BORE,), (TAPERED_BUSHING,)
_BUSHINGS = (SHRINK_DISC_SUPPORT_BUSHINGS,)

LOAD_BLOCKED = Step(When.OPEN, "block the load before anything that holds it is eased")

TIGHTENED_IN_PASSES: tuple[Step, ...] = (
    Step(When.TIGHTEN, "bring the clamp screws home evenly, hand-tight all round", CLAMPED),
    Step(
        When.TIGHTEN,
        "tighten with the torque wrench in rising passes: order and torques of the pass table",
        CLAMPED,
    ),
    Step(
        When.TIGHTEN,
        "go round again at the final torque until no screw turns; write the torque down",
        CLAMPED,
    ),
)
"""How the screws of a clamped joint are brought to their torque."""

ANCHORED: tuple[Step, ...] = (
    Step(
        When.ARM,
        "anchor the arm: bolt, washer, isolator, arm, isolator, structure, washer, nut; no metal "
        "touches metal",
    ),
    Step(When.ARM, "tighten so far that one of the two isolators still turns by hand"),
)
"""How the torque arm is anchored so that the unit floats."""

STEPS_OF_SET_UPS: Mapping[str, tuple[Step, ...]] = {
    LOCK_OUT.name: (
        Step(When.STOP, "tell who runs the conveyor; stop it and its drive"),
        Step(
            When.STOP,
            "lock out and tag out, each person with a lock of their own; try to start: nothing "
            "moves",
        ),
        Step(
            When.STOP,
            "secure stored energy: belt take-up slack or blocked, roll-back held by backstop and "
            "brake",
        ),
        Step(When.START, "tools away, people clear; each person takes their own lock off"),
        Step(
            When.START,
            "start as the unit's manual states; in the first minutes look for touching, leaks, "
            "noise and heat",
        ),
    ),
    GUARD_OFF.name: (
        Step(When.OPEN, "take guard or cover off, keep its screws together"),
        Step(When.CLOSE, "fit guard and cover again, with all their screws"),
    ),
    LIFTING.name: (
        Step(
            When.TAKE_THE_WEIGHT,
            "rig the crane at the lifting points that the manual names; slings looked at, weight "
            "known",
        ),
        Step(When.TAKE_THE_WEIGHT, "take up the weight of the unit and no more; nobody below it"),
        Step(When.LET_GO, "let the crane go only once the joint holds and the arm is anchored"),
    ),
    OFF_AND_ON.name: (
        LOAD_BLOCKED,
        Step(When.TAKE_OFF, "mark and photograph how unit, key and arm sit"),
        Step(
            When.TAKE_OFF,
            "ease the clamp screws evenly, in steps, all round; none comes out while others are "
            "tight",
            CLAMPED,
        ),
        Step(When.TAKE_OFF, "take off what holds the unit along the shaft", _KEYED),
        Step(When.TAKE_OFF, "undo the anchor of the torque arm, the load blocked"),
        Step(
            When.TAKE_OFF,
            "draw the unit off with the crane following; set it down so that it cannot tip",
        ),
        Step(When.BARE, "look at bore, shaft and seats in good light; write down what is found"),
        Step(
            When.HANG,
            "wipe bore, shaft and seats clean and dry; nothing on a surface that grips by friction",
            CLAMPED,
        ),
        Step(When.HANG, "wipe bore, shaft and both keyways clean", _KEYED),
        Step(When.HANG, "put the right key into both keyways", _KEYED),
        Step(
            When.HANG,
            "guard plate first, then the disc on its hub extension, its screws loose",
            SHRINK_DISCS,
        ),
        Step(When.HANG, "set the inner support bushing level in its bore", _BUSHINGS),
        Step(
            When.HANG,
            "set the gap between bushing flange and thrust collar, where there is a collar",
            _TAPERED,
        ),
        Step(
            When.HANG,
            "push the unit fully home, against shoulder or collar; measure how far the shaft "
            "reaches",
        ),
        Step(When.JOINT, "fit and tighten what holds the unit along the shaft", _KEYED),
        Step(When.JOINT, "check the gap at the collar again: it tends to move", _TAPERED),
        Step(
            When.JOINT,
            "tighten the rear locking collar with the torque wrench; seat the outer bushing "
            "against the hub end",
            _BUSHINGS,
        ),
        Step(When.JOINT, "centre the disc on its hub extension", SHRINK_DISCS),
        *TIGHTENED_IN_PASSES,
        *ANCHORED,
        Step(When.LAST_LOOK, "see that nothing touches through a full turn: housing, motor, arm"),
        Step(When.LAST_LOOK, "see that oil is at its level mark and the breather open"),
    ),
}
"""What is done before and after, by the name of the set-up."""
