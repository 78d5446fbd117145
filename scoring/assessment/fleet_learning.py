"""What a fleet's looks and failures, as recorded by a day, say of its hazards."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.learning.learned import LearnedMode
from scoring.learning.other_plants import OtherPlants
from scoring.learning.own_failures import FailureTally, OwnFailures
from scoring.validation.choose_basis import Basis
from scoring.validation.predictions import HANDBOOK


@dataclass(frozen=True)
class FleetLearning:
    """What a fleet's own failures say.

    Attributes
    ----------
    as_of : Timestamp
        The day up to which they were learned from.
    basis : dict of str to Basis
        For each failure what was learned, whether it is used, and why.
    predictions : DataFrame
        How it was tried, from ``scoring.validation.predictions``; empty where it could not be.
    tallies : dict of str to FailureTally
        Failures of each unit of the fleet that is ranked; none where they are not kept.
    others : OtherPlants, optional
        Other plants, from whose failures learning began; by default it began with the handbook.
    """

    as_of: pd.Timestamp
    basis: dict[str, Basis]
    predictions: pd.DataFrame
    tallies: dict[str, FailureTally]
    others: OtherPlants | None = None

    @property
    def used(self) -> dict[str, LearnedMode]:
        """What corrects the handbook, for each failure where anything does."""
        return {
            mode: basis.learned
            for mode, basis in self.basis.items()
            if basis.used and basis.learned is not None
        }

    def used_as_of(
        self, day: pd.Timestamp, place: NDArray[np.int64]
    ) -> dict[str, tuple[LearnedMode, OwnFailures]]:
        """Return what corrects the handbook, and what had become of units by a day.

        Parameters
        ----------
        day : Timestamp
            The day.
        place : ndarray of int, shape (n_units,)
            The units, as their places in ``Fleet.units``.

        Returns
        -------
        dict of str to tuple of LearnedMode and OwnFailures
        """
        date = np.datetime64(day.date(), "D")
        return {
            mode: (learned, self.tallies[mode].as_of(date).where(place))
            for mode, learned in self.used.items()
        }

    @property
    def words(self) -> str:
        """Name the basis of a ranking as its table does: that of the failure that rests on most."""
        return max((self.basis[mode].words for mode in self.used), key=len, default=HANDBOOK)
