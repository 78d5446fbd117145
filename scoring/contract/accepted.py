"""The table ``accepted``: one row, one finding that a named engineer accepts for a time."""

from scoring.contract.declaration import Column, Kind, Table
from scoring.contract.walkdowns import CHECKS

ACCEPTED = Table(
    "accepted",
    "one finding accepted as it is, by name, with a reason, until a date",
    "accepted_id",
    (
        Column(name="accepted_id", kind=Kind.IDENTIFIER, meaning="the key", required=True),
        Column(name="unit_id", kind=Kind.IDENTIFIER, meaning="the unit", required=True),
        Column(
            name="check",
            kind=Kind.CHOICE,
            allowed=tuple(check.name for check in CHECKS),
            meaning="the check whose finding is accepted",
            required=True,
        ),
        Column(
            name="accepted_by",
            kind=Kind.TEXT,
            meaning="the engineer who answers for it",
            required=True,
        ),
        Column(name="reason", kind=Kind.TEXT, meaning="why it may stay", required=True),
        Column(name="accepted_on", kind=Kind.DATE, meaning="when", required=True),
        Column(
            name="until_on",
            kind=Kind.DATE,
            meaning="last day on which it holds",
            required=True,
            may_lie_ahead=True,
        ),
    ),
)
