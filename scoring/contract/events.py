"""The table ``events``: one row, one failure."""

from scoring.contract.declaration import Column, Kind, Table
from scoring.contract.details import seal_side

LOW_SPEED_BEARING = "low_speed_bearing"
SEAL_LEAK = "seal_leak"
JOINT_SLIP = "joint_slip"

MODE_WORDS = {
    LOW_SPEED_BEARING: "low-speed-bearing failure",
    SEAL_LEAK: "seal leak",
    JOINT_SLIP: "joint slip",
}
"""What a person calls the failures that are scored."""

MODES = tuple(MODE_WORDS)
"""The failures that are scored, always in this order."""

FAILURE_MODES = (*MODES, "other")

EVENTS = Table(
    "events",
    "one failure",
    "event_id",
    (
        Column(name="event_id", kind=Kind.IDENTIFIER, meaning="the key", required=True),
        Column(name="unit_id", kind=Kind.IDENTIFIER, meaning="the unit that failed", required=True),
        Column(name="occurred_on", kind=Kind.DATE, meaning="when it failed", required=True),
        Column(
            name="mode",
            kind=Kind.CHOICE,
            allowed=FAILURE_MODES,
            meaning="what failed",
            required=True,
        ),
        Column(
            name="stoppage_id",
            kind=Kind.IDENTIFIER,
            meaning="common to several failures of one stoppage; downtime in one of them",
        ),
        seal_side("which output seal it was; blank: both"),
        Column(name="recorded_at", kind=Kind.DATE, meaning="when this was written down"),
        Column(name="crew", kind=Kind.TEXT, meaning="crew that repaired it"),
        Column(
            name="downtime_h",
            kind=Kind.NUMBER,
            unit="h",
            minimum=0,
            maximum=100_000,
            meaning="standstill it caused",
        ),
        Column(
            name="cost",
            kind=Kind.NUMBER,
            unit="currency",
            minimum=0,
            maximum=1_000_000_000_000,
            meaning="cost of the repair",
        ),
        Column(name="notes", kind=Kind.TEXT, meaning="anything else"),
    ),
)
