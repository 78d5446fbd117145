"""The housing and what is fitted to it, in walking order."""

from scoring.contract.declaration import About, Seen
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.contract.places_to_look import Place
from scoring.contract.what_a_check_is import Check

HOUSING_CHECKS: tuple[Check, ...] = (
    Check(
        name="breather",
        label="breather",
        about=About.HOUSING,
        seen=Seen.STOPPED,
        options={"open": "open", "plugged": "plugged"},
        how_to_look="take off the cap; shipping plug out, paint off, passage free",
        good="open",
        minutes=2,
        station="F",
        place=Place("breather", ("breather",)),
    ),
    Check(
        name="oil_level",
        label="oil level",
        about=About.HOUSING,
        seen=Seen.STOPPED,
        options={
            "right": "at its mark",
            "high": "too high",
            "low": "too low",
        },
        how_to_look="sight glass or level plug of this mounting position, machine at rest",
        good="at its mark",
        critical_for=EVERY_MOUNTING,
        place=Place("sight glass", ("sight glass",)),
    ),
    Check(
        name="guard",
        label="guard",
        about=About.HOUSING,
        seen=Seen.STOPPED,
        options={"fitted": "all fitted", "missing": "one missing"},
        how_to_look="every guard back on and bolted",
        good="fitted",
        critical_for=EVERY_MOUNTING,
        harms_people_only=True,
        minutes=1,
        station="F",
        place=Place("guard", ("guard",)),
    ),
)
