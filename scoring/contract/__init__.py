"""The records, declared once.

One declaration of each table serves reading, checking, conversion of units, documentation,
templates, demo data and labels on a screen. This package needs only the standard library.
"""

from scoring.contract.accepted import ACCEPTED
from scoring.contract.declaration import About, Column, Kind, Seen, Table, Worse
from scoring.contract.events import EVENTS
from scoring.contract.ranking import RANKING
from scoring.contract.rework import REWORK
from scoring.contract.units import UNITS
from scoring.contract.walkdowns import CHECK_BY_NAME, CHECKS, WALKDOWNS
from scoring.contract.what_a_check_is import Check

FLEET_TABLES: tuple[Table, ...] = (UNITS, WALKDOWNS, EVENTS, REWORK, ACCEPTED)
"""The tables a fleet is made of, in the order in which people fill them in."""

TABLE_BY_NAME: dict[str, Table] = {table.name: table for table in FLEET_TABLES}

__all__ = [
    "ACCEPTED",
    "CHECKS",
    "CHECK_BY_NAME",
    "EVENTS",
    "FLEET_TABLES",
    "RANKING",
    "REWORK",
    "TABLE_BY_NAME",
    "UNITS",
    "WALKDOWNS",
    "About",
    "Check",
    "Column",
    "Kind",
    "Seen",
    "Table",
    "Worse",
]
