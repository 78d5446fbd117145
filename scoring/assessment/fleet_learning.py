"""What a fleet's looks and failures, as recorded by a day, say of its hazards."""

from dataclasses import dataclass

import pandas as pd

from scoring.learning.learned import LearnedMode
from scoring.validation.choose_basis import Basis
from scoring.validation.foretold import FLEET, HANDBOOK


@dataclass(frozen=True)
class FleetLearning:
    """What a fleet's own failures say.

    Attributes
    ----------
    as_of : Timestamp
        The day up to which they were learned from.
    basis : dict of str to Basis
        For each failure what was learned, whether it is used, and why.
    foretold : DataFrame
        How it was tried, from ``scoring.validation.foretold``; empty where it could not be.
    """

    as_of: pd.Timestamp
    basis: dict[str, Basis]
    foretold: pd.DataFrame

    @property
    def used(self) -> dict[str, LearnedMode]:
        """What corrects the handbook, for each failure where anything does."""
        return {
            mode: basis.learned
            for mode, basis in self.basis.items()
            if basis.used and basis.learned is not None
        }

    @property
    def words(self) -> str:
        """Name the basis of a ranking as its table does."""
        return FLEET if self.used else HANDBOOK
