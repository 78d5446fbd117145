"""Fleets that were generated, or made for a test, and how they stand."""

from functools import cache

from fleets import Book
from generated_fleets import AS_OF, generated_assessor

from scoring.assessment import FleetAssessor
from scoring.looking.assessed_fleet import AssessedFleet
from scoring.what_if.rework_success import learn_rework_success
from scoring.what_if.site_efforts import SiteEfforts

SIZE, SEED = 60, 432


def assessed_fleet_of(assessor, *, learning=None) -> AssessedFleet:
    assessment = assessor.assess(AS_OF, learning=learning)
    return AssessedFleet(
        assessor, assessment, learn_rework_success(assessor.timeline, AS_OF), SiteEfforts()
    )


@cache
def generated_assessed_fleet(size=SIZE, seed=SEED) -> AssessedFleet:
    assessor = generated_assessor(size, seed)
    return assessed_fleet_of(assessor, learning=assessor.learn(AS_OF))


def assessed_fleet_of_book(book: Book) -> AssessedFleet:
    return assessed_fleet_of(FleetAssessor(book.fleet()))


__all__ = ["AS_OF", "SEED", "SIZE", "Book"]
