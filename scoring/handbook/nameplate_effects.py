"""What numbers and words on the nameplate do to a hazard, and how sure that is."""

from dataclasses import dataclass, field

import numpy as np

from scoring.consequences.bearing_loads import LEAST_POWER_OF_LOAD
from scoring.contract.events import JOINT_SLIP, LOW_SPEED_BEARING, SEAL_LEAK
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.limits.assumptions import FROM_MEMORY, PLANNING_VALUE

RATING_LIFE = f"ISO 281, basic rating life, damped; {PLANNING_VALUE}"
"""Life in hours falls with speed to the power 1 and with load to the power 3 or 10/3."""


@dataclass(frozen=True)
class Power:
    """To what power a number counts.

    Attributes
    ----------
    value, deviation : float
        The power, and its standard deviation. [-]
    origin : str
        Where it comes from.
    """

    value: float
    deviation: float
    origin: str = PLANNING_VALUE


@dataclass(frozen=True, kw_only=True)
class NameplateNumber:
    """A number on the nameplate that shapes hazards: over what is usual, to a power.

    Powers are damped, for units are chosen by what they must bear.

    Attributes
    ----------
    name : str
        The column of ``units``, or what is worked out of several.
    label : str
        What a person calls it.
    usual : float
        What it usually is, in ``unit``; 1 for what is over its usual value already.
    unit : str
        Its unit.
    spread : float
        Standard deviation of its logarithm over usual nameplates; of a temperature, of tens of
        kelvins. A blank may be any of them; 0 for what is never blank. [-]
    powers : dict of str to Power
        For each failure that it shapes.
    never_helps : bool
        Whether more of it can never lower a hazard.
    logarithmic : bool
        Whether its logarithm counts; else tens of units above the usual.
    """

    name: str
    label: str
    usual: float
    unit: str
    spread: float
    powers: dict[str, Power]
    never_helps: bool = False
    logarithmic: bool = True

    @property
    def state(self) -> str:
        """The state of which its multiplier is given."""
        if self.usual == 1.0:
            return "twice the usual"
        more = "twice the usual" if self.logarithmic else "10 more than the usual"
        return f"{more} {self.usual:g} {self.unit}".rstrip()

    @property
    def slope(self) -> float:
        """By how much its column is larger in that state [-]."""
        return float(np.log(2)) if self.logarithmic else 1.0

    def least(self, mode: str) -> float:
        """Return the least power [-] to which it may count once learned."""
        if not self.never_helps:
            return -np.inf
        of_held_units = self.name == LOAD and mode == LOW_SPEED_BEARING
        return LEAST_POWER_OF_LOAD if of_held_units else 0.0


@dataclass(frozen=True, kw_only=True)
class NameplateWord:
    """A word on the nameplate that shapes hazards.

    Attributes
    ----------
    name : str
        The column of ``units``.
    label : str
        What a person calls it.
    shares : dict of str to float
        How usual each word is, adding up to 1. [-]
    multipliers : dict of str to dict of str to float
        For each failure that it shapes, multiplier by word; only their ratios count. [-]
    deviation : dict of str to float
        For each failure, standard deviation of the logarithm of each multiplier. [-]
    origin : str
        Where they come from.
    """

    name: str
    label: str
    shares: dict[str, float]
    multipliers: dict[str, dict[str, float]]
    deviation: dict[str, float]
    origin: str = field(default=PLANNING_VALUE)


LOAD = "load_over_rating"
"""The load of the low-speed bearings over their rating, over what is usual at a shaft of 80 mm."""

RATING_AT_80_MM = 75_000.0
POWER_OF_RATING = 1.7
"""Usual dynamic rating of a low-speed bearing, of either kind, by the shaft's diameter; planning
values of ours. [N, -]"""

POWER_OF_LOADS = 2.0
"""Usual loads of such a bearing by the shaft's diameter: those of the sizes assumed. [-]"""

ROLLER_OVER_BALL = 1.8
"""Rating of a roller bearing over that of a ball bearing of its bore, from memory. [-]"""

SPREAD_OF_RATINGS = 0.2
"""Standard deviation of the logarithm of the rating of one kind; planning value of ours. [-]"""

SPREAD_OF_KINDS = float(np.hypot(SPREAD_OF_RATINGS, np.log(ROLLER_OVER_BALL) / 2))
"""The same where the kind is blank. [-]"""

SPREAD_OF_TORQUES = 0.4
"""Standard deviation of the logarithm of running torques for such a shaft; planning value. [-]"""

