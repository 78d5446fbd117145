"""The table ``walkdowns``: one row, one visit to one unit; its checks in walking order."""

from scoring.contract.checks_of_key_and_retention import KEY_AND_RETENTION_CHECKS
from scoring.contract.checks_of_symptoms import SYMPTOM_CHECKS
from scoring.contract.checks_of_the_arm import ARM_CHECKS
from scoring.contract.checks_of_the_housing import HOUSING_CHECKS
from scoring.contract.checks_of_the_seat import SEAT_CHECKS
from scoring.contract.checks_of_the_shaft import SHAFT_CHECKS
from scoring.contract.checks_of_tightening import TIGHTENING_CHECKS
from scoring.contract.declaration import Column, Kind, Table
from scoring.contract.details import DETAILS
from scoring.contract.walkdown_kinds import (
    AFTER_REWORK,
    AFTER_START,
    PERIODIC,
    POST_INSTALL,
    WALKDOWN_KINDS,
)
from scoring.contract.what_a_check_is import Check

__all__ = [
    "AFTER_REWORK",
    "AFTER_START",
    "CHECKS",
    "CHECK_BY_NAME",
    "PERIODIC",
    "POST_INSTALL",
    "WALKDOWNS",
    "WALKDOWN_KINDS",
]

CHECKS: tuple[Check, ...] = (
    *SEAT_CHECKS,
    *SHAFT_CHECKS,
    *KEY_AND_RETENTION_CHECKS,
    *TIGHTENING_CHECKS,
    *ARM_CHECKS,
    *HOUSING_CHECKS,
    *SYMPTOM_CHECKS,
)
"""Everything an inspector looks at."""

CHECK_BY_NAME: dict[str, Check] = {check.name: check for check in CHECKS}

WALKDOWNS = Table(
    "walkdowns",
    "one visit to one unit",
    "walkdown_id",
    (
        Column(name="walkdown_id", kind=Kind.IDENTIFIER, meaning="the key", required=True),
        Column(name="unit_id", kind=Kind.IDENTIFIER, meaning="the unit seen", required=True),
        Column(name="inspected_on", kind=Kind.DATE, meaning="when it was seen", required=True),
        Column(
            name="kind",
            kind=Kind.CHOICE,
            allowed=WALKDOWN_KINDS,
            meaning="why it was seen",
            required=True,
        ),
        Column(name="recorded_at", kind=Kind.DATE, meaning="when this was written down"),
        Column(name="inspector", kind=Kind.TEXT, meaning="who saw it"),
        Column(name="notes", kind=Kind.TEXT, meaning="anything else"),
        *CHECKS,
        *DETAILS,
    ),
    needed=True,
)
