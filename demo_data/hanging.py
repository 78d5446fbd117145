"""How a crew leaves a unit that it has hung, and what comes loose in service."""

from dataclasses import dataclass

import numpy as np

from demo_data.arrays import Chance, Codes, Flags, Floats
from demo_data.fault_arrays import (
    FAULT_CUT,
    FAULT_SHARE,
    GOOD_CUT,
    GOOD_SHARE,
    HANG_RATE,
    IS_FAULT,
    SERVICE_OUTCOME,
    SERVICE_RATE,
)
from demo_data.fault_model import APPLIES, CHECK_AT

WORST_CHANCE = 0.6
LONGEST_DRIFT_MONTHS = 24


@dataclass(frozen=True)
class Link:
    """One fault that tends to bring another: where ``cause`` is, ``effect`` follows."""

    cause: str
    cause_outcome: int
    effect: str
    effect_outcome: int
    chance: float


LINKS = (
    Link("isolators_free", 2, "isolator_squeeze_mm", 1, 0.45),
    Link("engagement_mm", 1, "shaft_end", 1, 1.0),
    Link("engagement_mm", 1, "seated", 1, 0.5),
    Link("smallest_clearance_mm", 2, "metal_contact", 1, 0.7),
    Link("screws_low", 2, "final_torque_nm", 1, 0.4),
)


def fault_chances(carelessness: Floats) -> Floats:
    """Chance that a crew leaves each fault, before links.

    Parameters
    ----------
    carelessness : float array, shape (crews, checks)
        Factor on the usual rate.

    Returns
    -------
    float array, shape (crews, mountings, checks)
        Zero where the mounting has no such check.
    """
    chance = np.minimum(HANG_RATE * carelessness, WORST_CHANCE)
    return np.asarray(chance[:, None, :] * APPLIES[None])


def outcome_chances(fault_chance: Floats) -> Floats:
    """Chance of each outcome, links counted in, shape (..., checks, outcomes)."""
    chance = (1 - fault_chance)[..., None] * GOOD_SHARE + fault_chance[..., None] * FAULT_SHARE
    for link in LINKS:
        brought = chance[..., CHECK_AT[link.cause], link.cause_outcome] * link.chance
        at = CHECK_AT[link.effect]
        chance[..., at, :] *= (1 - brought)[..., None]
        chance[..., at, link.effect_outcome] += brought
    return chance


def drifted_chances(chance: Floats, months: Floats) -> Floats:
    """Chance of each outcome some months after hanging.

    Parameters
    ----------
    chance : float array, shape (units, checks, outcomes)
        Chance of each outcome on the day of hanging.
    months : float array, shape (units,)
        Time since then. [month]

    Returns
    -------
    float array, shape (units, checks, outcomes)
        Good outcomes have drifted to the check's outcome in service.
    """
    span = np.minimum(months, LONGEST_DRIFT_MONTHS)[:, None]
    turned = 1 - (1 - SERVICE_RATE) ** span
    lost = np.where(IS_FAULT, 0.0, chance) * turned[..., None]
    after = chance - lost
    at = np.arange(len(SERVICE_OUTCOME))
    after[:, at, SERVICE_OUTCOME] += lost.sum(axis=2)
    return np.asarray(after)


def draw_hanging(chance: Chance, fault_chance: Floats) -> Codes:
    """Draw the outcome of every check of units hung just now.

    Parameters
    ----------
    chance : numpy.random.Generator
        Source of chance.
    fault_chance : float array, shape (units, checks)
        Chance of a fault, before links.

    Returns
    -------
    int8 array, shape (units, checks)
        The outcomes.
    """
    faulty = chance.random(fault_chance.shape) < fault_chance
    place = chance.random(fault_chance.shape)[..., None]
    # the last cut is 1 up to rounding; places are below it by less than that can matter
    of_faults = (place >= np.minimum(FAULT_CUT, 1.0)).sum(axis=2)
    of_goods = (place >= np.minimum(GOOD_CUT, 1.0)).sum(axis=2)
    last = np.where(IS_FAULT.any(axis=1), IS_FAULT.shape[1] - 1 - IS_FAULT[:, ::-1].argmax(1), 0)
    outcome = np.where(faulty, np.minimum(of_faults, last), np.minimum(of_goods, last))
    outcome = outcome.astype(np.int8)
    for link in LINKS:
        cause = outcome[:, CHECK_AT[link.cause]] == link.cause_outcome
        brought = cause & (chance.random(len(cause)) < link.chance)
        outcome[brought, CHECK_AT[link.effect]] = link.effect_outcome
    return np.asarray(outcome)


def drift(chance: Chance, outcome: Codes, months: Floats, hung: Flags) -> Codes:
    """Let good checks turn bad in service.

    Parameters
    ----------
    chance : numpy.random.Generator
        Source of chance.
    outcome : int8 array, shape (units, checks)
        Outcomes before.
    months : float array, shape (units,)
        How long it lasts. [month]
    hung : bool array, shape (units, checks)
        Whether the unit hangs and has the check.

    Returns
    -------
    int8 array, shape (units, checks)
        Outcomes after.
    """
    after = outcome.copy()
    for k in np.flatnonzero(SERVICE_RATE > 0):
        good = ~IS_FAULT[k][outcome[:, k]] & hung[:, k]
        turned = chance.random(len(outcome)) < 1 - (1 - SERVICE_RATE[k]) ** months
        after[good & turned, k] = SERVICE_OUTCOME[k]
    return after
