"""One unit of an assessment, with its numbers at hand."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.arm_restraint import ArmRestraint, arm_restraint
from scoring.consequences.consequence import Consequences
from scoring.consequences.states_of_the_arm import UsualArms
from scoring.contract import UNITS
from scoring.explanation.traced_number import Input
from scoring.handbook import held_arm_effect
from scoring.handbook.prevalence import Prevalence
from scoring.handbook.unit_evidence import UnitEvidence
from scoring.learning.learned import LearnedMode
from scoring.learning.own_failures import OwnFailures
from scoring.limits import UnitLimits
from scoring.risk.fleet_risk import FleetRisk
from scoring.timeline.known import Known, Status

SAID_OF_SIZES = {
    "output_torque_nm": "running torque",
    "peak_factor": "peak over running torque",
    "unit_mass_kg": "mass",
    "arm_length_mm": "arm length",
    "bearing_span_mm": "bearing span",
    "arm_offset_mm": "arm beside the nearer bearing",
    "shaft_support_distance_mm": "distance to the shaft's bearing",
    "shaft_diameter_mm": "shaft diameter",
    "hub_outer_mm": "hub diameter",
    "clamp_length_mm": "clamp length",
    "isolator_outer_mm": "isolator diameter",
    "isolator_inner_mm": "its hole",
    "isolator_thickness_mm": "isolator thickness",
    "isolator_hardness_shore_a": "isolator hardness",
}
"""What sizes and loads of the nameplate are called beside a number."""


@dataclass(frozen=True)
class AssessedUnit:
    """One unit of an assessment.

    Attributes
    ----------
    place : int
        Its place in ``known.units``.
    known : Known
        What was known.
    limits : UnitLimits
        The limits.
    consequences : Consequences
        What the findings do, in physical units.
    risk : FleetRisk
        The risk.
    horizon_days : int
        Days looked ahead. [d]
    prevalence : Prevalence
        How usual faults are where nobody has looked.
    learned : dict of str to tuple of LearnedMode and OwnFailures
        What the fleet's own failures say, and those of each unit, for each failure whose hazard
        they correct.
    """

    place: int
    known: Known
    limits: UnitLimits
    consequences: Consequences
    risk: FleetRisk
    horizon_days: int
    prevalence: Prevalence
    learned: dict[str, tuple[LearnedMode, OwnFailures]]

    @cached_property
    def groups(self) -> NDArray[np.int64]:
        """Where every unit of the fleet stands in the tables of the prevalence."""
        return self.prevalence.groups(self.known)

    @cached_property
    def evidence(self) -> UnitEvidence:
        """What the multipliers of this one unit rest on."""
        own = np.array([self.place])
        return UnitEvidence.of(self.known.at(own), self.limits.at(own), self.prevalence)

    @cached_property
    def evidence_by_handbook(self) -> UnitEvidence:
        """The same, were faults as usual as in the handbook."""
        return replace(self.evidence, prevalence=Prevalence())

    @cached_property
    def usual_arms(self) -> tuple[ArmRestraint, ArmRestraint]:
        """Its arm had nobody looked at it, by this fleet's looks, and as it is by the handbook."""
        here = np.array([self.place])
        known, limits = self.known.at(here), self.limits.at(here)
        arms = self.prevalence.arms(self.groups[here])
        nobody = arm_restraint(_arm_not_looked_at(known), limits, arms)
        return nobody, arm_restraint(known, limits, UsualArms())

    def at(self, values: NDArray[np.float64]) -> float:
        """Return the unit's own value of an array of the fleet."""
        return float(values[self.place])

    def plate(self, column: str) -> Input:
        """Return a nameplate value, in the contract's unit, as an input."""
        nameplate = self.consequences.nameplate
        value = self.at(nameplate[column])
        value = value * 1000 if column.endswith("_mm") else value
        assumed = not nameplate.was_given(column, self.place)
        return Input(SAID_OF_SIZES[column], value, UNITS[column].unit, assumed)

    def seen(self, check: str, name: str, unit: str, otherwise: str) -> Input:
        """Return what was seen of a check, or what was taken instead."""
        value = self.known.found[check].iloc[self.place]
        if pd.isna(value):
            return Input(name, otherwise, "", assumed=True)
        return Input(name, float(value) if unit else str(value).replace("_", " "), unit)


def _arm_not_looked_at(known: Known) -> Known:
    """Return what would be known had nobody looked at the torque arm or measured the run-out."""
    nothing = dict.fromkeys(held_arm_effect.CHECKS, np.nan)
    blank = known.found.iloc[:0].reindex(known.found.index)
    return replace(
        known,
        found=known.found.assign(**{name: blank[name] for name in nothing}),
        exceedance=known.exceedance.assign(**nothing),
        status=known.status.assign(**dict.fromkeys(nothing, np.int8(Status.NOT_SEEN))),
    )
