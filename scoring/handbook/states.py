"""From evidence to states: what effects look at."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.assumed_sizes import USUAL_AMBIENT_C
from scoring.handbook.condition import Evidence

Floats = NDArray[np.float64]
State = Callable[[Evidence], Floats]

SHORTAGE_OF_A_SHORT_END = 0.2
"""Shortage of engagement of a shaft end only seen to be short; planning value of ours. [-]"""

SHARE_OF_ONE_LOW_SCREW = 0.1
"""Shortage of torque that one low screw stands for; planning value of ours. [-]"""


def exceedance_of(check: str) -> State:
    """Take how far the check lies beyond good."""
    return lambda evidence: evidence.exceedance(check)


def value_of(check: str) -> State:
    """Take the measured value itself."""
    return lambda evidence: evidence.value(check)


def rise_over_ambient(evidence: Evidence) -> Floats:
    """Take how much warmer [K] the housing is than its surroundings."""
    ambient = evidence.known.units["ambient_c"].fillna(USUAL_AMBIENT_C).to_numpy()
    rise: Floats = evidence.value("running_temperature_c") - ambient
    return rise


def engagement_shortage(evidence: Evidence) -> Floats:
    """Take the share [-] of the required engagement that is missing; the worse of two checks."""
    stated, usual = (evidence.limit(f"{of}_engagement_mm") for of in ("required", "usual"))
    required = np.where(np.isnan(stated), usual, stated)
    measured = np.maximum(1 - evidence.value("engagement_mm") / required, 0.0)
    return np.fmax(measured, evidence.exceedance("shaft_end") * SHORTAGE_OF_A_SHORT_END)


def torque_shortage(evidence: Evidence) -> Floats:
    """Take how much of the final torque is missing, as a share [-]; the worst of three checks.

    What is too much is no shortage, and nothing is credited for it.
    """
    reading, stated = evidence.value("final_torque_nm"), evidence.limit("screw_torque_nm")
    beyond = evidence.exceedance("final_torque_nm") / stated
    short = np.where(reading > stated, 0.0, np.abs(beyond))
    low = np.fmax(evidence.exceedance("screws_low"), evidence.exceedance("screws_missing"))
    return np.fmax(short, low * SHARE_OF_ONE_LOW_SCREW)
