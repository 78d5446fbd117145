"""What one step left wrong does to bearing, seal and joint: the chain that ranks, asked again."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.assessment import Assessment
from scoring.contract.events import MODES
from scoring.looking.what_a_look_finds import SHOWN_BY_LOOKS, Shown, values_found
from scoring.records import has_mounting, units_with
from scoring.what_if.action_arrays import ACTION_NAMES
from scoring.what_if.candidates import Candidates
from scoring.what_if.known_after import known_after

Ints = NDArray[np.int64]

MOST_UNITS = 40
"""Of so many units, spread over all, the mean is taken. Ours."""


@dataclass(frozen=True)
class FaultDoes:
    """What a step left wrong does, in the mean over some units.

    Attributes
    ----------
    units : int
        Over how many.
    chances : dict of str to tuple of float
        For each failure its chance within the horizon with the step right, and wrong. [-]
    loss : float
        By how much the expected loss of a unit is higher. [currency]
    """

    units: int
    chances: dict[str, tuple[float, float]]
    loss: float


def what_a_fault_does(
    assessment: Assessment, check: str, mountings: tuple[str, ...], of_crew: str
) -> FaultDoes | None:
    """Work out what a step left wrong does at the units of a crew.

    Parameters
    ----------
    assessment : Assessment
        How the fleet stands.
    check : str
        The check that shows it.
    mountings : tuple of str
        Units of these.
    of_crew : str
        Units that this crew hung; all of these mountings where it hung none that is in service.

    Returns
    -------
    FaultDoes or None
        None where the handbook knows of no effect, or nobody has said what a fault would look like.

    Notes
    -----
    Each unit is asked twice as it is known, with the check found good and found as faults are: the
    handbook's shares among faults. All else stays as it is, and the code that ranks is used.
    """
    shown = next((one for one in SHOWN_BY_LOOKS if one.check == check), None)
    if shown is None:
        return None
    known = assessment.known
    here = units_with(shown, known.units) & has_mounting(known.units, mountings)
    own = here & (known.history["crew"].to_numpy(object) == of_crew)
    places = np.flatnonzero(own if own.any() else here)
    every = max(1, -(-len(places) // MOST_UNITS))
    return _mean_of(assessment, shown, places[::every]) if len(places) else None


def _mean_of(assessment: Assessment, shown: Shown, places: Ints) -> FaultDoes | None:
    size = len(shown.states)
    rows, outcome = np.repeat(places, size), np.tile(np.arange(size), len(places))
    known, limits = assessment.known, assessment.limits
    found = values_found(
        shown, shown.states[outcome], limits.table.iloc[rows], known.units.iloc[rows]
    )
    told = pd.notna(found).reshape(-1, size).all(axis=1)
    if not told.any():
        return None
    kept = np.repeat(told, size)
    rows, found = rows[kept], found[kept]
    nothing = np.zeros((len(rows), len(ACTION_NAMES)), dtype=bool)
    asked = Candidates(rows, nothing, pd.DataFrame({shown.check: found}))
    looked = known_after(known, limits, asked, None)
    risks = assessment.yardstick.risks(looked, limits.at(rows), assessment.horizon_days)
    faulty = shown.usual[1:] / shown.usual[1:].sum()
    chances, loss = {}, 0.0
    for mode in MODES:
        of_states = risks[mode].probability.reshape(-1, size)
        good, wrong = of_states[:, 0], of_states[:, 1:] @ faulty
        chances[mode] = (float(good.mean()), float(wrong.mean()))
        cost = assessment.risk.costs.of_failure(mode)[rows[::size]]
        loss += float(((wrong - good) * cost).mean())
    return FaultDoes(int(told.sum()), chances, loss)
