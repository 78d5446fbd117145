"""What looking is worth the long way: every outcome written down as a walkdown, the chain run."""

from collections import defaultdict
from dataclasses import dataclass, replace
from itertools import product

import numpy as np
from fleets import Book
from generated_fleets import AS_OF

from scoring.assessment import FleetAssessor
from scoring.contract import CHECK_BY_NAME, Kind
from scoring.contract.rework import ACTIONS, BEARING
from scoring.contract.where_actions_fit import fits
from scoring.looking.assessed_fleet import AssessedFleet
from scoring.what_if.action_arrays import actions_of
from scoring.what_if.candidates import candidates_of
from scoring.what_if.what_if import what_if

OF_BEARING = ("running_temperature_c", "vibration_mm_s")


@dataclass(frozen=True)
class Asked:
    """A question: which checks of a unit re-work may be chosen for, and which of them are seen."""

    unit: int
    checks: tuple[str, ...]
    seen: tuple[str, ...]


def naive_values(
    book: Book, assessed_fleet: AssessedFleet, outcomes, questions: list[Asked]
) -> list[float]:
    """Return what looking is worth, question by question, each of another unit.

    Units do not touch each other, so that each run of the chain writes down one outcome of every
    question.
    """
    known = assessed_fleet.assessment.known
    menus = [menu_of(one, str(known.units["mounting"].iloc[one.unit])) for one in questions]
    results = [list(results_of(one, outcomes)) for one in questions]
    saved = [defaultdict(float) for _ in questions]
    for run in range(max(map(len, results))):
        there = [n for n, some in enumerate(results) if run < len(some)]
        ids = [known.units["unit_id"].iloc[questions[n].unit] for n in there]
        found = [{row["check"]: row["value"] for row in results[n][run]} for n in there]
        after_look = with_walkdowns(book, assessed_fleet, dict(zip(ids, found, strict=True)))
        pairs = [(n, uid, do) for n, uid in zip(there, ids, strict=True) for do in menus[n]]
        for (n, _, do), s in zip(pairs, saves(after_look, pairs), strict=True):
            rows = results[n][run]
            chance = np.prod([row["chance"] for row in rows])
            seen = tuple(row["outcome"] for row in rows if row["check"] in questions[n].seen)
            saved[n][seen, do] += chance * s
    return [value_of(some) for some in saved]


def value_of(saved) -> float:
    seen, menu = {one for one, _ in saved}, {do for _, do in saved}
    informed = sum(max(saved[one, do] for do in menu) for one in seen)
    return informed - max(sum(saved[one, do] for one in seen) for do in menu)


def results_of(asked: Asked, outcomes):
    of_checks = [
        outcomes[(outcomes["unit"] == asked.unit) & (outcomes["check"] == check)]
        for check in asked.checks
    ]
    return product(*(part.to_dict("records") for part in of_checks))


def menu_of(asked: Asked, mounting: str) -> set[str]:
    """Name nothing, and every choice of one action for each check, or none."""
    options = [
        [
            "",
            *(
                action.name
                for action in ACTIONS
                if (check in action.cures or (check in OF_BEARING and BEARING in action.renews))
                and fits(action.name, mounting)
            ),
        ]
        for check in asked.checks
    ]
    return {";".join(sorted({name for name in some if name})) for some in product(*options)}


def with_walkdowns(book: Book, assessed_fleet: AssessedFleet, found) -> AssessedFleet:
    """Return the fleet with one walkdown more a unit, faults elsewhere as usual as before."""
    rows = [
        {"walkdown_id": f"LOOK{n}", "unit_id": uid, "inspected_on": str(AS_OF.date())}
        | {"kind": "periodic"}
        | {name: as_text(name, value) for name, value in values.items()}
        for n, (uid, values) in enumerate(found.items())
    ]
    assessor = FleetAssessor(replace(book, walkdowns=[*book.walkdowns, *rows]).fleet())
    as_before = assessed_fleet.assessment.prevalence
    assessor.prevalence = lambda _day: as_before
    assessment = assessor.assess(AS_OF, learning=assessed_fleet.assessment.learning)
    return replace(assessed_fleet, assessor=assessor, assessment=assessment)


def as_text(name, value) -> str:
    if not CHECK_BY_NAME[name].is_numeric:
        return str(value)
    return str(round(value)) if CHECK_BY_NAME[name].kind is Kind.COUNT else repr(float(value))


def saves(assessed_fleet: AssessedFleet, pairs) -> list[float]:
    known = assessed_fleet.assessment.known
    unit = known.units["unit_id"].tolist()
    places = np.array([unit.index(uid) for _, uid, _ in pairs])
    flags = np.array([actions_of(do) for _, _, do in pairs])
    rows = what_if(
        assessed_fleet.assessor,
        assessed_fleet.assessment,
        candidates_of(known, places, flags),
        assessed_fleet.success,
        assessed_fleet.efforts,
    )
    return (rows["expected_loss"] - rows["loss_after_credited"] - rows["cost"]).tolist()
