"""How a torque arm is held at each unit: how likely, and what that would do."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.nameplate import read_nameplates
from scoring.consequences.restraint import HeldArm, held_arm
from scoring.consequences.usual_states import (
    CHANCE_OF_A_CLAMP_MISSED,
    CHANCE_THAT_REWORK_SUCCEEDS,
    UsualArms,
)
from scoring.limits import UnitLimits
from scoring.limits.assumptions import MOST_MISSET, MOST_RUNOUT, SQUEEZE_SHARE
from scoring.timeline.known import Known, Status

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True)
class ArmRestraint:
    """What is known of the torque arm of each unit.

    Attributes
    ----------
    arm : HeldArm
        What a held arm would do, once for each distinct arm.
    which : ndarray of int, shape (n_units,)
        Place of each unit's arm in it; in the order of units where each comes once.
    share_clamped, share_metal : ndarray, shape (n_units,)
        How likely rubber, or metal, holds the arm; 0 or 1 where it was seen. [-]
    misset, runout, squeeze : ndarray, shape (n_units,)
        As measured, missing where not. [m, m, share of the thickness]
    """

    arm: HeldArm
    which: NDArray[np.int64]
    share_clamped: Floats
    share_metal: Floats
    misset: Floats
    runout: Floats
    squeeze: Floats


def arm_restraint(known: Known, limits: UnitLimits, usual: UsualArms) -> ArmRestraint:
    """Tell how each torque arm is held.

    Parameters
    ----------
    known : Known
        What was known of units; one may come again and again, as it was on different days.
    limits : UnitLimits
        Their limits.
    usual : UsualArms
        How often an arm is held where nobody has looked.

    Returns
    -------
    ArmRestraint
    """
    misset = _measured(known, limits, "arm_misset_mm") / 1e3
    runout = _measured(known, limits, "shaft_runout_mm") / 1e3
    thickness = limits.table["isolator_thickness_mm"].to_numpy()
    squeeze = _measured(known, limits, "isolator_squeeze_mm") / thickness
    row, which = _distinct(known.place, misset, runout, squeeze)
    nameplate = read_nameplates(known.units.iloc[row])
    arm = held_arm(nameplate, misset[row], runout[row], squeeze[row])
    clamped, metal = _share_clamped(known, usual), _share_of_metal_contact(known, usual)
    return ArmRestraint(arm, which, clamped, metal, misset, runout, squeeze)


def _distinct(place: Ints, *measured: Floats) -> tuple[Ints, Ints]:
    """Return a row of each distinct arm, and which of them each row has."""
    if len(np.unique(place)) == len(place):
        return np.arange(len(place)), np.arange(len(place))
    code = place.astype(np.int64)
    for values in measured:
        codes, distinct = pd.factorize(values)
        code = pd.factorize(code * (len(distinct) + 1) + codes)[0]
    _, row, which = np.unique(code, return_index=True, return_inverse=True)
    return row, which


def _measured(known: Known, limits: UnitLimits, check: str) -> Floats:
    """Return a measured value; of one that hypothetical re-work would cure, what is expected then.

    A cure that succeeds leaves no more than the limit, and no more than there was.
    """
    values: Floats = known.found[check].to_numpy(dtype=np.float64)
    if known.hypothetical is None:
        return values
    before = known.hypothetical.before.found[check].to_numpy(dtype=np.float64)
    success = known.hypothetical.success[check].to_numpy()
    best = np.minimum(before, _most_that_is_good(limits, check))
    cured = (known.status[check] == Status.REPORTED_CURED).to_numpy() & ~np.isnan(success)
    return np.where(cured, success * best + (1 - success) * before, values)


def _most_that_is_good(limits: UnitLimits, check: str) -> float | Floats:
    if check == "isolator_squeeze_mm":
        most: Floats = SQUEEZE_SHARE.value * limits.table["isolator_thickness_mm"].to_numpy()
        return most
    return {"arm_misset_mm": MOST_MISSET, "shaft_runout_mm": MOST_RUNOUT}[check].value


def _share_clamped(known: Known, usual: UsualArms) -> Floats:
    """Tell how likely the rubber holds the arm.

    An arm floats as long as one isolator turns by hand, whatever its squeeze was measured to be;
    where none was tried, too much squeeze shows that it does not float.
    """
    clamped = known.exceedance["isolators_free"].to_numpy()
    before = _share_before(known, usual, _share_clamped)
    share = _share_where_not_seen(known, "isolators_free", usual.clamped, before)
    share = np.where(np.isnan(clamped), share, np.where(clamped > 0, 1.0, 0.0))
    if_squeezed = np.where(clamped == 0, CHANCE_OF_A_CLAMP_MISSED, 1.0)
    return np.where(known.exceedance["isolator_squeeze_mm"].to_numpy() > 0, if_squeezed, share)


def _share_where_not_seen(
    known: Known, check: str, usual: float | Floats, before: Floats | None
) -> Floats:
    """Tell how likely a fault is that nobody has seen, or that re-work is said to have cured."""
    cured = known.status[check].to_numpy() == Status.REPORTED_CURED
    if known.hypothetical is None or before is None:
        return np.where(cured, 1 - CHANCE_THAT_REWORK_SUCCEEDS, usual)
    success = known.hypothetical.success[check].fillna(0.0).to_numpy()
    return np.where(cured, (1 - success) * before, usual)


def _share_before(
    known: Known, usual: UsualArms, share: Callable[[Known, UsualArms], Floats]
) -> Floats | None:
    """Tell how likely a fault is as a unit stands, before re-work that is only hypothetical."""
    return None if known.hypothetical is None else share(known.hypothetical.before, usual)


def _share_of_metal_contact(known: Known, usual: UsualArms) -> Floats:
    """Tell how likely metal holds the arm; no clearance at all is contact."""
    contact = known.found["metal_contact"].cat.codes.to_numpy()
    clearance = known.found["smallest_clearance_mm"].to_numpy()
    before = _share_before(known, usual, _share_of_metal_contact)
    share = _share_where_not_seen(known, "metal_contact", usual.metal, before)
    share = np.where(contact < 0, share, np.where(contact == 1, 1.0, 0.0))
    return np.where(clearance == 0, 1.0, share)
