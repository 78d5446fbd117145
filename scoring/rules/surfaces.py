"""Rules on the surfaces that grip: bore, shaft, and the seat of a disc."""

from scoring.contract.mountings import CLAMPED, SHRINK_DISCS
from scoring.limits.assumptions import COMMON_PRACTICE
from scoring.rules.rule import Rule, Severity

OIL_FILM = 2
"""Place of ``oil_film`` in the list of surface conditions; anti-seize comes after it."""

SURFACE_RULES = (
    Rule(
        name="lubricant_on_bore",
        check="bore_condition",
        severity=Severity.HOLD,
        from_exceedance=OIL_FILM,
        mountings=CLAMPED,
        reason="lubricant where only friction holds: bore and shaft found with {value}",
        why="lubricant cuts the grip; the joint may slip on the shaft",
        action="clean_and_refit",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="bore_not_clean",
        check="bore_condition",
        severity=Severity.CORRECT,
        reason="bore and shaft not clean and dry: {value}",
        why="dirt tilts the hub, and what is not clean and dry grips less or hides damage",
        action="clean_and_refit",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="lubricant_under_disc",
        check="clamp_seat_condition",
        severity=Severity.CORRECT,
        from_exceedance=OIL_FILM,
        mountings=SHRINK_DISCS,
        reason="lubricant under the disc: its seat found with {value}",
        why="the seat carries no torque, but lubricant on it creeps into the joint below",
        action="clean_and_refit",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="disc_seat_not_clean",
        check="clamp_seat_condition",
        severity=Severity.CORRECT,
        mountings=SHRINK_DISCS,
        reason="seat of the disc not clean and dry: {value}",
        why="dirt under the disc tilts it and eats clamping force",
        action="clean_and_refit",
        origin=COMMON_PRACTICE,
    ),
)
