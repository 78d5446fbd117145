"""What looking is worth the long way: every outcome written down as a walkdown, the chain run."""

from dataclasses import replace
from itertools import product

import numpy as np
from fleets import Book
from generated_fleets import AS_OF

from scoring.assessment import FleetAssessor
from scoring.contract import CHECK_BY_NAME
from scoring.contract.rework import ACTIONS, BEARING
from scoring.contract.rework_effort import fits
from scoring.looking.standing import Standing
from scoring.what_if.action_arrays import actions_of
from scoring.what_if.candidates import candidates_of
from scoring.what_if.what_if import what_if

OF_BEARING = ("running_temperature_c", "vibration_mm_s")


def naive_value(book: Book, standing: Standing, outcomes, unit: int, checks, seen) -> float:
    """Return the value of seeing some of the checks of a unit."""
    units = standing.assessment.known.units
    unit_id, mounting = units["unit_id"].iloc[unit], str(units["mounting"].iloc[unit])
    of_checks = [outcomes[(outcomes["unit"] == unit) & (outcomes["check"] == c)] for c in checks]
    menu = {
        ";".join(sorted({a for a in some if a})) for some in product(*options(checks, mounting))
    }
    saved, chances = {}, {}
    for rows in product(*(part.to_dict("records") for part in of_checks)):
        found = {row["check"]: row["value"] for row in rows}
        chance = float(np.prod([row["chance"] for row in rows]))
        key = tuple(row["outcome"] if row["check"] in seen else "any" for row in rows)
        after_look = with_walkdown(book, standing, unit_id, found)
        for actions in menu:
            s = chance * saves(after_look, unit_id, actions)
            saved[key, actions] = saved.get((key, actions), 0.0) + s
        chances[key] = chances.get(key, 0.0) + chance
    assert sum(chances.values()) == np.float64(1.0) or abs(sum(chances.values()) - 1) < 1e-9
    informed = sum(max(saved[key, actions] for actions in menu) for key in chances)
    return informed - max(sum(saved[key, actions] for key in chances) for actions in menu)


def options(checks, mounting):
    """Name, for each check, nothing and every action that cures it there."""
    for check in checks:
        cure = [
            action.name
            for action in ACTIONS
            if (check in action.cures or (check in OF_BEARING and BEARING in action.renews))
            and fits(action.name, mounting)
        ]
        yield ["", *cure]


def with_walkdown(book: Book, standing: Standing, unit_id: str, found) -> Standing:
    """Return the fleet with one walkdown more, faults elsewhere as usual as before."""
    cells = {name: as_text(name, value) for name, value in found.items()}
    row = {"walkdown_id": "LOOK", "unit_id": unit_id, "inspected_on": str(AS_OF.date())}
    more = replace(book, walkdowns=[*book.walkdowns, {**row, "kind": "periodic", **cells}])
    assessor = FleetAssessor(more.fleet())
    as_before = standing.assessment.prevalence
    assessor.prevalence = lambda _day: as_before
    assessment = assessor.assess(AS_OF, learning=standing.assessment.learning)
    return replace(standing, assessor=assessor, assessment=assessment)


def as_text(name, value) -> str:
    if not CHECK_BY_NAME[name].is_numeric:
        return str(value)
    return str(round(value)) if CHECK_BY_NAME[name].kind.name == "COUNT" else repr(float(value))


def saves(standing: Standing, unit_id: str, actions: str) -> float:
    known = standing.assessment.known
    unit = np.flatnonzero(known.units["unit_id"] == unit_id)
    candidates = candidates_of(known, unit, actions_of(actions)[np.newaxis])
    row = what_if(
        standing.assessor, standing.assessment, candidates, standing.takes, standing.efforts
    ).iloc[0]
    return row["expected_loss"] - row["expected_loss_after"] - row["cost"]
