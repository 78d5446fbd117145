"""The steps of each re-work action itself, beside those of its set-ups.

All of it is common practice, no source; a value, such as a torque, is never among them. The unit's
own manual comes first.
"""

from collections.abc import Mapping

from scoring.contract.mountings import CLAMPED, SHRINK_DISCS, TAPERED_BUSHING
from scoring.contract.step_of_work import Step, When
from scoring.contract.steps_of_set_ups import ANCHORED, LOAD_BLOCKED, TIGHTENED_IN_PASSES

_TAPERED = (TAPERED_BUSHING,)

_ARM: Mapping[str, tuple[Step, ...]] = {
    "back_off_isolators": (
        LOAD_BLOCKED,
        Step(
            When.ARM,
            "ease the anchor nut a little at a time, trying both isolators by hand",
            in_place=True,
        ),
        Step(When.ARM, "stop when one of the two turns by hand, without force; secure the nut"),
    ),
    "replace_isolators": (
        LOAD_BLOCKED,
        Step(When.TAKE_OFF, "hold the arm in a sling; take nut, washers and old isolators out"),
        Step(When.BARE, "look at bolt, hole and bracket: straight, round, no cracks"),
        *ANCHORED,
    ),
    "restore_isolation": (
        LOAD_BLOCKED,
        Step(When.TAKE_OFF, "hold the arm in a sling; take the anchor joint apart"),
        Step(
            When.BARE,
            "find where metal touches metal; renew washer, sleeve or isolator that lets it",
        ),
        *ANCHORED,
    ),
    "restore_clearance": (
        Step(When.ARM, "find what touches: bright spots, rubbed paint; through a full turn"),
        Step(
            When.ARM,
            "cut back or move what stands in the way; cover seals, and no welding current "
            "through the unit",
        ),
        Step(When.ARM, "measure the smallest clearance through a full turn; write it down"),
    ),
    "realign_arm": (
        LOAD_BLOCKED,
        Step(When.TAKE_OFF, "hold the arm in a sling; undo its anchor", in_place=True),
        Step(
            When.ALIGN, "lay a straight edge along arm and anchor; measure how far they are apart"
        ),
        Step(When.ALIGN, "move or shim the anchor, not the unit, until they lie in one plane"),
        Step(When.ALIGN, "bring the arm square to its link; measure again and write it down"),
        *ANCHORED,
    ),
    "tighten_arm_bolts": (
        LOAD_BLOCKED,
        Step(When.ARM, "fit missing bolts and lock washers of the kind that the manual states"),
        Step(When.ARM, "tighten all bolts of the arm to the manual's torque"),
    ),
}

_JOINT: Mapping[str, tuple[Step, ...]] = {
    "reseat_on_shaft": (
        Step(When.BARE, "find what kept the unit from going home: burr, dirt, key, step, bushing"),
        Step(When.BARE, "take burrs off with a fine file; never widen bore or shaft"),
    ),
    "renew_support_bushings": (
        Step(When.BARE, "draw out both support bushings; look at their seats", SHRINK_DISCS),
        Step(
            When.BARE,
            "try both new bushings in their seats; keep the outer one at hand",
            SHRINK_DISCS,
        ),
    ),
    "exchange_unit": (
        Step(When.BARE, "compare bore, hub length and shaft with tape and calliper before lifting"),
        Step(
            When.BARE, "bring the other unit: plugs set for its position, oil filled, seals whole"
        ),
    ),
    "clean_and_refit": (
        Step(
            When.BARE,
            "wipe bore, shaft and clamp seat with solvent until a clean white cloth stays clean",
        ),
        Step(
            When.BARE,
            "a little anti-seize on the first bushing threads only; none in the bore",
            _TAPERED,
        ),
        Step(When.BARE, "let all surfaces dry; nothing more is put on them", CLAMPED),
    ),
    "retorque_in_passes": (
        LOAD_BLOCKED,
        Step(When.JOINT, "renew missing or damaged clamp screws with the kind the manual states"),
        Step(
            When.TAKE_OFF,
            "ease the screws evenly to hand-tight, if the manual asks for it before tightening",
            in_place=True,
        ),
        *TIGHTENED_IN_PASSES,
    ),
    "reset_collar_gap": (
        LOAD_BLOCKED,
        Step(
            When.TAKE_OFF,
            "ease the screws evenly; free the bushing as the manual states",
            in_place=True,
        ),
        Step(When.HANG, "set the gap with a feeler gauge at three places round the flange"),
        Step(When.JOINT, "watch the gap while tightening: it tends to move; write it down"),
    ),
    "recentre_disc": (
        LOAD_BLOCKED,
        Step(
            When.TAKE_OFF,
            "ease the screws evenly, in steps, until the disc can be moved by hand",
            in_place=True,
        ),
        Step(When.JOINT, "centre the disc on its hub extension", in_place=True),
        Step(When.JOINT, "measure at four places that the disc sits central"),
    ),
}

