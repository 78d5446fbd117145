"""Base rates: field rates with average faults taken out, and how age and duty shape them."""

from dataclasses import dataclass

from scoring.contract.events import JOINT_SLIP, LOW_SPEED_BEARING, SEAL_LEAK
from scoring.limits.assumptions import FROM_MEMORY, PLANNING_VALUE


@dataclass(frozen=True)
class NameplateCovariate:
    """How a number on the nameplate shapes a rate: (value / usual) to a power.

    A blank counts as usual. Powers are damped, for units are chosen by what they must bear.
    """

    column: str
    usual: float
    power: float


@dataclass(frozen=True, kw_only=True)
class BaseRate:
    """The field rate of a failure and what shapes it.

    Attributes
    ----------
    part : str
        What ages: ``bearing``, ``seal``, or the ``joint`` since it was hung.
    field_rate : float
        Failures per unit-year of a fleet with usual faults, usual duty and age. [1/year]
    age_slope : float
        Weibull slope: the hazard grows with age to the power slope - 1. [-]
    usual_age : float
        Age at which the hazard is the field rate. [year]
    covariates : tuple of NameplateCovariate
        Numbers on the nameplate.
    words : dict of str to dict of str to float
        Multipliers by the word in a column of the nameplate; a blank multiplies by 1. [-]
    uncertainty : float
        Standard deviation of the logarithm of the rate. [-]
    unlike_units : float
        Standard deviation of the logarithm of the hazards of units alike on paper, by which
        intervals are the wider. [-]
    origin : str
        Where it comes from.
    by_bearing_load : bool
        Whether the load of the low-speed bearings shapes it, damped, over what is usual.
    """

    part: str
    field_rate: float
    age_slope: float
    usual_age: float
    covariates: tuple[NameplateCovariate, ...]
    words: dict[str, dict[str, float]]
    uncertainty: float
    unlike_units: float
    origin: str
    by_bearing_load: bool = False

    @property
    def age_column(self) -> str:
        """The column of ``Known.history`` that has the age [d] of the part."""
        return f"{self.part}_age_days"


UNLIKE_UNITS = 0.5
"""Standard deviation of the logarithm of the hazards of units alike on paper, bearings and seals:
chosen so that 90 % intervals hold 9 of 10 true hazards on generated fleets. [-]"""

UNLIKE_JOINTS = 2.2
"""The same of joints, whose friction nobody measures; chosen likewise. [-]"""

BASE_RATES: dict[str, BaseRate] = {
    LOW_SPEED_BEARING: BaseRate(
        part="bearing",
        field_rate=0.02,
        age_slope=1.3,
        usual_age=3.0,
        covariates=(
            NameplateCovariate("duty_h_per_day", 16, 0.6),
            NameplateCovariate("output_speed_rpm", 60, 0.2),
            NameplateCovariate("shaft_diameter_mm", 80, 0.2),
            NameplateCovariate("peak_factor", 2, 0.5),
        ),
        words={
            "environment": {"dry_indoor": 0.95, "dusty": 1.05, "washdown": 1.1, "outdoor": 1.0},
        },
        uncertainty=0.7,
        unlike_units=UNLIKE_UNITS,
        origin=f"{PLANNING_VALUE}; slope of rolling bearings in a public Weibull database, "
        f"{FROM_MEMORY}",
        by_bearing_load=True,
    ),
    SEAL_LEAK: BaseRate(
        part="seal",
        field_rate=0.08,
        age_slope=1.3,
        usual_age=3.0,
        covariates=(
            NameplateCovariate("duty_h_per_day", 16, 0.6),
            NameplateCovariate("output_speed_rpm", 60, 0.3),
            NameplateCovariate("shaft_diameter_mm", 80, 0.3),
        ),
        words={
            "environment": {"dry_indoor": 0.75, "dusty": 1.2, "washdown": 1.3, "outdoor": 1.0},
            "seal_material": {"nbr": 1.1, "hnbr": 1.0, "fkm": 0.9},
        },
        uncertainty=0.7,
        unlike_units=UNLIKE_UNITS,
        origin=f"{PLANNING_VALUE}; slope of mechanical seals in a public Weibull database, "
        f"{FROM_MEMORY}: lip seals have no row of their own there",
    ),
    JOINT_SLIP: BaseRate(
        part="joint",
        field_rate=0.003,
        age_slope=1.0,
        usual_age=3.0,
        covariates=(NameplateCovariate("duty_h_per_day", 16, 0.3),),
        words={},
        uncertainty=1.0,
        unlike_units=UNLIKE_JOINTS,
        origin=PLANNING_VALUE,
    ),
}
