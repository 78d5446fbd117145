"""How a crew leaves a unit that it has hung, and what comes loose in service."""

import numpy as np

from demo_data.arrays import Codes, Flags, Floats
from demo_data.chance import Draws
from demo_data.fault_arrays import (
    FAULT_CUT,
    FAULT_SHARE,
    GOOD_CUT,
    GOOD_SHARE,
    HANG_RATE,
    IS_FAULT,
    LINKS,
    SAME,
    SERVICE_OUTCOME,
    SERVICE_RATE,
    show_alike,
)
from demo_data.fault_table import APPLIES, CHECK_NAMES

WORST_CHANCE = 0.6
LONGEST_DRIFT_MONTHS = 24

WEARING = tuple(np.flatnonzero(SERVICE_RATE > 0).tolist())
WEARING_NAMES = tuple(CHECK_NAMES[k] for k in WEARING)
"""Checks that turn bad in service, by their places and by name."""


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
        brought = chance[..., link.cause, link.outcome] * link.chance
        chance[..., link.effect, :] *= (1 - brought)[..., None]
        chance[..., link.effect, link.effect_outcome] += brought
    for shows, has in SAME:
        chance[..., shows, :] = chance[..., has, :]
    return chance


def drifted_chances(chance: Floats, months: Floats, loosens: float = 1.0) -> Floats:
    """Chance of each outcome some months after hanging.

    Parameters
    ----------
    chance : float array, shape (units, checks, outcomes)
        Chance of each outcome on the day of hanging.
    months : float array, shape (units,)
        Time since then. [month]
    loosens : float
        Factor on how often that happens.

    Returns
    -------
    float array, shape (units, checks, outcomes)
        Good outcomes have drifted to the check's outcome in service.
    """
    span = np.minimum(months, LONGEST_DRIFT_MONTHS)[:, None]
    turned = 1 - (1 - loosens * SERVICE_RATE) ** span
    lost = np.where(IS_FAULT, 0.0, chance) * turned[..., None]
    after = chance - lost
    at = np.arange(len(SERVICE_OUTCOME))
    after[:, at, SERVICE_OUTCOME] += lost.sum(axis=2)
    return np.asarray(after)


def draw_hanging(draws: Draws, fault_chance: Floats) -> Codes:
    """Draw the outcome of every check of units hung just now.

    Parameters
    ----------
    draws : Draws
        Chance for these units; each fault is drawn by the name of its check.
    fault_chance : float array, shape (units, checks)
        Chance of a fault, before links.

    Returns
    -------
    int8 array, shape (units, checks)
        The outcomes.
    """
    faulty = draws.of("faulty").shares(CHECK_NAMES) < fault_chance
    place = draws.of("outcome").shares(CHECK_NAMES)[..., None]
    # the last cut is 1 up to rounding; places are below it by less than that can matter
    of_faults = (place >= np.minimum(FAULT_CUT, 1.0)).sum(axis=2)
    of_goods = (place >= np.minimum(GOOD_CUT, 1.0)).sum(axis=2)
    last = np.where(IS_FAULT.any(axis=1), IS_FAULT.shape[1] - 1 - IS_FAULT[:, ::-1].argmax(1), 0)
    outcome = np.where(faulty, np.minimum(of_faults, last), np.minimum(of_goods, last))
    outcome = outcome.astype(np.int8)
    for link in LINKS:
        follows = draws.of("brings", CHECK_NAMES[link.cause]).share(CHECK_NAMES[link.effect])
        brought = (outcome[:, link.cause] == link.outcome) & (follows < link.chance)
        outcome[brought, link.effect] = link.effect_outcome
    show_alike(outcome)
    return np.asarray(outcome)


def drift(draws: Draws, outcome: Codes, months: Floats, hung: Flags, loosens: float = 1.0) -> Codes:
    """Let good checks turn bad in service.

    Parameters
    ----------
    draws : Draws
        Chance for these units; each fault is drawn by the name of its check.
    outcome : int8 array, shape (units, checks)
        Outcomes before.
    months : float array, shape (units,)
        How long it lasts. [month]
    hung : bool array, shape (units, checks)
        Whether the unit hangs and has the check.
    loosens : float
        Factor on how often that happens.

    Returns
    -------
    int8 array, shape (units, checks)
        Outcomes after.
    """
    after = outcome.copy()
    turns = draws.of("turns bad").shares(WEARING_NAMES)
    for at, k in enumerate(WEARING):
        good = ~IS_FAULT[k][outcome[:, k]] & hung[:, k]
        turned = turns[:, at] < 1 - (1 - loosens * SERVICE_RATE[k]) ** months
        after[good & turned, k] = SERVICE_OUTCOME[k]
    return after
