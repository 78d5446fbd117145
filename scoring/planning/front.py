"""The front of a shutdown: from most holds lifted to most loss avoided, and what lies between."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.planning.choose import GAP, NODES, Choice, choose, knapsack_of
from scoring.planning.knapsack import AtLeast, Patience
from scoring.planning.shutdowns import Shutdowns
from scoring.planning.wishes import NO_WISHES, Wishes

Flags = NDArray[np.bool_]
Ints = NDArray[np.int64]

BETWEEN = 5
"""How many plans are looked for between the ends. Ours."""

SAME = 1e-6
"""Two plans avoid the same if the difference is no larger share of the most. Ours. [-]"""

PRICE_OF_A_HOLD = 4e-6
"""What a lifted hold counts beside loss avoided, of all loss that work could avoid. Ours. [-]

It is more than a search overlooks, so that no plan leaves a hold that costs no loss to lift.
"""


@dataclass(frozen=True)
class Front:
    """Plans for the same shutdowns of which none is bettered by another.

    Attributes
    ----------
    choices : tuple of Choice
        The plan that lifts most holds first, the one that avoids most loss last. One, where the
        same plan does both.
    """

    choices: tuple[Choice, ...]

    @property
    def most_holds(self) -> Choice:
        """The plan that lifts most holds, and of these avoids most."""
        return self.choices[0]

    @property
    def most_avoided(self) -> Choice:
        """The plan that avoids most loss, and of these lifts most holds."""
        return self.choices[-1]

    def lifting(self, least: int) -> Choice:
        """Return the plan that avoids most of those that lift so many holds.

        Parameters
        ----------
        least : int
            How many holds; if no plan lifts so many, as many as can be.

        Returns
        -------
        Choice
        """
        enough = [one for one in self.choices if one.holds >= least]
        return enough[-1] if enough else self.most_holds


def front_of(  # noqa: PLR0913 - what is asked of plans
    bundles: pd.DataFrame,
    shutdowns: Shutdowns,
    wishes: Wishes = NO_WISHES,
    *,
    asked: int | None = None,
    between: int = BETWEEN,
    gap: float = GAP,
    nodes: int = NODES,
) -> Front:
    """Return both ends, and a handful of plans between them.

    Parameters
    ----------
    bundles : DataFrame, shape (n_bundles, ...)
        From ``weigh_bundles``.
    shutdowns : Shutdowns
        When work can be done.
    wishes : Wishes
        Units that must be in, or out.
    asked : int, optional
        So many holds somebody asked to be lifted; there is a plan for them, too.
    between : int
        How many plans are looked for between the ends, by evenly spread numbers of holds.
    gap : float
        Share by which a plan may fall short of the best. [-]
    nodes : int
        How many branches a search looks at, at the most.

    Returns
    -------
    Front

    Notes
    -----
    Each plan between is the most loss avoided among those that lift at least so many holds (the
    epsilon-constraint method of multi-objective programming, textbook, augmented by a small price
    on a lifted hold). What another plan betters is left out.
    """
    settings = _Settings(bundles, shutdowns, wishes, gap, nodes)
    holds_end = choose(bundles, shutdowns, wishes=wishes, gap=gap, nodes=nodes)
    loss_end = choose(bundles, shutdowns, wishes=wishes, holds_first=False, gap=gap, nodes=nodes)
    if holds_end.holds == 0:  # then both are one
        return Front((holds_end,))
    places = _Places.of(settings)
    loss_end = places.most_avoided(loss_end, at_least=0)
    wanted = np.linspace(loss_end.holds, holds_end.holds, between + 2)[1:-1].round().astype(int)
    numbers = {*wanted.tolist(), *(() if asked is None else (asked,))}
    inner = [
        places.most_avoided(holds_end, at_least=least)
        for least in sorted(numbers, reverse=True)
        if loss_end.holds < least < holds_end.holds
    ]
    return Front(_unbettered([holds_end, *inner, loss_end]))


def _unbettered(choices: list[Choice]) -> tuple[Choice, ...]:
    """Leave out what another plan betters; most holds first."""
    order = sorted(choices, key=lambda one: (-one.holds, -one.avoided))
    same = SAME * max(one.avoided for one in choices)
    kept: list[Choice] = []
    for one in order:
        if not kept or one.avoided > kept[-1].avoided + same:
            kept.append(one)
    return tuple(kept)


@dataclass(frozen=True)
class _Settings:
    bundles: pd.DataFrame
    shutdowns: Shutdowns
    wishes: Wishes
    gap: float
    nodes: int


class _Places:
    """All places of all windows in one knapsack, for a number of holds binds them together."""

    def __init__(self, settings: _Settings, bundle: Ints, window: Ints) -> None:
        self._settings, self._bundle, self._window = settings, bundle, window
        bundles = settings.bundles
        self._knapsack = knapsack_of(bundles, settings.shutdowns, bundle, window)
        self._avoids = bundles["loss_avoided"].to_numpy(dtype=np.float64)[bundle]
        self._lifts = bundles["clears_hold"].to_numpy(dtype=np.float64)[bundle]
        self._musts = settings.wishes.musts(bundles)[bundle].astype(np.float64)
        most = bundles["loss_avoided"].groupby(bundles["unit"].to_numpy()).max().sum()
        self._price = PRICE_OF_A_HOLD * float(most)

    @classmethod
    def of(cls, settings: _Settings) -> "_Places":
        fits, _ = settings.wishes.fits(settings.bundles, settings.shutdowns)
        return cls(settings, *np.nonzero(fits))

    def most_avoided(self, known: Choice, *, at_least: int) -> Choice:
        """Return the plan that avoids most of those that lift so many holds, as ``known`` does."""
        taken = self._taken(known)
        floors = self._floors(taken)
        if at_least:
            floors.append(AtLeast(self._lifts, float(at_least)))
        priced = self._avoids + self._price * self._lifts
        patience = Patience(self._settings.gap, self._settings.nodes)
        filled = self._knapsack.fill(priced, patience, floors, taken)
        bound = filled.bound - self._price * at_least
        if not at_least:  # what avoids most is known already
            bound = known.bound
        window = np.full(len(self._settings.bundles), -1, dtype=np.int64)
        window[self._bundle[filled.taken]] = self._window[filled.taken]
        avoided = float(self._avoids[filled.taken].sum())
        holds = int(self._lifts[filled.taken].sum())
        return Choice(
            window,
            avoided,
            max(bound, avoided),
            holds,
            holds,
            holds_first=False,
            at_least=at_least,
        )

    def _floors(self, taken: Flags) -> list[AtLeast]:
        if not self._musts.any():
            return []
        return [AtLeast(self._musts, float(self._musts @ taken))]

    def _taken(self, choice: Choice) -> Flags:
        taken: Flags = choice.window[self._bundle] == self._window
        return taken


def table_of(front: Front, bundles: pd.DataFrame, n_held: int) -> pd.DataFrame:
    """Return what each plan of a front comes to.

    Parameters
    ----------
    front : Front
        The plans.
    bundles : DataFrame, shape (n_bundles, ...)
        That they choose from.
    n_held : int
        How many units are on hold.

    Returns
    -------
    DataFrame, shape (n_plans, 5)
        ``holds_lifted``, ``holds_left``, ``loss_avoided`` [currency], ``hours`` [h] and ``jobs``.
    """
    hours = bundles["hours"].to_numpy(dtype=np.float64)
    rows = [
        {
            "holds_lifted": one.holds,
            "holds_left": n_held - one.holds,
            "loss_avoided": one.avoided,
            "hours": float(hours[one.window >= 0].sum()),
            "jobs": int((one.window >= 0).sum()),
        }
        for one in front.choices
    ]
    return pd.DataFrame(rows)
