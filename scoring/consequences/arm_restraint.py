"""How a torque arm is held at each unit: how likely, and what that would do."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.nameplate import read_nameplates
from scoring.consequences.not_measured import Possible, first_of_each, possible
from scoring.consequences.restraint import HeldArm, HeldBy, held_arm
from scoring.consequences.spread import SQUEEZE_SHARE, Spread
from scoring.consequences.states_of_the_arm import MISSET, RUNOUT, UsualArms
from scoring.consequences.what_holds_the_arm import share_clamped, share_of_metal
from scoring.limits import UnitLimits, assumptions
from scoring.timeline.known import Known

Floats = NDArray[np.float64]

SQUEEZE = "isolator_squeeze_mm"
CHECKS_OF_THE_FORCE = (MISSET.check, RUNOUT.check, SQUEEZE)
"""The checks that tell by how much a held arm is forced."""


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
    """

    arm: HeldArm
    which: NDArray[np.int64]
    share_clamped: Floats
    share_metal: Floats

    @property
    def share_held(self) -> Floats:
        """How likely anything holds the arm [-], shape (n_units,)."""
        return 1 - (1 - self.share_clamped) * (1 - self.share_metal)

    def expected(self, floats: float, by_rubber: Floats, by_metal: Floats) -> Floats:
        """Return what is to be expected of a number that depends on what holds the arm.

        Parameters
        ----------
        floats : float
            Its value where the arm floats.
        by_rubber, by_metal : ndarray, shape (n_arms, n_points)
            Its values where rubber, or metal, holds it.

        Returns
        -------
        ndarray, shape (n_units,)
            Over what holds it, and what was not measured.
        """
        held: list[tuple[HeldBy, Floats]] = [
            (self.arm.by_rubber, by_rubber),
            (self.arm.by_metal, by_metal),
        ]
        rubber, metal = (by.mean(values)[self.which] for by, values in held)
        or_rubber = floats + self.share_clamped * (rubber - floats)
        return np.asarray(or_rubber + self.share_metal * (metal - or_rubber))


def arm_restraint(known: Known, limits: UnitLimits, usual: UsualArms) -> ArmRestraint:
    """Tell how each torque arm is held.

    Parameters
    ----------
    known : Known
        What was known of units; one may come again and again, as it was on different days.
    limits : UnitLimits
        Their limits.
    usual : UsualArms
        How usual each state is where nobody has looked.

    Returns
    -------
    ArmRestraint
    """
    row, which = first_of_each(known, CHECKS_OF_THE_FORCE, usual.group)
    points = (one.where(row) for one in _may_be(known, limits, usual))
    arm = held_arm(read_nameplates(known.units.iloc[row]), *points)
    return ArmRestraint(arm, which, share_clamped(known, usual), share_of_metal(known, usual))


class ArmsAsFound:
    """Torque arms as found, to be asked how they are held where ever other states are usual.

    What a held arm does rests on what was found of it alone, and is worked out once.

    Parameters
    ----------
    known : Known
        What was known of units; one may come again and again, as it was on different days.
    limits : UnitLimits
        Their limits.
    """

    def __init__(self, known: Known, limits: UnitLimits) -> None:
        self._known, self._limits = known, limits
        row, self._which = first_of_each(known, CHECKS_OF_THE_FORCE, None)
        points = (one.where(row) for one in _may_be(known, limits, UsualArms()))
        self._arm = held_arm(read_nameplates(known.units.iloc[row]), *points)

    def restraint(self, usual: UsualArms) -> ArmRestraint:
        """Return what ``arm_restraint`` does."""
        known = self._known
        row, which = first_of_each(known, CHECKS_OF_THE_FORCE, usual.group)
        points = (one.where(row) for one in _may_be(known, self._limits, usual))
        arm = self._arm.where_usual(self._which[row], *points)
        return ArmRestraint(arm, which, share_clamped(known, usual), share_of_metal(known, usual))


def _may_be(
    known: Known, limits: UnitLimits, usual: UsualArms
) -> tuple[Possible, Possible, Possible]:
    """Return what mis-set, run-out and squeeze of each arm may be."""
    size, checks = len(known.units), CHECKS_OF_THE_FORCE
    thickness = limits.table["isolator_thickness_mm"].to_numpy()
    squeezes = np.broadcast_to(SQUEEZE_SHARE.shares, (size, len(SQUEEZE_SHARE.shares)))
    asked: tuple[tuple[str, float | Floats, Spread, Floats, assumptions.Assumed], ...] = (
        (checks[0], 1.0, MISSET.spread, usual.of(MISSET, size), assumptions.MOST_MISSET),
        (checks[1], 1.0, RUNOUT.spread, usual.of(RUNOUT, size), assumptions.MOST_RUNOUT),
        (checks[2], 1 / thickness, SQUEEZE_SHARE, squeezes, assumptions.SQUEEZE_SHARE),
    )
    misset, runout, squeeze = (
        possible(known, (check, scale), spread, shares, most.value)
        for check, scale, spread, shares, most in asked
    )
    return misset, runout, squeeze
