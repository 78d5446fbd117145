"""The key, and what holds the unit along the shaft."""

from scoring.contract.declaration import About, Seen
from scoring.contract.mountings import KEYED_BORE, SHRINK_DISC_SUPPORT_BUSHINGS
from scoring.contract.places_to_look import DRIVE_END, Place
from scoring.contract.what_a_check_is import Check

KEY_AND_RETENTION_CHECKS: tuple[Check, ...] = (
    Check(
        name="key_condition",
        label="key",
        about=About.JOINT,
        seen=Seen.HANGING,
        options={
            "right": "right key, fits",
            "loose": "loose",
            "short": "too short",
            "missing": "missing",
        },
        how_to_look="size, length and fit of the key in both keyways",
        good="the right key, in both keyways, over its whole length",
        mountings=(KEYED_BORE,),
        critical_for=(KEYED_BORE,),
    ),
    Check(
        name="retention",
        label="axial retention",
        about=About.JOINT,
        seen=Seen.STOPPED,
        options={
            "tight": "tight",
            "loose": "loose",
            "missing": "missing",
        },
        how_to_look="axial collar or retaining screw: there, and tight by wrench",
        good="tight",
        mountings=(KEYED_BORE, SHRINK_DISC_SUPPORT_BUSHINGS),
        minutes=3,
        behind_guard=True,
        place=Place("axial retention", ("axial retention", "screw"), DRIVE_END),
    ),
)
