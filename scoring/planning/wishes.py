"""Units that somebody wants in a plan, or out of it, whatever is worth more."""

from collections.abc import Collection
from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.errors import FixableError
from scoring.planning.shutdowns import Shutdowns

Flags = NDArray[np.bool_]
Words = NDArray[np.object_]

LEFT_OUT = "it was asked to be left out"
NOTHING_TO_DO = "no re-work is known there that avoids a loss or lifts a hold"
NOT_ALL_FIT = "there are not enough hours for all that must be in"


@dataclass(frozen=True)
class Wishes:
    """Which units must be in a plan, and which must be left out.

    Attributes
    ----------
    must_in, must_out : frozenset of str
        By their ids.

    Raises
    ------
    FixableError
        If a unit stands in both.
    """

    must_in: frozenset[str] = frozenset()
    must_out: frozenset[str] = frozenset()

    def __post_init__(self) -> None:
        """Refuse what cannot be."""
        both = sorted(self.must_in & self.must_out)
        if both:
            raise FixableError(f"{', '.join(both)}: asked to be in and to be left out; choose one")

    def refuse_unknown(self, unit_ids: Collection[str]) -> None:
        """Refuse units that are not there.

        Parameters
        ----------
        unit_ids : collection of str
            The units in service.

        Raises
        ------
        FixableError
            If a unit that must be in or out is none of them.
        """
        strange = sorted((self.must_in | self.must_out) - set(unit_ids))
        if strange:
            raise FixableError(f"{', '.join(strange)}: no unit in service on that day is called so")

    def musts(self, bundles: pd.DataFrame) -> Flags:
        """Tell which bundles are work at units that must be in."""
        return _at(bundles, self.must_in)

    def fits(self, bundles: pd.DataFrame, shutdowns: Shutdowns) -> tuple[Flags, Words]:
        """Tell which work may be done in which window, as ``Shutdowns.fits`` does.

        Parameters
        ----------
        bundles : DataFrame, shape (n_bundles, ...)
            As weighed.
        shutdowns : Shutdowns
            The windows.

        Returns
        -------
        tuple of ndarray
            Flags, shape (n_bundles, n_windows); and words, empty where it may be done somewhere.
        """
        fits, why = shutdowns.fits(bundles)
        out = _at(bundles, self.must_out)
        return fits & ~out[:, np.newaxis], np.where(out, LEFT_OUT, why).astype(object)

    def unmet(self, bundles: pd.DataFrame, shutdowns: Shutdowns, chosen: Flags) -> pd.DataFrame:
        """Name the units that must be in a plan and are not, and say why.

        Parameters
        ----------
        bundles : DataFrame, shape (n_bundles, ...)
            As weighed.
        shutdowns : Shutdowns
            The windows.
        chosen : ndarray of bool, shape (n_bundles,)
            What the plan does.

        Returns
        -------
        DataFrame
            ``unit_id`` and ``why``, by the id.
        """
        ids = bundles["unit_id"].to_numpy(dtype=object)
        left = sorted(self.must_in - set(ids[chosen]))
        fits, unfit = shutdowns.fits(bundles)
        why = []
        for one in left:
            own = ids == one
            if fits[own].any():
                why.append(NOT_ALL_FIT)
            else:
                why.append(str(unfit[own][0]) if own.any() else NOTHING_TO_DO)
        return pd.DataFrame({"unit_id": left, "why": why}, dtype=object)


NO_WISHES = Wishes()
"""Everything is left to what it is worth."""


def _at(bundles: pd.DataFrame, unit_ids: frozenset[str]) -> Flags:
    if not unit_ids:
        return np.zeros(len(bundles), dtype=bool)
    there: Flags = bundles["unit_id"].isin(unit_ids).to_numpy(dtype=bool)
    return there