SPREAD_OF_MOTORS = 0.25
"""The same where the motor's power is known; planning value of ours. [-]"""

SHARE_OF_THE_MOTOR = 0.8
"""Running torque over that of the motor's full power; planning value of ours. [-]"""

NUMBERS = (
    NameplateNumber(
        name=LOAD,
        label="load over rating of the low-speed bearings",
        usual=1.0,
        unit="",
        spread=float(np.hypot(SPREAD_OF_TORQUES, SPREAD_OF_KINDS)),
        powers={LOW_SPEED_BEARING: Power(0.7, 0.5, RATING_LIFE), SEAL_LEAK: Power(0.2, 0.35)},
        never_helps=True,
    ),
    NameplateNumber(
        name="duty_h_per_day",
        label="running hours",
        usual=16.0,
        unit="h/day",
        spread=0.35,
        powers={
            LOW_SPEED_BEARING: Power(0.8, 0.3, RATING_LIFE),
            SEAL_LEAK: Power(0.7, 0.3),
            JOINT_SLIP: Power(0.3, 0.3),
        },
        never_helps=True,
    ),
    NameplateNumber(
        name="peak_factor",
        label="peak over running torque",
        usual=2.0,
        unit="",
        spread=0.25,
        powers={LOW_SPEED_BEARING: Power(0.5, 0.3), SEAL_LEAK: Power(0.2, 0.25)},
        never_helps=True,
    ),
    NameplateNumber(
        name="output_speed_rpm",
        label="output speed",
        usual=60.0,
        unit="rpm",
        spread=0.5,
        powers={LOW_SPEED_BEARING: Power(0.4, 0.3, RATING_LIFE), SEAL_LEAK: Power(0.4, 0.3)},
    ),
    NameplateNumber(
        name="shaft_diameter_mm",
        label="size of the shaft",
        usual=80.0,
        unit="mm",
        spread=0.0,
        powers={LOW_SPEED_BEARING: Power(0.2, 0.3), SEAL_LEAK: Power(0.2, 0.3)},
    ),
    NameplateNumber(
        name="ambient_c",
        label="temperature around the unit",
        usual=20.0,
        unit="°C",
        spread=0.8,
        powers={
            LOW_SPEED_BEARING: Power(0.1, 0.15),
            SEAL_LEAK: Power(0.2, 0.15, f"rubber ages with heat, {FROM_MEMORY}; {PLANNING_VALUE}"),
        },
        logarithmic=False,
    ),
)
"""Peak and load of a joint stand in its margin, so that they do not shape slips here again."""

WORDS = (
    NameplateWord(
        name="environment",
        label="surroundings",
        shares={"dry_indoor": 0.25, "dusty": 0.35, "washdown": 0.1, "outdoor": 0.3},
        multipliers={
            LOW_SPEED_BEARING: {"dry_indoor": 0.8, "dusty": 1.15, "washdown": 1.2, "outdoor": 1.0},
            SEAL_LEAK: {"dry_indoor": 0.7, "dusty": 1.25, "washdown": 1.4, "outdoor": 1.0},
        },
        deviation={LOW_SPEED_BEARING: 0.2, SEAL_LEAK: 0.25},
    ),
    NameplateWord(
        name="mounting",
        label="mounting",
        shares=dict.fromkeys(EVERY_MOUNTING, 0.25),
        multipliers=dict.fromkeys(
            (LOW_SPEED_BEARING, SEAL_LEAK), dict.fromkeys(EVERY_MOUNTING, 1.0)
        ),
        deviation={LOW_SPEED_BEARING: 0.2, SEAL_LEAK: 0.2},
    ),
    NameplateWord(
        name="seal_material",
        label="rubber of the output seal",
        shares={"nbr": 0.6, "hnbr": 0.15, "fkm": 0.25},
        multipliers={SEAL_LEAK: {"nbr": 1.15, "hnbr": 1.0, "fkm": 0.85}},
        deviation={SEAL_LEAK: 0.2},
    ),
    NameplateWord(
        name="bearing_kind",
        label="kind of the low-speed bearings",
        shares={"ball": 0.5, "roller": 0.5},
        multipliers={LOW_SPEED_BEARING: {"ball": 1.0, "roller": 1.0}},
        deviation={LOW_SPEED_BEARING: 0.2},
        origin=f"{PLANNING_VALUE}: what differs stands in the rating",
    ),
)
