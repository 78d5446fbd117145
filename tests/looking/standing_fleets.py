"""Fleets that were generated, or made for a test, and how they stand."""

from functools import cache

from fleets import Book
from generated_fleets import AS_OF, generated_assessor

from scoring.assessment import FleetAssessor
from scoring.looking.standing import Standing
from scoring.what_if.site_efforts import SiteEfforts
from scoring.what_if.take_chances import learn_take_chances

SIZE, SEED = 60, 432


def standing_of(assessor, *, learning=None) -> Standing:
    assessment = assessor.assess(AS_OF, learning=learning)
    return Standing(
        assessor, assessment, learn_take_chances(assessor.timeline, AS_OF), SiteEfforts()
    )


@cache
def generated_standing(size=SIZE, seed=SEED) -> Standing:
    assessor = generated_assessor(size, seed)
    return standing_of(assessor, learning=assessor.learn(AS_OF))


def standing_of_book(book: Book) -> Standing:
    return standing_of(FleetAssessor(book.fleet()))


__all__ = ["AS_OF", "SEED", "SIZE", "Book"]
