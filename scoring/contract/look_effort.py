"""How long looking takes: minutes at each check, and what a visit takes besides.

Planning values of ours, from a plant's own experience better replaced (``look_settings``).
"""

from dataclasses import dataclass

from scoring.contract.declaration import Column, Kind, Table
from scoring.contract.walkdowns import CHECK_BY_NAME


@dataclass(frozen=True, kw_only=True)
class VisitStep:
    """What a visit takes once, however many checks are looked at.

    Attributes
    ----------
    name : str
        As written in a table of settings.
    does : str
        What is done, in plain words.
    minutes : float
        Of the inspector. [min]
    """

    name: str
    does: str
    minutes: float


WALKING = VisitStep(name="walking", does="walk to the unit, take the walkdown sheet", minutes=10)
WAITING_LOCK_OUT = VisitStep(
    name="locked_out", does="have the unit stopped and locked out, and handed back", minutes=20
)
GUARD_ASIDE = VisitStep(
    name="guard_aside", does="take the guard off to see, and fit it again", minutes=30
)
VISIT_STEPS: tuple[VisitStep, ...] = (WALKING, WAITING_LOCK_OUT, GUARD_ASIDE)

MINUTES_AT_CHECK: dict[str, float] = {
    "bore_condition": 5,
    "clamp_seat_condition": 3,
    "seated": 2,
    "support_bushings": 5,
    "engagement_mm": 10,
    "shaft_end": 2,
    "shaft_diameter_measured_mm": 5,
    "shaft_runout_mm": 15,
    "key_condition": 5,
    "retention": 3,
    "torque_passes": 2,
    "tightening_order": 2,
    "final_torque_nm": 15,
    "screws_low": 10,
    "collar_gap_mm": 5,
    "disc_offset_mm": 5,
    "arm_bolts": 3,
    "isolator_stack": 3,
    "isolators_free": 2,
    "isolator_squeeze_mm": 5,
    "metal_contact": 3,
    "smallest_clearance_mm": 10,
    "arm_misset_mm": 15,
    "arm_angle_deg": 5,
    "breather": 2,
    "oil_level": 5,
    "guard": 1,
    "running_temperature_c": 2,
    "vibration_mm_s": 5,
    "seal_weep": 2,
}
"""Minutes at each check; planning values of ours. [min]"""

BEHIND_THE_GUARD = (
    "support_bushings",
    "engagement_mm",
    "shaft_end",
    "shaft_runout_mm",
    "retention",
    "final_torque_nm",
    "screws_low",
    "disc_offset_mm",
)
"""Checks at a stopped unit that are seen with its guard off; planning value of ours."""

if list(MINUTES_AT_CHECK) != list(CHECK_BY_NAME):
    raise AssertionError("every check has its minutes, in walking order")

LOOK_SETTINGS = Table(
    "look_settings",
    "how long a check, or a step of a visit, takes at a site",
    "",
    (
        Column(name="site", kind=Kind.TEXT, meaning="the site; blank: every site"),
        Column(
            name="what",
            kind=Kind.CHOICE,
            allowed=(*MINUTES_AT_CHECK, *(step.name for step in VISIT_STEPS)),
            required=True,
            meaning="the check or the step of a visit",
        ),
        Column(
            name="minutes",
            kind=Kind.NUMBER,
            unit="min",
            minimum=0,
            maximum=1440,
            required=True,
            meaning="minutes of the inspector",
        ),
    ),
)
"""A plant's own minutes."""
