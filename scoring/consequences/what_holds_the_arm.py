"""How likely rubber, or metal, holds the torque arm of each unit.

Metal contact, no clearance at all and a missing isolator are one fact, told by whichever check was
looked at: metal holds the arm.
"""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.reported_cured import reported_cured
from scoring.consequences.row_sums import rows_times
from scoring.consequences.states_of_the_arm import (
    ANCHOR,
    CLAMPED,
    CLEARANCE,
    METAL,
    ArmState,
    UsualArms,
)
from scoring.consequences.usual_states import (
    CHANCE_OF_A_CLAMP_MISSED,
    CHANCE_THAT_REWORK_SUCCEEDS,
)
from scoring.timeline.known import Known

Floats = NDArray[np.float64]

SHOW_METAL = (METAL, ANCHOR, CLEARANCE)
"""What shows that metal holds the arm, or may before long."""


def share_clamped(known: Known, usual: UsualArms) -> Floats:
    """Tell how likely the rubber holds the arm.

    An arm floats as long as one isolator turns by hand, whatever its squeeze was measured to be;
    where none was tried, too much squeeze shows that it does not float.

    Parameters
    ----------
    known : Known
        What was known of units.
    usual : UsualArms
        How usual clamped isolators are where nobody has looked.

    Returns
    -------
    ndarray, shape (n_units,)
        0 or 1 where it was seen. [-]
    """
    clamped = CLAMPED.of(known)
    before = _before(known, usual, share_clamped)
    size = len(known.units)
    share = _where_not_seen(known, CLAMPED, usual.of(CLAMPED, size)[:, 1], 1.0, before)
    share = np.where(np.isnan(clamped), share, np.where(clamped > 0, 1.0, 0.0))
    if_squeezed = np.where(clamped == 0, CHANCE_OF_A_CLAMP_MISSED, 1.0)
    return np.where(known.exceedance["isolator_squeeze_mm"].to_numpy() > 0, if_squeezed, share)


def share_of_metal(known: Known, usual: UsualArms) -> Floats:
    """Tell how likely metal holds the arm, beside rubber or without it.

    Parameters
    ----------
    known : Known
        What was known of units.
    usual : UsualArms
        How usual contact, a bad anchor joint and too little clearance are where nobody has looked.

    Returns
    -------
    ndarray, shape (n_units,)
        1 where any check shows it; 0 where all three were seen good. [-]
    """
    free = np.ones(len(known.units))
    for state in SHOW_METAL:
        free *= 1 - _metal_by(state, known, usual)
    return 1 - free


def usual_share_of_metal(usual: UsualArms) -> float:
    """Return how likely metal holds an arm at which nobody has looked, by the first unit's shares.

    Examples
    --------
    >>> round(usual_share_of_metal(UsualArms()), 3)
    0.046
    """
    by_each = [usual.of(state, 1)[0] @ np.array(state.metal) for state in SHOW_METAL]
    return float(1 - np.prod(1 - np.array(by_each)))


def _metal_by(state: ArmState, known: Known, usual: UsualArms) -> Floats:
    """Tell how likely metal holds the arm, by what one check shows."""
    metal, shares = np.array(state.metal), np.array(state.spread.shares)
    found = state.of(known)
    seen = np.interp(found, state.spread.points, metal)
    if state is CLEARANCE:
        seen = np.where(known.found[state.check].to_numpy() == 0, 1.0, seen)
    before = _before(known, usual, lambda one, of: _metal_by(state, one, of))
    unseen = rows_times(usual.of(state, len(found)), metal)
    if_faulty = float(shares[1:] @ metal[1:] / shares[1:].sum())
    otherwise = _where_not_seen(known, state, unseen, if_faulty, before)
    return np.where(np.isnan(found), otherwise, seen)


def _where_not_seen(
    known: Known, state: ArmState, usual: Floats, if_faulty: float, before: Floats | None
) -> Floats:
    """Tell how likely it is where nobody has looked, or re-work is said to have cured it."""
    cured = reported_cured(known, state.check)
    if known.hypothetical is None or before is None:
        return np.where(cured, (1 - CHANCE_THAT_REWORK_SUCCEEDS) * if_faulty, usual)
    success = known.hypothetical.success[state.check].fillna(0.0).to_numpy()
    return np.where(cured, (1 - success) * before, usual)


def _before(
    known: Known, usual: UsualArms, share: Callable[[Known, UsualArms], Floats]
) -> Floats | None:
    """Tell how likely it is as a unit stands, before re-work that is only hypothetical."""
    return None if known.hypothetical is None else share(known.hypothetical.before, usual)
