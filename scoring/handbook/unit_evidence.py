"""Everything that multipliers rest on at each unit."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.arm_restraint import ArmRestraint, arm_restraint
from scoring.handbook.effect import Effect, Evidence
from scoring.handbook.prevalence import Prevalence
from scoring.limits import UnitLimits
from scoring.records import units_with
from scoring.timeline.known import Known, Status

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class Looked:
    """The state of one effect at each unit, and how it is known.

    Attributes
    ----------
    state : ndarray, shape (n_units,)
        Missing where nobody has looked, or where the mounting has no such state. [-]
    seen, cured, unseen : ndarray of bool, shape (n_units,)
        Whether it was seen, was only reported cured, or neither; all False where there is none.
    """

    state: Floats
    seen: Flags
    cured: Flags
    unseen: Flags


def any_reported_cured(known: Known, checks: tuple[str, ...]) -> Flags:
    """Tell of which units one of some checks was only reported cured."""
    status = known.status[list(checks)].to_numpy()
    return np.asarray((status == Status.REPORTED_CURED).any(axis=1))


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

    @cached_property
    def _looked(self) -> dict[str, Looked]:
        return {}

    def looked(self, effect: Effect) -> Looked:
        """Tell what was seen of an effect; it is asked for each failure and worked out once."""
        if effect.name not in self._looked:
            here = units_with(effect, self.known.units)
            state = np.where(here, effect.state(self), np.nan)
            seen = ~np.isnan(state)
            cured = here & ~seen & any_reported_cured(self.known, effect.checks)
            self._looked[effect.name] = Looked(state, seen, cured, here & ~seen & ~cured)
        return self._looked[effect.name]
