"""How long looking takes besides the minutes at each check, which the checks themselves declare.

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

LOOK_SETTINGS = Table(
    "look_settings",
    "how long a check, or a step of a visit, takes at a site",
    "",
    (
        Column(name="site", kind=Kind.TEXT, meaning="the site; blank: every site"),
        Column(
            name="what",
            kind=Kind.CHOICE,
            allowed=(*CHECK_BY_NAME, *(step.name for step in VISIT_STEPS)),
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
