"""What hazards are measured with: the handbook, how usual faults are, and what failures say."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.assessment.fleet_learning import FleetLearning
from scoring.handbook.prevalence import Prevalence
from scoring.handbook.unit_evidence import UnitEvidence
from scoring.learning.learned import LearnedMode
from scoring.learning.own_failures import OwnFailures
from scoring.limits import UnitLimits
from scoring.risk.hazard import ModeRisk, mode_risks
from scoring.timeline.known import Known
from scoring.validation.predictions import HANDBOOK


@dataclass(frozen=True)
class Yardstick:
    """What hazards are measured with, as known by a day.

    Units as they are, as they were and as they would be after re-work or a look are compared by
    one yardstick, so that they differ by what is known of the units alone.

    Attributes
    ----------
    as_of : Timestamp
        The day.
    prevalence : Prevalence
        How usual faults are where nobody has looked.
    learning : FleetLearning or None
        What the fleet's own failures say; None by the handbook alone.
    """

    as_of: pd.Timestamp
    prevalence: Prevalence
    learning: FleetLearning | None

    @property
    def basis(self) -> str:
        """Name what hazards rest on, as the ranking does."""
        return HANDBOOK if self.learning is None else self.learning.words

    def corrections(self, place: NDArray[np.int64]) -> dict[str, tuple[LearnedMode, OwnFailures]]:
        """Return what corrects the handbook, and what had become of units.

        Parameters
        ----------
        place : ndarray of int, shape (n_units,)
            The units, as their places in ``Fleet.units``.

        Returns
        -------
        dict of str to tuple of LearnedMode and OwnFailures
            Nothing by the handbook alone.
        """
        return {} if self.learning is None else self.learning.used_as_of(self.as_of, place)

    def risks(self, known: Known, limits: UnitLimits, horizon_days: int) -> dict[str, ModeRisk]:
        """Work out the risk of every failure at units as they are, were or would be known.

        Parameters
        ----------
        known : Known
            What is known of the units; one may come again and again.
        limits : UnitLimits
            Their limits.
        horizon_days : int
            Days looked ahead, above 0. [d]

        Returns
        -------
        dict of str to ModeRisk
            For each failure.
        """
        evidence = UnitEvidence.of(known, limits, self.prevalence)
        return mode_risks(evidence, horizon_days, self.corrections(known.place))
