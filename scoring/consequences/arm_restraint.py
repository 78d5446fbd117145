"""How a torque arm is held at each unit: how likely, and what that would do."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.nameplate import Nameplate
from scoring.consequences.restraint import HeldArm, held_arm
from scoring.consequences.usual_states import (
    CHANCE_THAT_REWORK_TAKES,
    USUAL_SHARE_CLAMPED,
    USUAL_SHARE_OF_METAL_CONTACT,
)
from scoring.limits import UnitLimits
from scoring.timeline.known import Known, Status

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class ArmRestraint:
    """What is known of the torque arm of each unit.

    Attributes
    ----------
    arm : HeldArm
        What a held arm would do.
    share_clamped, share_metal : ndarray, shape (n_units,)
        How likely rubber, or metal, holds the arm; 0 or 1 where it was seen. [-]
    misset, runout, squeeze : ndarray, shape (n_units,)
        As measured, missing where not. [m, m, share of the thickness]
    """

    arm: HeldArm
    share_clamped: Floats
    share_metal: Floats
    misset: Floats
    runout: Floats
    squeeze: Floats


def arm_restraint(known: Known, limits: UnitLimits, nameplate: Nameplate) -> ArmRestraint:
    """Tell how each torque arm is held.

    Parameters
    ----------
    known : Known
        What was known of the units in service.
    limits : UnitLimits
        Their limits.
    nameplate : Nameplate
        Their sizes and loads.

    Returns
    -------
    ArmRestraint
    """
    misset = known.found["arm_misset_mm"].to_numpy() / 1e3
    runout = known.found["shaft_runout_mm"].to_numpy() / 1e3
    squeeze = _squeeze_share(known, limits)
    arm = held_arm(nameplate, misset, runout, squeeze)
    clamped, metal = _share_clamped(known), _share_of_metal_contact(known)
    return ArmRestraint(arm, clamped, metal, misset, runout, squeeze)


def _squeeze_share(known: Known, limits: UnitLimits) -> Floats:
    thickness = limits.table["isolator_thickness_mm"].to_numpy()
    share: Floats = known.found["isolator_squeeze_mm"].to_numpy() / thickness
    return share


def _share_clamped(known: Known) -> Floats:
    """Tell how likely the rubber holds the arm; too much squeeze outweighs a free isolator."""
    clamped = known.badness["isolators_free"].to_numpy()
    share = _share_where_not_seen(known, "isolators_free", USUAL_SHARE_CLAMPED)
    share = np.where(np.isnan(clamped), share, np.where(clamped > 0, 1.0, 0.0))
    return np.where(known.badness["isolator_squeeze_mm"].to_numpy() > 0, 1.0, share)


def _share_where_not_seen(known: Known, check: str, usual: float) -> Floats:
    """Tell how likely a fault is that nobody has seen, or that re-work is said to have cured."""
    cured = known.status[check].to_numpy() == Status.REPORTED_CURED
    return np.where(cured, 1 - CHANCE_THAT_REWORK_TAKES, usual)


def _share_of_metal_contact(known: Known) -> Floats:
    """Tell how likely metal holds the arm; no clearance at all is contact."""
    contact = known.found["metal_contact"].cat.codes.to_numpy()
    clearance = known.found["smallest_clearance_mm"].to_numpy()
    share = _share_where_not_seen(known, "metal_contact", USUAL_SHARE_OF_METAL_CONTACT)
    share = np.where(contact < 0, share, np.where(contact == 1, 1.0, 0.0))
    return np.where(clearance == 0, 1.0, share)
