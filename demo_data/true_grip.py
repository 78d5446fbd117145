"""What a joint truly holds, and how often a peak is more: physics of this generator's own.

Every joint has a margin: torque it carries over its peak torque. Rating and peak stand on its
nameplate; how the shaft was machined stays with the unit, friction is drawn anew with every
hanging, and faults take their part. Overloads come at random, and the greater the rarer: they pass
a margin ``m`` at a rate that falls as ``exp(-(m - 1) / OVERLOAD)``. All numbers are planning values
of ours.
"""

from dataclasses import dataclass

import numpy as np
import pandas as pd

from demo_data.arrays import Codes, Floats, Whole
from demo_data.chance import Chance
from demo_data.fault_arrays import OUTCOMES
from demo_data.fault_table import CHECK_AT, CHECK_NAMES, FAULTS

OVERLOAD = 0.22
"""Mean of what overloads go beyond the usual peak, over that peak. [-]"""

MADE_SD, FRICTION_SD = 0.12, 0.18
"""Scatter of the log margin between units, and between hangings of one unit. [-]"""

LOST_BY_FAULTS: dict[str, tuple[float, ...]] = {
    "bore_condition": (0, 0.1, 0.3, 0.75),
    "key_condition": (0, 0.1, 0.25, 1.3),
    "torque_passes": (0, 0.25, 0.08, 0.5),
    "tightening_order": (0, 0.04, 0.1),
    "final_torque_nm": (0, 0.2, 0),
    "screws_low": (0, 0.06, 0.3),
    "screws_missing": (0, 0.06),
    "screws_rechecked": (0, 0.05),
    "disc_offset_mm": (0, 0.1),
    "shaft_end": (0, 0.55),
    "shaft_diameter_measured_mm": (0, 0.22, 0),
    "shaft_seat": (0, 0.12, 0.35),
}
"""What each outcome of a check takes of the log margin, on average over plants. [-]"""

WALKS: dict[str, tuple[float, ...]] = {"retention": (0, 0.5, 1.5)}
"""Log multiplier of each outcome on slips along the shaft, which no torque holds back. [-]"""

USUAL_MARGIN = 1.87
"""Middle of the margins of joints as specified. [-]"""


@dataclass(frozen=True)
class Grip:
    """The joints of one plant.

    Attributes
    ----------
    log_margin : float array, shape (units,)
        Of each joint as specified, its own make included. [-]
    lost, walks : float array, shape (checks, outcomes)
        What each outcome takes of it, and the log multiplier of a slip along the shaft. [-]
    """

    log_margin: Floats
    lost: Floats
    walks: Floats

    def margin(self, rows: Whole, outcome: Codes, friction: Floats) -> Floats:
        """Return the margin of some joints with these outcomes and this friction, shape (rows,)."""
        taken = _sum_over_checks(self.lost, outcome)
        return np.asarray(np.exp(self.log_margin[rows] + friction - taken))

    def log_slips(self, rows: Whole, outcome: Codes, friction: Floats) -> Floats:
        """Return how often overloads pass the margin, over one of 1; as a logarithm."""
        beyond = (self.margin(rows, outcome, friction) - 1) / OVERLOAD
        return np.asarray(_sum_over_checks(self.walks, outcome) - beyond)

    @property
    def at_worst(self) -> Floats:
        """Log multiplier of each check's worst outcome at a joint of usual margin."""
        lost = USUAL_MARGIN * -np.expm1(-self.lost.max(axis=1))
        return np.asarray(lost / OVERLOAD + self.walks.max(axis=1))


def _sum_over_checks(table: Floats, outcome: Codes) -> Floats:
    does = np.flatnonzero(table.any(axis=1))
    return np.asarray(table[does[:, None], outcome.T[does]].sum(axis=0))


def draw_grip(chance: Chance, plate: pd.DataFrame, drawn: Floats) -> Grip:
    """Draw the joints of a plant.

    Parameters
    ----------
    chance : Chance
        Source of chance.
    plate : pandas.DataFrame
        Nameplates, nothing blank.
    drawn : float array, shape (checks,)
        How strong each fault is in this plant, about its declared mean; none for some. [-]

    Returns
    -------
    Grip
    """
    peak = plate["output_torque_nm"] * plate["peak_factor"]
    specified = np.log((plate["joint_rated_torque_nm"] / peak).to_numpy(dtype=np.float64))
    made = MADE_SD * chance.at(np.arange(len(plate))).normal("made")
    mean = np.array([model.effect.slip for model in FAULTS])
    strength = np.divide(drawn, mean, out=np.ones(len(mean)), where=mean > 0)
    return Grip(specified + made, _table(LOST_BY_FAULTS, strength), _table(WALKS, strength))


def draw_friction(normal: Floats) -> Floats:
    """Return by how much a hanging's friction lies off the usual, as a logarithm; no bias."""
    return np.asarray(FRICTION_SD * normal)


def _table(of_outcomes: dict[str, tuple[float, ...]], strength: Floats) -> Floats:
    table = np.zeros((len(CHECK_NAMES), OUTCOMES))
    for name, each in of_outcomes.items():
        if name in CHECK_AT:
            table[CHECK_AT[name], : len(each)] = strength[CHECK_AT[name]] * np.array(each)
    return table
