"""Evidence of small fleets: what was seen of each unit, and nothing learned."""

from scoring.handbook.prevalence import Prevalence
from scoring.handbook.unit_evidence import UnitEvidence
from scoring.limits import unit_limits

DAY = "2024-06-01"


def evidence_of(book):
    """Return what multipliers rest on, for each unit of a book."""
    known = book.known(DAY)
    return UnitEvidence.of(known, unit_limits(known.units), Prevalence())


def units_table(book):
    """Return the table of units as the chain sees it."""
    return book.fleet().units
