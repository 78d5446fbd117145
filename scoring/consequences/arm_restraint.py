"""How a torque arm is held at each unit: how likely, and what that would do."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.nameplate import Nameplate, nameplate_of
from scoring.consequences.not_measured import Possible, first_of_each, possible
from scoring.consequences.restraint import (
    HeldArm,
    HeldBy,
    MayBe,
    held_arm,
    held_by_metal,
    held_by_rubber,
)
from scoring.consequences.spread import SQUEEZE_SHARE, Spread
from scoring.consequences.states_of_the_arm import MISSET, RUNOUT, UsualArms
from scoring.consequences.what_holds_the_arm import share_clamped, share_of_metal
from scoring.limits import UnitLimits, assumptions
from scoring.timeline.known import Known

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

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
    which_by_metal : ndarray of int, shape (n_units,), optional
        Place of each in what metal does, where that is told of other arms than what rubber does;
        -1 in either for one that is not held so.
    """

    arm: HeldArm
    which: Ints
    share_clamped: Floats
    share_metal: Floats
    which_by_metal: Ints | None = None

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
        arm, rubber_which = self.arm, self.which
        metal_which = rubber_which if self.which_by_metal is None else self.which_by_metal
        held: list[tuple[HeldBy, Floats, Ints]] = [
            (arm.by_rubber, by_rubber, rubber_which),
            (arm.by_metal, by_metal, metal_which),
        ]
        # the last, at -1, is of arms that nothing holds so
        rubber, metal = (np.append(by.mean(of), floats)[which] for by, of, which in held)
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
    points = (one.where(row) for one in _may_be(known, _thickness(limits), usual))
    arm = held_arm(nameplate_of(known).at(row), *points)
    return ArmRestraint(arm, which, share_clamped(known, usual), share_of_metal(known, usual))


class ArmsAsFound:
    """Torque arms as found, to be asked how they are held where ever other states are usual.

    What a held arm does rests on what was found of it alone, and is worked out once; of one that
    was seen to float, not at all.

    Parameters
    ----------
    known : Known
        What was known of units; one may come again and again, as it was on different days; nothing
        hypothetical.
    limits : UnitLimits
        Their limits.
    nameplate : Nameplate
        Their sizes and loads.
    """

    def __init__(self, known: Known, limits: UnitLimits, nameplate: Nameplate) -> None:
        self._known, nobody, arms = known, UsualArms(), (known, _thickness(limits), nameplate)
        rubber, metal = (
            np.flatnonzero(of(known, nobody)) for of in (share_clamped, share_of_metal)
        )
        self._by_rubber = _ArmsThatMayBeHeld(arms, rubber, by_metal=False)
        self._by_metal = _ArmsThatMayBeHeld(arms, metal, by_metal=True)

    def restraint(self, usual: UsualArms) -> ArmRestraint:
        """Return what ``arm_restraint`` does, but nothing of the loads of those that float.

        Parameters
        ----------
        usual : UsualArms
            How usual each state is where nobody has looked.

        Returns
        -------
        ArmRestraint
        """
        (rubber, of_rubber), (metal, of_metal) = (
            one.where_usual(usual) for one in (self._by_rubber, self._by_metal)
        )
        known, no_loads = self._known, np.empty((0, 2))
        return ArmRestraint(
            HeldArm(no_loads, rubber, metal),
            of_rubber,
            share_clamped(known, usual),
            share_of_metal(known, usual),
            of_metal,
        )


class _ArmsThatMayBeHeld:
    """Those of some arms that rubber, or metal, may hold."""

    def __init__(
        self, arms: tuple[Known, Floats, Nameplate], rows: Ints, *, by_metal: bool
    ) -> None:
        known, thickness, nameplate = arms
        self._size, self._rows, self._by_metal = len(known.place), rows, by_metal
        some = _forced(known, rows)
        first, self._which = first_of_each(some, CHECKS_OF_THE_FORCE, None)
        self._known = some
        self._thickness = thickness[rows]
        may_be = self._may_be(first, UsualArms())
        held_by = held_by_metal if by_metal else held_by_rubber
        self._held = held_by(nameplate.at(rows[first]), may_be)

    def where_usual(self, usual: UsualArms) -> tuple[HeldBy, Ints]:
        """Return what holds them where other states are usual, and which of that each arm is."""
        group = None if usual.group is None else usual.group[self._rows]
        code, which = self._which, self._which
        if group is not None:
            code = self._which * (int(group.max(initial=0)) + 1) + group
        _, first, which = np.unique(code, return_index=True, return_inverse=True)
        shares = {name: one[self._rows[first]] for name, one in usual.shares.items()}
        may_be = self._may_be(first, UsualArms(shares))
        of_points = may_be.shares_of_metal if self._by_metal else may_be.shares_of_rubber
        of_every = np.full(self._size, -1, dtype=np.int64)
        of_every[self._rows] = which
        return self._held.where_usual(self._which[first], of_points), of_every

    def _may_be(self, rows: Ints, usual: UsualArms) -> MayBe:
        return MayBe(*_may_be(_forced(self._known, rows), self._thickness[rows], usual))


def _forced(known: Known, rows: Ints) -> Known:
    """Return what is known of the force on some of the arms, and no more."""
    checks = list(CHECKS_OF_THE_FORCE)
    found, status = (table[checks].iloc[rows] for table in (known.found, known.status))
    return replace(known, place=known.place[rows], found=found, status=status)


def _thickness(limits: UnitLimits) -> Floats:
    thickness: Floats = limits.table["isolator_thickness_mm"].to_numpy()
    return thickness


def _may_be(
    known: Known, thickness: Floats, usual: UsualArms
) -> tuple[Possible, Possible, Possible]:
    """Return what mis-set, run-out and squeeze of each arm may be; of isolators so thick [mm]."""
    size, checks = len(known.place), CHECKS_OF_THE_FORCE
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
