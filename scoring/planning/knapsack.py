"""Fill shutdowns: at most one set of work a unit, no window longer than it is."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from scoring.errors import FixableError

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

FIRST_CORE = 100
"""Places to fill that the first search looks at, of all those nearest to worth it. Ours."""

SMALLEST = 1e-9


@dataclass(frozen=True)
class Patience:
    """When to end a search: never by the clock, so that a busy machine finds the same.

    Attributes
    ----------
    gap : float
        Share by which what was found may fall short of the best. [-]
    nodes : int
        How many branches of the tree of choices are looked at, at the most.
    """

    gap: float
    nodes: int


@dataclass(frozen=True)
class Filled:
    """What was taken.

    Attributes
    ----------
    taken : ndarray of bool, shape (n_places,)
        One place is one set of work in one window.
    bound : float
        What no choice could pass.
    """

    taken: Flags
    bound: float


@dataclass(frozen=True)
class AtLeast:
    """A sum that has to be reached by what is taken.

    Attributes
    ----------
    adds : ndarray, shape (n_places,)
        What each place adds to it.
    least : float
        The least that it may come to, in the unit of ``adds``.
    """

    adds: Floats
    least: float


@dataclass(frozen=True)
class Knapsack:
    """Places to fill, one for each set of work in each window into which it fits.

    Attributes
    ----------
    unit, window : ndarray of int, shape (n_places,)
        Numbers of unit and window, from 0 on without gaps.
    hours : ndarray, shape (n_places,)
        What each takes. [h]
    capacity : ndarray, shape (n_windows,)
        What each window has. [h]
    """

    unit: Ints
    window: Ints
    hours: Floats
    capacity: Floats

    def fill(
        self,
        value: Floats,
        patience: Patience,
        floors: Sequence[AtLeast] = (),
        known: Flags | None = None,
    ) -> Filled:
        """Choose what is worth most.

        Parameters
        ----------
        value : ndarray, shape (n_places,)
            What each is worth, at least 0.
        patience : Patience
            When to end the search.
        floors : sequence of AtLeast
            Other sums that have to be reached.
        known : ndarray of bool, optional, shape (n_places,)
            A choice that fits and reaches them; needed where there are floors.

        Returns
        -------
        Filled

        Notes
        -----
        The linear relaxation tells how much any choice can be worth, and how much less it is worth
        with a place taken that the relaxation leaves (reduced costs, textbook). So the places
        that can still matter are few. They are searched by a mixed-integer programme (HiGHS);
        were too few looked at, the second search looks at all that can beat the first. A search
        that ends before it found anything leaves what was known to fit: the choice that was given,
        or what the relaxation takes whole.
        """
        gap = patience.gap
        if not (value > 0).any():
            return Filled(np.zeros(len(value), dtype=bool) if known is None else known, 0.0)
        rows, limits = self._rows(floors)
        relaxed = _relaxed(value, rows, limits)
        most, costs, of_none = relaxed.most, relaxed.costs, relaxed.costs_of_none[self.unit]
        rank = min(FIRST_CORE, len(value)) - 1
        reach = max(float(np.partition(costs, rank)[rank]), gap * most, SMALLEST)
        taken, bound = relaxed.whole if known is None else known, most
        for _ in range(2):
            looked_at = costs <= reach
            core = np.flatnonzero(looked_at)
            surely = of_none > reach
            best_left_out = most - min(
                costs[~looked_at].min(initial=np.inf), of_none[surely].min(initial=np.inf)
            )
            found, best = _search(
                _Core(value[core], rows[:, core], limits, np.unique(self.unit[surely])),
                patience,
                most,
            )
            if found is None:
                reach = float(max(costs.max(), of_none.max()))
                continue
            better = np.zeros(len(value), dtype=bool)
            better[core[found]] = True
            if value[better].sum() >= value[taken].sum():
                taken = better
            bound = min(most, max(best, best_left_out))
            if bound - float(value[taken].sum()) <= gap * bound + SMALLEST:
                break
            reach = most - float(value[taken].sum()) + SMALLEST
        return Filled(taken, bound)

    def _rows(self, floors: Sequence[AtLeast]) -> tuple[Any, Floats]:
        """Lay out what limits the places: units, windows, and other sums."""
        from scipy.sparse import coo_array  # noqa: PLC0415 - a second, which only a plan may cost

        n_units, column = int(self.unit.max()) + 1, np.arange(len(self.unit))
        values = [np.ones(len(column)), self.hours]
        places = [self.unit, n_units + self.window]
        limits = [np.ones(n_units), self.capacity]
        for at, floor in enumerate(floors, n_units + len(self.capacity)):
            values.append(-floor.adds)
            places.append(np.full(len(column), at))
            limits.append(np.array([-floor.least]))
        bound = np.concatenate(limits)
        rows = coo_array(
            (np.concatenate(values), (np.concatenate(places), np.tile(column, len(values)))),
            shape=(len(bound), len(column)),
        )
        return rows.tocsc(), bound


@dataclass(frozen=True)
class _Relaxed:
    """The linear relaxation: what it is worth, and what it costs to take another place, or none."""

    most: float
    whole: Flags
    costs: Floats
    costs_of_none: Floats


def _relaxed(value: Floats, rows: Any, limits: Floats) -> _Relaxed:  # noqa: ANN401
    from scipy.optimize import linprog  # noqa: PLC0415 - a second, which only a plan may cost

    found = linprog(-value, A_ub=rows, b_ub=limits, bounds=(0, None), method="highs")
    if found.x is None:
        raise FixableError("no plan was found; give other windows")
    prices = found.ineqlin.marginals
    costs = np.maximum(-value - rows.T @ prices, 0.0)
    return _Relaxed(-float(found.fun), found.x > 1 - SMALLEST, costs, -prices)


@dataclass(frozen=True)
class _Core:
    """The places that are searched, and the units of which one place is surely taken."""

    value: Floats
    rows: Any
    limits: Floats
    surely: Ints


def _search(core: _Core, patience: Patience, most: float) -> tuple[Flags | None, float]:
    """Search the core; return what is taken, None if nothing was found, and a bound."""
    from scipy.optimize import Bounds, LinearConstraint, milp  # noqa: PLC0415

    least = np.full(len(core.limits), -np.inf)
    least[core.surely] = 1.0
    scale = max(most, 1.0)
    found = milp(
        -core.value / scale,
        constraints=[LinearConstraint(core.rows, least, core.limits)],
        integrality=np.ones(len(core.value)),
        bounds=Bounds(0, 1),
        options={"mip_rel_gap": patience.gap, "node_limit": patience.nodes},
    )
    if found.x is None:
        return None, most
    return found.x > 0.5, -float(found.mip_dual_bound) * scale
