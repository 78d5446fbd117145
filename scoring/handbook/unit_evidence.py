"""Everything that multipliers rest on at each unit."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.arm_restraint import ArmRestraint, arm_restraint
from scoring.handbook.effect import Evidence
from scoring.handbook.prevalence import Prevalence
from scoring.limits import UnitLimits
from scoring.timeline.known import Known


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

    @classmethod
    def of(cls, known: Known, limits: UnitLimits, prevalence: Prevalence) -> "UnitEvidence":
        """Work out how each torque arm is held, where nothing else has asked for it before."""
        usual = prevalence.arms(prevalence.groups(known))
        return cls(known, limits, arm_restraint(known, limits, usual), prevalence)

    @cached_property
    def groups(self) -> NDArray[np.int64]:
        """Where each unit stands in the tables of the prevalence."""
        return self.prevalence.groups(self.known)
