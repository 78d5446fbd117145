"""Generated fleets over several sites, and what was predicted of them."""

from dataclasses import replace
from functools import cache

from fleets import Book
from generated_fleets import AS_OF, generated_book

from scoring.assessment import FleetAssessor
from scoring.learning.failure_rows import FailureRows
from scoring.validation.validate import Validation, validate

SITES = ("east pit", "north quay", "west pit")


@cache
def book_of_sites(n_units: int, seed: int) -> Book:
    """Deal the units of a generated fleet round to three sites."""
    book = generated_book(n_units, seed)
    units = [{**unit, "site": SITES[n % len(SITES)]} for n, unit in enumerate(book.units)]
    return replace(book, units=units)


def validated(book: Book, n_jobs: int = 1) -> Validation:
    assessor = FleetAssessor(book.fleet())
    rows = assessor.failure_rows(AS_OF)
    return validate(rows, n_jobs, assessor.fleet.units["unit_id"])


@cache
def rows_of_sites(n_units: int, seed: int) -> FailureRows:
    return FleetAssessor(book_of_sites(n_units, seed).fleet()).failure_rows(AS_OF)


@cache
def validation_of_sites(n_units: int, seed: int) -> Validation:
    return validated(book_of_sites(n_units, seed))
