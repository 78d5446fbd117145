"""Everything that multipliers rest on at each unit."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.arm_restraint import ArmRestraint
from scoring.handbook.effect import Evidence
from scoring.handbook.prevalence import Prevalence


@dataclass(frozen=True)
class UnitEvidence(Evidence):
    """What was found, what it does to the torque arm, and what is usual where nobody looked.

    Attributes
    ----------
    restraint : ArmRestraint
        How the torque arm is held.
    prevalence : Prevalence
        How usual each state is where nobody has looked.
    """

    restraint: ArmRestraint
    prevalence: Prevalence

    @cached_property
    def groups(self) -> NDArray[np.int64]:
        """Where each unit stands in the tables of the prevalence."""
        return self.prevalence.groups(self.known)
