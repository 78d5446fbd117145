"""Evidence of small fleets: what was seen of each unit, and nothing learned."""

from scoring.consequences.arm_restraint import arm_restraint
from scoring.handbook.prevalence import Prevalence
from scoring.handbook.unit_evidence import UnitEvidence
from scoring.limits import unit_limits

DAY = "2024-06-01"


def evidence_of(book, prevalence=None):
    """Return what multipliers rest on, for each unit of a book."""
    known, usual = book.known(DAY), prevalence or Prevalence()
    limits = unit_limits(known.units)
    arms = arm_restraint(known, limits, usual.arms(usual.groups(known)))
    return UnitEvidence(known, limits, arms, usual)


def units_table(book):
    """Return the table of units as the chain sees it."""
    return book.fleet().units
