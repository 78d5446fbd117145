"""How a held torque arm multiplies hazards: bearings by their loads, seals by custom and run-out.

Whatever is known of the arm counts here and nowhere else: what holds it, how far it is squeezed and
mis-set, and the shaft's run-out, which does nothing to a unit that floats.
"""

from functools import cache

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.arm_restraint import SQUEEZE, ArmRestraint
from scoring.consequences.nameplate import read_nameplates
from scoring.consequences.not_measured import Possible
from scoring.consequences.restraint import HeldBy, held_arm
from scoring.consequences.spread import SQUEEZE_SHARE, Spread
from scoring.consequences.states_of_the_arm import (
    CLAMPED,
    MISSET,
    RUNOUT,
    STATES_OF_THE_ARM,
    UsualArms,
)
from scoring.consequences.what_holds_the_arm import usual_share_of_metal
from scoring.contract import UNITS
from scoring.contract.events import LOW_SPEED_BEARING, SEAL_LEAK
from scoring.records import empty_table

Floats = NDArray[np.float64]

NAME = "held_arm"
HARMS = (LOW_SPEED_BEARING, SEAL_LEAK)
"""The failures whose hazard a held arm multiplies."""

LABEL = "held torque arm"
CHECKS = (*(state.check for state in STATES_OF_THE_ARM), SQUEEZE)
"""All checks that show how the arm is held and how far it is forced."""

CHECKS_OF_WHAT_HOLDS_IT = tuple(
    state.check for state in STATES_OF_THE_ARM if state is CLAMPED or state.metal
)
"""Those that show whether rubber or metal holds it."""

SHOW_THAT_IT_IS_HELD = (*CHECKS_OF_WHAT_HOLDS_IT, SQUEEZE)
"""Those by which it is seen to be held, or to be so before long."""

MOST = 12.0
"""A held arm multiplies the hazard of a bearing by no more; planning value of ours. [-]"""

BESIDES_STATICS = 2.0
"""What statics leaves out of a held arm: thrust, binding, impact, heat.

Planning value of ours, such that a held arm of usual size harms about as much as if its loads were
added in the worst direction. [-]"""

SEAL_WITH_RUBBER = 1.6
SEAL_WITH_METAL = 2.0
"""Multipliers for the seal of a clamped and a metal-to-metal anchor; planning values. [-]"""

LIP_RUNOUTS_MM = (0.06, 0.15, 0.25, 0.5, 1.0)
LEAKS_BY_RUNOUT = (1.0, 1.25, 1.6, 2.4, 3.5)
"""What run-out under the lip, as a held arm forces it, multiplies leaks by besides; planning
values, the logarithm interpolated. [mm, -]"""

UNCERTAINTY = 0.5
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
    rubber, metal = _multipliers(mode, restraint)
    mean, square = (restraint.expected(1.0, rubber**power, metal**power) for power in (1, 2))
    return mean, square


def held_arm_mean(mode: str, restraint: ArmRestraint) -> Floats:
    """Return the mean of the multiplier [-] at each unit alone, as the function before."""
    return restraint.expected(1.0, *_multipliers(mode, restraint))


def _multipliers(mode: str, restraint: ArmRestraint) -> tuple[Floats, Floats]:
    """Return by what rubber, and metal, multiplies at each arm and point."""
    return (
        _multiplier(mode, restraint.arm.by_rubber, SEAL_WITH_RUBBER),
        _multiplier(mode, restraint.arm.by_metal, SEAL_WITH_METAL),
    )


def _multiplier(mode: str, held: HeldBy, by_custom: float) -> Floats:
    if mode not in HARMS:
        return np.ones(held.hazard.shape)
    if mode != LOW_SPEED_BEARING:
        return by_custom * leaks_by_runout(held.lip_runout)
    return np.minimum(BESIDES_STATICS * held.hazard, MOST)


def leaks_by_runout(runout: Floats) -> Floats:
    """Return what run-out [m] under the lip multiplies leaks by [-]."""
    logs = np.interp(runout * 1e3, LIP_RUNOUTS_MM, np.log(LEAKS_BY_RUNOUT))
    return np.asarray(np.exp(logs))


@cache
def usual_mean(mode: str) -> float:
    """Return the mean multiplier where nobody has looked, at a unit of usual size."""
    blank = empty_table(UNITS).reindex([0])
    blank["shaft_diameter_mm"] = 80.0
    spreads = (MISSET.spread, RUNOUT.spread, SQUEEZE_SHARE)
    arm = held_arm(read_nameplates(pd.DataFrame(blank)), *map(_not_measured, spreads))
    clamped, metal = (np.array([share]) for share in USUAL_SHARES)
    nobody = ArmRestraint(arm, np.array([0]), clamped, metal)
    return float(held_arm_mean_and_square(mode, nobody)[0][0])


def _not_measured(spread: Spread) -> Possible:
    return Possible(np.array([spread.points]), np.array([spread.shares]))


def log_if_held(mode: str) -> float:
    """Return the logarithm of the mean multiplier [-] of a held arm, at a unit of usual size.

    Examples
    --------
    >>> round(float(np.exp(log_if_held("seal_leak"))), 2)
    1.88
    """
    clamped, metal = USUAL_SHARES
    floats = (1 - clamped) * (1 - metal)
    return float(np.log((usual_mean(mode) - floats) / (1 - floats)))


USUAL_SHARES = (CLAMPED.spread.shares[1], usual_share_of_metal(UsualArms()))
"""How likely rubber, and metal, holds an arm at which nobody has looked. [-]"""
