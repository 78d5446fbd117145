"""Choose what to do in which shutdown: a knapsack of which each unit may fill one place."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.planning.knapsack import AtLeast, Filled, Knapsack, Patience
from scoring.planning.shutdowns import Shutdowns
from scoring.planning.wishes import NO_WISHES, Wishes

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

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
    at_least : int
        How many holds were to be lifted, where loss avoided alone counted beside them.
    """

    window: Ints
    avoided: float
    bound: float
    holds: int
    holds_bound: int
    holds_first: bool = True
    at_least: int = 0

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
        >>> Choice(np.array([0]), 90.0, 90.0, 2, 2, holds_first=False, at_least=2).words
        'of plans that lift at least 2 holds none avoids more'
        """
        if not self.holds_first:
            best = "more" if self.gap < 5e-6 else f"{self.gap:.3%} more"
            if self.at_least:
                lifted = f"{self.at_least} hold{'' if self.at_least == 1 else 's'}"
                return f"of plans that lift at least {lifted} none avoids {best}"
            return f"by loss alone; no plan avoids {best}"
        holds = (
            "no plan lifts more holds"
            if self.holds >= self.holds_bound
            else f"no plan lifts more than {self.holds_bound} holds"
        )
        if self.gap < 5e-6:
            return f"{holds}; of those that lift as many none avoids more"
        return f"{holds}; of those that lift as many none avoids {self.gap:.3%} more"


def choose(  # noqa: PLR0913 - what is asked of a plan
    bundles: pd.DataFrame,
    shutdowns: Shutdowns,
    *,
    wishes: Wishes = NO_WISHES,
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
    wishes : Wishes
        Units that must be in; as many as can be, before all else. Units that are left out.
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
    fits, _ = wishes.fits(bundles, shutdowns)
    bundle, window = np.nonzero(fits)
    musts = wishes.musts(bundles)
    of_part = _parts(bundles["unit"].to_numpy()[bundle], window, len(shutdowns))[window]
    chosen = np.full(len(bundles), -1, dtype=np.int64)
    bound, holds_bound = 0.0, 0
    for part in np.unique(of_part):
        here = np.flatnonzero(of_part == part)
        filled, most_holds = _fill(
            bundles,
            shutdowns,
            (bundle[here], window[here]),
            musts,
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


def knapsack_of(
    bundles: pd.DataFrame, shutdowns: Shutdowns, bundle: Ints, window: Ints
) -> Knapsack:
    """Return the knapsack whose places are some bundles in some windows.

    Parameters
    ----------
    bundles : DataFrame, shape (n_bundles, ...)
        With ``unit`` and ``hours``.
    shutdowns : Shutdowns
        The windows.
    bundle, window : ndarray of int, shape (n_places,)
        Of each place its bundle and its window.

    Returns
    -------
    Knapsack
    """
    windows, slot = np.unique(window, return_inverse=True)
    _, unit = np.unique(bundles["unit"].to_numpy()[bundle], return_inverse=True)
    hours = bundles["hours"].to_numpy(dtype=np.float64)[bundle]
    return Knapsack(unit, slot, hours, shutdowns.hours[windows])


def _fill(  # noqa: PLR0913 - what is asked of a plan
    bundles: pd.DataFrame,
    shutdowns: Shutdowns,
    places: tuple[Ints, Ints],
    musts: Flags,
    patience: Patience,
    *,
    holds_first: bool,
) -> tuple[Filled, int]:
    """Fill the windows of one part; return what is taken and how many holds none could pass."""
    knapsack = knapsack_of(bundles, shutdowns, *places)
    whole = Patience(0.0, patience.nodes)
    floors: list[AtLeast] = []
    known: Flags | None = None
    most_holds = 0

    def column(name: str) -> Floats:
        values: Floats = bundles[name].to_numpy(dtype=np.float64)[places[0]]
        return values

    must, lifts = musts[places[0]].astype(np.float64), column("clears_hold")
    if must.any():
        known = knapsack.fill(must, whole).taken
        floors.append(AtLeast(must, float(must @ known)))
    if holds_first and lifts.any():
        of_holds = knapsack.fill(lifts, whole, floors, known)
        known, most_holds = of_holds.taken, int(np.floor(of_holds.bound + 1e-6))
        floors.append(AtLeast(lifts, float(lifts @ known)))
    return knapsack.fill(column("loss_avoided"), patience, floors, known), most_holds
