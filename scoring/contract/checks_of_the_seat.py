"""How the unit sits on its shaft, in walking order."""

from scoring.contract.declaration import About, Kind, Seen, Worse
from scoring.contract.mountings import (
    CLAMPED,
    EVERY_MOUNTING,
    SHRINK_DISC_SUPPORT_BUSHINGS,
    SHRINK_DISCS,
)
from scoring.contract.places_to_look import BACK, DISC, DRIVE_END, Place
from scoring.contract.plausible import Bound, Plausible
from scoring.contract.what_a_check_is import Check

SURFACES = {
    "clean_dry": "clean and dry",
    "dust_or_dirt": "dust or dirt",
    "oil_film": "oil film",
    "antiseize_or_grease": "anti-seize or grease",
}
"""What may lie between two surfaces that are to grip, the worst last."""

SEAT_CHECKS: tuple[Check, ...] = (
    Check(
        name="bore_condition",
        label="bore and shaft surface",
        about=About.JOINT,
        seen=Seen.HANGING,
        options=SURFACES,
        how_to_look="wipe bore and shaft, keyways too, with a clean white cloth before mounting",
        good="clean and dry: the cloth stays clean",
        critical_for=CLAMPED,
    ),
    Check(
        name="clamp_seat_condition",
        label="seat of the disc on the hub",
        about=About.JOINT,
        seen=Seen.HANGING,
        options=SURFACES,
        how_to_look="wipe the outside of the hub extension where the disc sits",
        good="clean and dry",
        mountings=SHRINK_DISCS,
        critical_for=SHRINK_DISCS,
        minutes=3,
        place=DISC,
    ),
    Check(
        name="seated",
        label="unit home on the shaft",
        about=About.JOINT,
        seen=Seen.STOPPED,
        options={"home": "home, no gap", "short": "not home, there is a gap"},
        made_anew_by_hanging=True,
        how_to_look="look for a gap at the shaft shoulder or collar",
        good="unit against the shoulder or the collar",
        minutes=2,
        station="E",
        place=BACK,
    ),
    Check(
        name="support_bushings",
        label="support bushings",
        about=About.JOINT,
        seen=Seen.STOPPED,
        options={
            "seated": "both seated",
            "proud": "one stands proud",
            "missing": "one is missing",
        },
        damage_from="missing",
        how_to_look="inner bushing level in its bore, outer one against the end of the hub",
        good="both in place and seated",
        mountings=(SHRINK_DISC_SUPPORT_BUSHINGS,),
        critical_for=(SHRINK_DISC_SUPPORT_BUSHINGS,),
        behind_guard=True,
    ),
    Check(
        name="engagement_mm",
        label="shaft in the bore",
        about=About.JOINT,
        seen=Seen.STOPPED,
        kind=Kind.NUMBER,
        unit="mm",
        worse=Worse.LESS,
        minimum=0,
        maximum=5000,
        how_to_look="measure how far the shaft reaches into the bore or bushing",
        good="at least what the unit's own manual asks for",
        minutes=10,
        behind_guard=True,
        plausible=Plausible(
            low=Bound(of="shaft_diameter_mm", times=0.25),
            high=Bound(of="shaft_diameter_mm", times=4),
        ),
        beside="shaft_diameter_mm",
    ),
    Check(
        name="shaft_end",
        label="shaft end",
        about=About.JOINT,
        seen=Seen.STOPPED,
        options={"reaches": "reaches what is required", "short": "falls short of it"},
        how_to_look="look into the bore from the far side: bushing: clear of its split; "
        "disc: level with the end of the hub or beyond",
        good="the shaft reaches what is required",
        critical_for=EVERY_MOUNTING,
        minutes=2,
        behind_guard=True,
    ),
    Check(
        name="witness_mark",
        label="witness mark",
        about=About.JOINT,
        seen=Seen.STOPPED,
        options={"in_line": "in line", "moved": "moved: shaft and hub have turned or walked"},
        optional=True,
        how_to_look="paint line across shaft and hub; none there: not seen, and paint one",
        good="one line across shaft and hub",
        damage_from="moved",
        minutes=2,
        behind_guard=True,
        place=Place("shaft and hub at the drive end", ("hub",), DRIVE_END),
    ),
)
