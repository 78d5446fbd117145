"""How a held torque arm multiplies hazards: bearings by their life, seals by custom."""

from functools import cache

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.arm_restraint import ArmRestraint
from scoring.consequences.nameplate import read_nameplates
from scoring.consequences.restraint import held_arm
from scoring.consequences.usual_states import USUAL_SHARE_CLAMPED, USUAL_SHARE_OF_METAL_CONTACT
from scoring.contract import UNITS
from scoring.contract.events import LOW_SPEED_BEARING
from scoring.mechanics.weibull_life import BEARING_SLOPES
from scoring.records import empty_table

Floats = NDArray[np.float64]

NAME = "held_arm"
LABEL = "held torque arm"
CHECKS = (
    "isolators_free",
    "isolator_squeeze_mm",
    "metal_contact",
    "arm_misset_mm",
    "shaft_runout_mm",
)

SHOW_THAT_IT_IS_HELD = ("isolators_free", "isolator_squeeze_mm", "metal_contact")
"""Of these the checks that show this effect and no other; the rest show what else they do too."""

SLOPE = BEARING_SLOPES["roller"].typical
"""A life that shrinks by LR multiplies the hazard by LR to the power minus this slope. [-]"""

MOST = 12.0
"""A held arm multiplies the hazard of a bearing by no more; planning value of ours. [-]"""

BESIDES_STATICS = 1.4
"""What statics leaves out of a held arm: thrust, impact, heat; planning value of ours. [-]"""

SEAL_WITH_RUBBER = 1.6
SEAL_WITH_METAL = 2.0
"""Multipliers for the seal of a clamped and a metal-to-metal anchor; planning values. [-]"""

UNCERTAINTY = 0.4
"""Standard deviation of the logarithm of the multiplier over that logarithm. [-]"""

ORIGIN = "our own calculation of a restrained arm; limits and shares are planning values of ours"


def held_arm_mean_and_square(mode: str, restraint: ArmRestraint) -> tuple[Floats, Floats]:
    """Return mean and mean square of the multiplier at each unit.

    Parameters
    ----------
    mode : str
        The failure.
    restraint : ArmRestraint
        What a held arm would do, and how likely it is held.

    Returns
    -------
    tuple of ndarray, shape (n_units,)
        Over what was not measured or not seen. [-]
    """
    arm, which = restraint.arm, restraint.which
    by_metal = restraint.share_metal
    by_rubber = restraint.share_clamped * (1 - by_metal)
    floats = 1 - by_rubber - by_metal
    rubber, metal = _multipliers(mode, arm.life_with_rubber, arm.life_with_metal)
    mean, square = (
        floats
        + by_rubber * (rubber**power @ arm.shares)[which]
        + by_metal * (metal**power @ arm.shares)[which]
        for power in (1, 2)
    )
    return mean, square


def _multipliers(mode: str, life_rubber: Floats, life_metal: Floats) -> tuple[Floats, Floats]:
    if mode != LOW_SPEED_BEARING:
        return (
            np.full(life_rubber.shape, SEAL_WITH_RUBBER),
            np.full(life_metal.shape, SEAL_WITH_METAL),
        )
    return (
        np.minimum(BESIDES_STATICS * life_rubber**-SLOPE, MOST),
        np.minimum(BESIDES_STATICS * life_metal**-SLOPE, MOST),
    )


@cache
def usual_mean(mode: str) -> float:
    """Return the mean multiplier where nobody has looked, at a unit of usual size."""
    blank = empty_table(UNITS).reindex([0])
    blank["shaft_diameter_mm"] = 80.0
    nothing = np.array([np.nan])
    arm = held_arm(read_nameplates(pd.DataFrame(blank)), nothing, nothing, nothing)
    rubber, metal = _multipliers(mode, arm.life_with_rubber, arm.life_with_metal)
    by_metal = USUAL_SHARE_OF_METAL_CONTACT
    by_rubber = USUAL_SHARE_CLAMPED * (1 - by_metal)
    mean = (
        1
        - by_rubber
        - by_metal
        + by_rubber * (rubber @ arm.shares)
        + by_metal * (metal @ arm.shares)
    )
    return float(mean[0])
