"""Choose visits for the minutes there are: what is worth most a minute first, then better."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

SMALLEST = 1e-9

GAP = 1e-3
"""A choice nearer to its bound by this share is good enough. Ours. [-]"""

SECONDS = 5.0
"""The search for a better one ends after so long. Ours. [s]"""


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
    least half of the best one (textbook), and mostly nearly all of it. Where it may fall short of
    the bound, by Lagrange's multiplier of the minutes, a mixed-integer programme (HiGHS) looks for
    a better one.

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
    bound = _bound(code, minutes, np.where(fits, value, 0.0), budget)
    if bound - value[taken].sum() > GAP * bound:
        better, most = _better(code, minutes, value, budget)
        bound = min(bound, most)
        if better is not None and value[better].sum() > value[taken].sum():
            taken = better
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


def _better(
    code: Ints, minutes: Floats, value: Floats, budget: float
) -> tuple[Flags | None, float]:
    """Search for the best choice; return the best that was found in time, and a bound."""
    from scipy.optimize import Bounds, LinearConstraint, milp  # noqa: PLC0415 - takes a second
    from scipy.sparse import coo_array  # noqa: PLC0415

    size = int(code.max()) + 1
    once = (np.ones(len(code)), (code, np.arange(len(code))))
    found = milp(
        -value,
        integrality=np.ones(len(code)),
        bounds=Bounds(0, 1),
        constraints=[
            LinearConstraint(coo_array(once, shape=(size, len(code))).tocsr(), -np.inf, 1),
            LinearConstraint(minutes[np.newaxis], -np.inf, budget),
        ],
        options={"time_limit": SECONDS, "mip_rel_gap": GAP},
    )
    most = np.inf if found.mip_dual_bound is None else -float(found.mip_dual_bound)
    if found.x is None:
        return None, most
    taken: Flags = found.x > 0.5
    fits = minutes[taken].sum() <= budget + SMALLEST * len(code)
    return (taken if fits else None), most


def _bound(code: Ints, minutes: Floats, value: Floats, budget: float) -> float:
    """Return the least of the Lagrangian over prices of a minute: convex, by thirds."""
    size = int(code.max()) + 1

    def at(price: float) -> float:
        best = np.zeros(size)
        np.maximum.at(best, code, value - price * minutes)
        return price * budget + float(best.sum())

    low, high = 0.0, float((value / np.maximum(minutes, SMALLEST)).max())
    for _ in range(60):
        one, other = low + (high - low) / 3, high - (high - low) / 3
        low, high = (low, other) if at(one) <= at(other) else (one, high)
    return min(at(low), at(high), at((low + high) / 2))
