"""Choose what to do in which shutdown: a knapsack of which each unit may fill one place."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.planning.knapsack import Filled, Knapsack, Patience
from scoring.planning.shutdowns import Shutdowns

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

GAP = 1e-6
"""The plan may fall short of the best by this share before the search ends. Ours. [-]"""

NODES = 1000
"""A search ends after so many branches, and says how far from the best it may be. Ours.

Plans of 10,000 units need 180 at the most, drawn ones of 300 units and 12 windows 550. Where they
are not enough, a thousand take some five seconds, and more find little.
"""


@dataclass(frozen=True)
class Choice:
    """What was chosen.

    Attributes
    ----------
    window : ndarray of int, shape (n_bundles,)
        The window in which each bundle is done, as its place in ``Shutdowns.table``; -1 for none.
    avoided, bound : float
        Loss avoided, and what no plan that lifts as many holds could pass. [currency]
    holds, holds_bound : int
        Holds lifted, and how many no plan could pass.
    holds_first : bool
        Whether holds came first; else loss avoided alone counted.
    """

    window: Ints
    avoided: float
    bound: float
    holds: int
    holds_bound: int
    holds_first: bool = True

    @property
    def gap(self) -> float:
        """Share of the loss avoided by which the plan may fall short of the best. [-]"""  # noqa: D400
        return max(self.bound - self.avoided, 0.0) / max(self.bound, 1e-12)

    @property
    def words(self) -> str:
        """Say how good the plan is.

        Examples
        --------
        >>> Choice(np.array([0]), 90.0, 100.0, 2, 2, holds_first=False).words
        'by loss alone; no plan avoids 10.000% more'
        """
        if not self.holds_first:
            best = "more" if self.gap < 5e-6 else f"{self.gap:.3%} more"
            return f"by loss alone; no plan avoids {best}"
        holds = (
            "no plan lifts more holds"
            if self.holds >= self.holds_bound
            else f"no plan lifts more than {self.holds_bound} holds"
        )
        if self.gap < 5e-6:
            return f"{holds}; of those that lift as many none avoids more"
        return f"{holds}; of those that lift as many none avoids {self.gap:.3%} more"


def choose(
    bundles: pd.DataFrame,
    shutdowns: Shutdowns,
    *,
    holds_first: bool = True,
    gap: float = GAP,
    nodes: int = NODES,
) -> Choice:
    """Choose at most one bundle of each unit, and its window: holds first, then loss avoided.

    Parameters
    ----------
    bundles : DataFrame, shape (n_bundles, ...)
        With ``unit``, ``site``, ``hours``, ``people``, ``crane``, ``lead_days``,
        ``loss_avoided`` and ``clears_hold``.
    shutdowns : Shutdowns
        The windows.
    holds_first : bool
        Whether as many holds as can be are lifted first; else loss avoided alone counts.
    gap : float
        Share by which the plan may fall short of the best. [-]
    nodes : int
        How many branches a search looks at, at the most.

    Returns
    -------
    Choice

    Notes
    -----
    Two knapsacks: the first finds how many holds can be lifted, the second the most loss avoided
    among plans that lift as many. Windows between which no unit can choose are planned apart.
    """
    fits, _ = shutdowns.fits(bundles)
    bundle, window = np.nonzero(fits)
    of_part = _parts(bundles["unit"].to_numpy()[bundle], window, len(shutdowns))[window]
    chosen = np.full(len(bundles), -1, dtype=np.int64)
    bound, holds_bound = 0.0, 0
    for part in np.unique(of_part):
        here = np.flatnonzero(of_part == part)
        filled, most_holds = _fill(
            bundles,
            shutdowns,
            (bundle[here], window[here]),
            Patience(gap, nodes),
            holds_first=holds_first,
        )
        chosen[bundle[here][filled.taken]] = window[here][filled.taken]
        bound, holds_bound = bound + filled.bound, holds_bound + most_holds
    taken = chosen >= 0
    avoided = float(bundles["loss_avoided"].to_numpy()[taken].sum())
    holds = int(bundles["clears_hold"].to_numpy()[taken].sum())
    most = max(holds_bound, holds)
    return Choice(chosen, avoided, max(bound, avoided), holds, most, holds_first)


def _parts(unit: Ints, window: Ints, n_windows: int) -> Ints:
    """Return for each window the number of the part it belongs to: windows that share a unit."""
    if len(unit) == 0:
        return np.zeros(n_windows, dtype=np.int64)
    from scipy.sparse import coo_array  # noqa: PLC0415 - a second, which only a plan may cost
    from scipy.sparse.csgraph import connected_components  # noqa: PLC0415

    _, code = np.unique(unit, return_inverse=True)
    size = int(code.max()) + 1
    pairs = coo_array(
        (np.ones(len(code)), (code, size + window)), shape=(size + n_windows, size + n_windows)
    )
    labels: Ints = connected_components(pairs, directed=False)[1][size:]
    return labels.astype(np.int64)


def _fill(
    bundles: pd.DataFrame,
    shutdowns: Shutdowns,
    places: tuple[Ints, Ints],
    patience: Patience,
    *,
    holds_first: bool,
) -> tuple[Filled, int]:
    """Fill the windows of one part; return what is taken and how many holds none could pass."""
    bundle, window = places
    windows, slot = np.unique(window, return_inverse=True)
    _, unit = np.unique(bundles["unit"].to_numpy()[bundle], return_inverse=True)

    def column(name: str) -> Floats:
        values: Floats = bundles[name].to_numpy(dtype=np.float64)[bundle]
        return values

    knapsack = Knapsack(unit, slot, column("hours"), shutdowns.hours[windows])
    lifts = column("clears_hold")
    if not holds_first or not lifts.any():
        return knapsack.fill(column("loss_avoided"), patience), 0
    of_holds = knapsack.fill(lifts, Patience(0.0, patience.nodes))
    filled = knapsack.fill(column("loss_avoided"), patience, (lifts, of_holds.taken))
    return filled, int(np.floor(of_holds.bound + 1e-6))
