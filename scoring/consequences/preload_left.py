"""How much of its preload a screw circle has as found: passes, torque, screws low or missing."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.reported_cured import reported_cured, seen_before
from scoring.consequences.usual_states import USUAL_PASSES_SHARES
from scoring.limits import UnitLimits
from scoring.mechanics.low_screws import circle_force_ratio
from scoring.mechanics.staged_tightening import mean_and_lowest_preload
from scoring.timeline.known import Known

Floats = NDArray[np.float64]

USUAL_SCREWS = 8
LOW_SCREW_RATIO = 0.5
"""Planning values of ours: screws on a circle, torque left in a low screw. [-]"""

_FEWER_PASSES = np.log([1.0, 0.92])
"""Preload after all passes, and after fewer, over that after all, on the log scale."""

UNSEEN_MEAN = float(np.dot(USUAL_PASSES_SHARES, _FEWER_PASSES))
"""Logarithm of the preload that passes nobody saw are taken to leave, over that after all. [-]"""

_UNSEEN_SPREAD = float(np.sqrt(np.dot(USUAL_PASSES_SHARES, (_FEWER_PASSES - UNSEEN_MEAN) ** 2)))


def preload_left(known: Known, limits: UnitLimits) -> tuple[Floats, Floats]:
    """Return the mean preload of each circle over that after the passes asked for.

    Parameters
    ----------
    known : Known
        What was known.
    limits : UnitLimits
        Limits of the units.

    Returns
    -------
    tuple of ndarray, shape (n_units,)
        The ratio, 0 to 1, and the standard deviation of its logarithm. [-]

    Notes
    -----
    The lowest reading counts for the whole circle. What was read and what was counted are two
    looks at one matter: the worse counts. Passes reported cured count as made, and are as sure as
    they were.
    """
    found = known.found
    screws = screws_on_circle(known.units)
    required = limits.table["torque_passes_required"].to_numpy()
    made = found["torque_passes"].to_numpy()
    unseen = np.isnan(made)
    aimed, _ = mean_and_lowest_preload(screws, required)
    reached, _ = mean_and_lowest_preload(screws, np.where(unseen, required, made))
    cured = reported_cured(known, "torque_passes")
    usual = np.where(cured, 1.0, np.exp(UNSEEN_MEAN))
    passes = np.where(unseen, usual, np.minimum(reached / aimed, 1.0))
    torque = found["final_torque_nm"].to_numpy() / limits.table["screw_torque_nm"].to_numpy()
    missing = np.minimum(found["screws_missing"].to_numpy(), screws)
    low = np.fmax(np.minimum(found["screws_low"].to_numpy(), screws), missing)
    circle = circle_force_ratio(screws, low, LOW_SCREW_RATIO, np.nan_to_num(missing))
    unsure = unseen & ~(cured & seen_before(known, "torque_passes"))
    return passes * np.fmin(np.fmin(torque, circle), 1.0), np.where(unsure, _UNSEEN_SPREAD, 0.0)


def screws_on_circle(units: pd.DataFrame) -> Floats:
    """Return the screws of each circle, as usual where the nameplate is silent.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        The table ``units``.

    Returns
    -------
    ndarray, shape (n_units,)
        Within what the model of the passes holds for, 1 to 64. [-]
    """
    screws: Floats = np.clip(units["screw_count"].fillna(USUAL_SCREWS).to_numpy(), 1, 64)
    return screws
