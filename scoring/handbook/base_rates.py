"""Base rates: field rates with average faults taken out, and how age shapes them."""

from dataclasses import dataclass

from scoring.contract.events import JOINT_SLIP, LOW_SPEED_BEARING, SEAL_LEAK
from scoring.limits.assumptions import FROM_MEMORY, PLANNING_VALUE


@dataclass(frozen=True, kw_only=True)
class BaseRate:
    """The field rate of a failure, and how it grows with age.

    Attributes
    ----------
    part : str
        What ages: ``bearing``, ``seal``, or the ``joint`` since it was hung.
    field_rate : float
        Failures per unit-year of a fleet with usual faults, nameplates and age. [1/year]
    age_slope : float
        Weibull slope: the hazard grows with age to the power slope - 1. [-]
    usual_age : float
        Age at which the hazard is the field rate. [year]
    uncertainty : float
        Standard deviation of the logarithm of the rate. [-]
    unlike_units : float
        Standard deviation of the logarithm by which hazards of units alike on paper, of any plant,
        differ from those predicted: by so much intervals are the wider. [-]
    origin : str
        Where it comes from.
    """

    part: str
    field_rate: float
    age_slope: float
    usual_age: float
    uncertainty: float
    unlike_units: float
    origin: str

    @property
    def age_column(self) -> str:
        """The column of ``Known.history`` that has the age [d] of the part."""
        return f"{self.part}_age_days"


UNLIKE_UNITS = 0.5
"""Standard deviation of the logarithm of the hazards of units alike on paper, bearings and seals:
over them a chance is a mean. Planning value of ours. [-]"""

UNLIKE_IN_INTERVALS = 0.75
"""The same in intervals, which must also hold where a plant is unlike the handbook: chosen so that
of both families of generated plants 90 % intervals hold 9 of 10 true chances, on average. [-]"""

UNLIKE_JOINTS = 2.2
"""The same in intervals of joints, whose friction nobody measures; chosen likewise. [-]"""

BASE_RATES: dict[str, BaseRate] = {
    LOW_SPEED_BEARING: BaseRate(
        part="bearing",
        field_rate=0.02,
        age_slope=1.3,
        usual_age=3.0,
        uncertainty=0.7,
        unlike_units=UNLIKE_IN_INTERVALS,
        origin=f"{PLANNING_VALUE}; slope of rolling bearings in a public Weibull database, "
        f"{FROM_MEMORY}",
    ),
    SEAL_LEAK: BaseRate(
        part="seal",
        field_rate=0.08,
        age_slope=1.3,
        usual_age=3.0,
        uncertainty=0.7,
        unlike_units=UNLIKE_IN_INTERVALS,
        origin=f"{PLANNING_VALUE}; slope of mechanical seals in a public Weibull database, "
        f"{FROM_MEMORY}: lip seals have no row of their own there",
    ),
    JOINT_SLIP: BaseRate(
        part="joint",
        field_rate=0.003,
        age_slope=1.0,
        usual_age=3.0,
        uncertainty=1.0,
        unlike_units=UNLIKE_JOINTS,
        origin=PLANNING_VALUE,
    ),
}
