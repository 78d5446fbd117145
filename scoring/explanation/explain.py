"""Explain one unit."""

from dataclasses import dataclass
from functools import cached_property

import pandas as pd

from scoring.assessment import Assessment
from scoring.explanation.arm_numbers import numbers_of_the_arm
from scoring.explanation.assessed_unit import AssessedUnit
from scoring.explanation.effects_of_unit import effects_of_unit
from scoring.explanation.grip_numbers import grip_left_of
from scoring.explanation.joint_numbers import numbers_of_the_joint, numbers_of_the_seal
from scoring.explanation.risk_numbers import numbers_of_the_risk
from scoring.explanation.traced_number import TracedNumber


@dataclass(frozen=True)
class Explanation:
    """Everything that is said of one unit, and what it rests on.

    Attributes
    ----------
    ranked : Series
        The unit's row of the ranking.
    findings : DataFrame
        What the rules found.
    unit : AssessedUnit
        The unit, with its numbers at hand.
    """

    ranked: "pd.Series[str]"
    findings: pd.DataFrame
    unit: AssessedUnit

    @cached_property
    def numbers(self) -> tuple[TracedNumber, ...]:
        """Every number, with formula, inputs, source, and what was assumed."""
        return (
            *numbers_of_the_joint(self.unit),
            *numbers_of_the_arm(self.unit),
            *numbers_of_the_seal(self.unit),
            *numbers_of_the_risk(self.unit),
        )

    @cached_property
    def grip_left(self) -> tuple[tuple[float, float], ...]:
        """Parts of the grip of the joint that may be left, each with its chance; 0 for none."""
        return grip_left_of(self.unit)

    @cached_property
    def effects(self) -> pd.DataFrame:
        """Effects: what drives each risk, one by one."""
        return effects_of_unit(self.unit)


def explain(assessment: Assessment, unit_id: str) -> Explanation:
    """Explain one unit.

    Parameters
    ----------
    assessment : Assessment
        What is said of the fleet.
    unit_id : str
        The unit.

    Returns
    -------
    Explanation

    Raises
    ------
    FixableError
        If no unit of that id is in service.
    """
    place, known = assessment.place_of(unit_id), assessment.known
    ranking = assessment.ranking
    ranked = ranking[ranking["unit_id"] == unit_id].iloc[0]
    unit = AssessedUnit(
        place=place,
        known=known,
        limits=assessment.limits,
        consequences=assessment.consequences,
        risk=assessment.risk,
        horizon_days=int(ranked["horizon_days"]),
        prevalence=assessment.prevalence,
        learned=assessment.yardstick.corrections(known.place),
    )
    findings = assessment.findings.table
    return Explanation(
        ranked, findings[findings["unit_id"] == unit_id].reset_index(drop=True), unit
    )
