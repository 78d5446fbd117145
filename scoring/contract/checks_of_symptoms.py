"""Damage under way: it explains nothing, but tells of what is to come."""

from scoring.contract.declaration import About, Kind, Seen, Worse
from scoring.contract.parts import BEARING
from scoring.contract.places_to_look import LOW_SPEED_BEARING, Place
from scoring.contract.plausible import Bound, Plausible
from scoring.contract.what_a_check_is import Check

SYMPTOM_CHECKS: tuple[Check, ...] = (
    Check(
        name="running_temperature_c",
        label="running temperature",
        about=About.HOUSING,
        seen=Seen.RUNNING,
        kind=Kind.NUMBER,
        unit="°C",
        worse=Worse.MORE,
        minimum=-60,
        maximum=250,
        how_to_look="housing at the low-speed bearing, warm after an hour's run",
        good="steady, and not far above its usual",
        symptom=True,
        tells_of=BEARING,
        minutes=2,
        place=LOW_SPEED_BEARING,
        plausible=Plausible(low=Bound(of="ambient_c", plus=-5, fixed=0), high=Bound(fixed=140)),
    ),
    Check(
        name="vibration_mm_s",
        label="vibration",
        about=About.HOUSING,
        seen=Seen.RUNNING,
        kind=Kind.NUMBER,
        unit="mm/s",
        worse=Worse.MORE,
        minimum=0,
        maximum=1000,
        how_to_look="velocity r.m.s. at the low-speed bearing",
        good="steady and low",
        symptom=True,
        tells_of=BEARING,
        place=LOW_SPEED_BEARING,
        plausible=Plausible(low=Bound(fixed=0.1), high=Bound(fixed=45)),
    ),
    Check(
        name="seal_weep",
        label="output seal",
        about=About.HOUSING,
        seen=Seen.STOPPED,
        options={
            "dry": "dry",
            "damp": "damp",
            "dripping": "dripping",
        },
        how_to_look="wipe the seal, look again after a run",
        good="dry",
        symptom=True,
        minutes=2,
        station="E",
        place=Place("output seal", ("seal",)),
    ),
)
