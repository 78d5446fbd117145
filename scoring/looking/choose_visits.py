"""Choose visits for the minutes there are: what is worth most a minute first, then exchanges."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

SMALLEST = 1e-9

MOST_EXCHANGED = 80
"""Changes that are tried with each other at a time, those most worth a minute's price. Ours."""


@dataclass(frozen=True)
class Chosen:
    """Visits chosen.

    Attributes
    ----------
    taken : ndarray of bool, shape (n_visits,)
        At most one of each unit.
    value : float
        What they are worth together. [currency]
    bound : float
        What no choice could pass. [currency]
    """

    taken: Flags
    value: float
    bound: float


def choose_visits(unit: Ints, minutes: Floats, value: Floats, budget: float) -> Chosen:
    """Choose at most one visit of each unit.

    Parameters
    ----------
    unit : ndarray of int, shape (n_visits,)
        The unit of each.
    minutes : ndarray, shape (n_visits,)
        What each takes, above 0. [min]
    value : ndarray, shape (n_visits,)
        What each is worth, at least 0. [currency]
    budget : float
        Minutes there are. [min]

    Returns
    -------
    Chosen

    Notes
    -----
    Step by step a visit is begun, or made longer, that adds most a minute of those that still fit;
    the best single visit is taken instead where that is worth more. So the choice is worth at
    least half of the best one (textbook). Then the visits of up to three units at a time are
    changed, as long as that is worth more. The bound, by Lagrange's multiplier of the minutes,
    says how near to the best the choice is for certain.

    Examples
    --------
    >>> unit, minutes = np.array([0, 0, 1]), np.array([30.0, 40.0, 35.0])
    >>> choose_visits(unit, minutes, np.array([9.0, 12.0, 7.0]), 75).value
    19.0
    """
    if len(unit) == 0:
        return Chosen(np.zeros(0, dtype=bool), 0.0, 0.0)
    _, code = np.unique(unit, return_inverse=True)
    taken = _step_by_step(code, minutes, value, budget)
    fits = minutes <= budget + SMALLEST
    if fits.any():
        single = int(np.argmax(np.where(fits, value, -1.0)))
        if value[single] > value[taken].sum():
            taken = np.arange(len(unit)) == single
    bound, price = _bound(code, minutes, np.where(fits, value, 0.0), budget)
    left = budget - float(minutes[taken].sum())
    taken = _exchanged(code, minutes, value, left, (taken, price))
    worth = float(value[taken].sum())
    return Chosen(taken, worth, max(worth, bound))


def _step_by_step(code: Ints, minutes: Floats, value: Floats, budget: float) -> Flags:
    size = int(code.max()) + 1
    spent, worth = np.zeros(size), np.zeros(size)
    visit = np.full(size, -1, dtype=np.int64)
    left = budget
    while True:
        more, longer = value - worth[code], minutes - spent[code]
        open_ones = (more > SMALLEST) & (longer <= left + SMALLEST)
        if not open_ones.any():
            break
        rate = np.where(open_ones, more / np.maximum(longer, SMALLEST), -np.inf)
        best = int(np.argmax(rate))
        left -= float(longer[best])
        place = int(code[best])
        spent[place], worth[place], visit[place] = minutes[best], value[best], best
    taken = np.zeros(len(code), dtype=bool)
    taken[visit[visit >= 0]] = True
    return taken


def _exchanged(
    code: Ints, minutes: Floats, value: Floats, left: float, priced: tuple[Flags, float]
) -> Flags:
    """Change the visits of up to three units at a time, as long as that is worth more."""
    taken, price = priced
    size, visits = int(code.max()) + 1, len(code)
    code = np.append(code, np.arange(size))  # the last ones: no visit to a unit
    minutes, value = (np.append(values, np.zeros(size)) for values in (minutes, value))
    visit = np.arange(visits, visits + size)
    visit[code[:visits][taken]] = np.flatnonzero(taken)
    while True:
        longer, more = minutes - minutes[visit][code], value - value[visit][code]
        merit = more - price * longer
        merit[visit] = -np.inf
        near = np.argsort(-merit, kind="stable")[:MOST_EXCHANGED]
        near = near[np.isfinite(merit[near])]
        three = _best_three(code[near], longer[near], more[near], left)
        if len(three) == 0:
            break
        changed = near[three]
        left -= float(longer[changed].sum())
        visit[code[changed]] = changed
    chosen = np.zeros(visits + size, dtype=bool)
    chosen[visit] = True
    return chosen[:visits]


def _best_three(code: Ints, longer: Floats, more: Floats, left: float) -> Ints:
    """Return up to three changes, of different units, that together fit and add most; or none."""
    nothing = len(code)
    unit = np.append(code, -1)
    longer, more = np.append(longer, 0.0), np.append(more, 0.0)
    clash = unit[:, np.newaxis] == unit
    clash[nothing, nothing] = False
    two_longer, two_more = longer[:, np.newaxis] + longer, more[:, np.newaxis] + more
    total = two_more[:, :, np.newaxis] + more
    out = two_longer[:, :, np.newaxis] + longer > left + SMALLEST
    out |= clash[:, :, np.newaxis] | clash[:, np.newaxis] | clash
    total[out] = -np.inf
    best = np.unravel_index(int(np.argmax(total)), total.shape)
    if total[best] <= SMALLEST:
        return np.empty(0, dtype=np.int64)
    places: Ints = np.array(best, dtype=np.int64)
    changes: Ints = places[places != nothing]
    return changes


def _bound(code: Ints, minutes: Floats, value: Floats, budget: float) -> tuple[float, float]:
    """Return the least of the Lagrangian over prices of a minute, convex, by thirds; and where."""
    size = int(code.max()) + 1

    def at(price: float) -> float:
        best = np.zeros(size)
        np.maximum.at(best, code, value - price * minutes)
        return price * budget + float(best.sum())

    low, high = 0.0, float((value / np.maximum(minutes, SMALLEST)).max())
    for _ in range(60):
        one, other = low + (high - low) / 3, high - (high - low) / 3
        low, high = (low, other) if at(one) <= at(other) else (one, high)
    return min((at(price), price) for price in (low, (low + high) / 2, high))