_SHAFT: Mapping[str, tuple[Step, ...]] = {
    "true_shaft": (
        Step(When.BARE, "measure run-out with the dial indicator where the unit sits"),
        Step(When.BARE, "true the shaft there; its size must stay within the manual's fit"),
        Step(When.BARE, "measure run-out and diameter again; write both down"),
    ),
    "renew_shaft": (
        Step(When.BARE, "measure the new shaft before the old one comes out: size, length, keyway"),
        Step(When.BARE, "change the shaft; pulley and its bearings held"),
        Step(When.BARE, "measure run-out where the unit sits; write it down"),
    ),
    "renew_key": (
        Step(When.BARE, "look at both keyways: no burr, no rounded edge, no crack"),
        Step(When.BARE, "try the new key in shaft and bore: the right width, height and length"),
    ),
    "tighten_retention": (
        Step(When.HANG, "see that the unit sits home before it is held there"),
        Step(
            When.JOINT,
            "fit axial collar or retaining screw where it is missing; tighten to the manual's "
            "torque and secure",
        ),
    ),
}

_HOUSING: Mapping[str, tuple[Step, ...]] = {
    "open_breather": (
        Step(When.HOUSING, "let pressure out slowly: housing and oil may be hot"),
        Step(When.HOUSING, "clean the breather until air passes, or fit a new one, at the top"),
    ),
    "correct_oil_level": (
        Step(When.HOUSING, "open the level plug with the unit stopped and level"),
        Step(When.HOUSING, "fill or let out oil of the kind that is in it, to the level mark"),
    ),
    "change_oil": (
        Step(When.HOUSING, "drain the oil warm; look at it and at the magnet for metal"),
        Step(When.HOUSING, "flush, close the drain with a new sealing ring"),
        Step(When.HOUSING, "fill the kind that the manual states to the level mark; tag it"),
    ),
    "move_plugs": (
        Step(When.HOUSING, "drain the oil; look up the mounting position in the manual"),
        Step(When.HOUSING, "move breather to the top, level plug and drain plug to their places"),
        Step(When.HOUSING, "new sealing rings; fill the oil to its level mark"),
    ),
    "turn_backstop": (
        LOAD_BLOCKED,
        Step(When.HOUSING, "secure the belt of an incline: nothing else holds it now"),
        Step(When.HOUSING, "draw the backstop, turn it round, fit it again"),
        Step(
            When.HOUSING,
            "prove its direction with the motor uncoupled: free forward, held backward",
        ),
    ),
    "fit_guard": (
        Step(When.CLOSE, "fit the guard; nothing that turns can be reached or touched by it"),
    ),
    "renew_seal": (
        Step(When.BARE, "drain the oil below the seal; draw the old seal without marking the seat"),
        Step(When.BARE, "look at the lip's seat: smooth, no groove; else tell before going on"),
        Step(When.BARE, "oil the new lip, cover keyway and edges, press it in square"),
    ),
    "renew_bearing": (
        Step(When.BARE, "drain the oil; open the housing in a clean place"),
        Step(When.BARE, "draw and fit the low-speed bearings as the manual states; set their play"),
        Step(When.BARE, "fit the new output seal; flush out all metal; fill new oil"),
    ),
}

STEPS_OF_ACTIONS: Mapping[str, tuple[Step, ...]] = {**_ARM, **_JOINT, **_SHAFT, **_HOUSING}
"""What is done, by the name of the action."""
