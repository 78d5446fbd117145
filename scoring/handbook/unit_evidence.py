"""Everything that multipliers rest on at each unit."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.arm_restraint import ArmRestraint, ArmsAsFound, arm_restraint
from scoring.consequences.joint_grip import JointGrip, joint_grip
from scoring.consequences.nameplate import Nameplate, nameplate_of
from scoring.handbook.condition import Condition, Evidence
from scoring.handbook.prevalence import Prevalence
from scoring.limits import UnitLimits
from scoring.timeline.known import Known, Status

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Ints = NDArray[np.int64]


@dataclass(frozen=True)
class Looked:
    """The state of one condition at each unit, and how it is known.

    Attributes
    ----------
    state : ndarray, shape (n_units,)
        Missing where nobody has looked, or where the mounting has no such state. [-]
    seen, cured, unseen : ndarray of bool, shape (n_units,)
        Whether it was seen, was only reported cured, or neither; all False where there is none.
    """

    state: Floats
    seen: Flags
    cured: Flags
    unseen: Flags


def any_reported_cured(known: Known, checks: tuple[str, ...]) -> Flags:
    """Tell of which units one of some checks was only reported cured."""
    cured = np.zeros(len(known.status), dtype=bool)
    for check in checks:  # of few units, to fetch a frame of several columns costs ten times that
        cured |= known.status[check].to_numpy() == Status.REPORTED_CURED
    return cured


@dataclass(frozen=True)
class UnitEvidence(Evidence):
    """What was found, what it does to the torque arm, and what is usual where nobody looked.

    Attributes
    ----------
    given_restraint : ArmRestraint or ArmsAsFound or None
        How the torque arm is held, or what it is as found, where that is worked out already.
    prevalence : Prevalence
        How usual each state is where nobody has looked.
    given_grip : JointGrip, optional
        The grip of each joint, where it is worked out already.
    given_looks : dict of str to Looked, optional
        What was seen of conditions, where it is told already.
    given_groups : ndarray of int, shape (n_units,), optional
        Where each unit stands in the tables of the prevalence, where it is told already.
    """

    given_restraint: ArmRestraint | ArmsAsFound | None
    prevalence: Prevalence
    given_grip: JointGrip | None = None
    given_looks: dict[str, Looked] | None = None
    given_groups: Ints | None = None

    @classmethod
    def of(cls, known: Known, limits: UnitLimits, prevalence: Prevalence) -> "UnitEvidence":
        """Take what was found, where nothing was worked out of it before."""
        return cls(known, limits, None, prevalence)

    def at(self, rows: Ints) -> "UnitEvidence":
        """Return the same of some of the units, and nothing that was worked out of them."""
        known, limits = self.known.at(rows), self.limits.at(rows)
        return UnitEvidence.of(known, limits, self.prevalence)

    @cached_property
    def restraint(self) -> ArmRestraint:
        """How the torque arm is held."""
        if isinstance(self.given_restraint, ArmRestraint):
            return self.given_restraint
        usual = self.prevalence.arms(self.groups)
        if self.given_restraint is not None:
            return self.given_restraint.restraint(usual)
        return arm_restraint(self.known, self.limits, usual)

    @cached_property
    def nameplate(self) -> Nameplate:
        """Sizes and loads of each unit."""
        return nameplate_of(self.known)

    @cached_property
    def grip(self) -> JointGrip:
        """The grip of each joint as found."""
        if self.given_grip is not None:
            return self.given_grip
        return joint_grip(self.known, self.limits, self.nameplate)

    @cached_property
    def before(self) -> "UnitEvidence":
        """The same of the units as they would be if no hypothetical cure succeeded."""
        assert self.known.hypothetical is not None  # noqa: S101 - asked for only where there is one
        return replace(
            self,
            known=self.known.hypothetical.before,
            given_grip=None,
            given_looks=None,
            given_groups=None,
        )

    @cached_property
    def groups(self) -> NDArray[np.int64]:
        """Where each unit stands in the tables of the prevalence."""
        return (
            self.prevalence.groups(self.known) if self.given_groups is None else self.given_groups
        )

    @cached_property
    def worked_out(self) -> dict[str, object]:
        """What was worked out once for every failure, by name."""
        return {}

    @cached_property
    def _looked(self) -> dict[str, Looked]:
        return {} if self.given_looks is None else self.given_looks

    def looked(self, what: Condition) -> Looked:
        """Tell what was seen of a condition; it is asked for each failure and worked out once."""
        if what.name not in self._looked:
            here = self.known.having(what)
            state = np.where(here, what.state(self), np.nan)
            seen = ~np.isnan(state)
            cured = here & ~seen & any_reported_cured(self.known, what.checks)
            self._looked[what.name] = Looked(state, seen, cured, here & ~seen & ~cured)
        return self._looked[what.name]

    def worked_on(self, what: Condition) -> Flags:
        """Tell at which units hypothetical re-work would cure something of a condition."""
        return self.known.having(what) & self.any_would_be_cured(what.checks)

    def any_would_be_cured(self, checks: tuple[str, ...]) -> Flags:
        """Tell at which units hypothetical re-work would cure one of some checks."""
        if self.known.hypothetical is None:
            return np.zeros(len(self.known.units), dtype=bool)
        cured = self.known.hypothetical.success[list(checks)].notna()
        return np.asarray(cured.any(axis=1))

    def chance_that_any_succeeds(self, checks: tuple[str, ...]) -> Floats:
        """Return the chance [-] that a hypothetical cure of some checks succeeds; 0 for none."""
        highest: Floats = self._chances(checks).max(axis=1)
        return highest

    def states_as_cures_succeed(self, what: Condition) -> list[tuple[Floats, Floats]]:
        """Return the states of a condition as ever more of its hypothetical cures succeed.

        Parameters
        ----------
        what : Condition
            The condition.

        Returns
        -------
        list of (ndarray, ndarray), each of shape (n_units,)
            How likely just the likeliest cure, the two likeliest, and so on succeed; and the state
            that the other checks show then, missing where they show none. [-]
        """
        if what.name not in self._states_as_cures_succeed:
            self._states_as_cures_succeed[what.name] = self._state_by_state(what)
        return self._states_as_cures_succeed[what.name]

    @cached_property
    def _states_as_cures_succeed(self) -> dict[str, list[tuple[Floats, Floats]]]:
        return {}

    def _state_by_state(self, what: Condition) -> list[tuple[Floats, Floats]]:
        weights, ranks = self.as_cures_succeed(what.checks)
        if len(what.checks) == 1:
            return [(weights[:, 0], self.looked(what).state)]
        return [
            (weights[:, place], what.state(self.if_cured(ranks, place, what.checks)))
            for place in range(len(what.checks))
        ]

    def as_cures_succeed(self, checks: tuple[str, ...]) -> tuple[Floats, Ints]:
        """Put hypothetical cures of some checks in the order in which they succeed.

        Cures of one job succeed together as far as their chances allow: the likeliest alone, then
        it and the next.

        Returns
        -------
        weights, ranks : ndarray, shape (n_units, n_checks)
            How likely just the likeliest cure, the two likeliest, and so on succeed [-]; and the
            place of each check's in that order, from 0.
        """
        chances = self._chances(checks)
        order = np.argsort(-chances, axis=1, kind="stable")
        ranks = np.argsort(order, axis=1, kind="stable")
        falling = np.take_along_axis(chances, order, axis=1)
        return falling - np.column_stack([falling[:, 1:], np.zeros(len(falling))]), ranks

    def if_cured(self, ranks: Ints, place: int, checks: tuple[str, ...]) -> "UnitEvidence":
        """Return the same of units at which just the cures up to a place in the order succeed."""
        before = self.before.known
        some = {
            frame: getattr(self.known, frame).assign(
                **{
                    name: getattr(self.known, frame)[name].where(
                        ranks[:, n] <= place, getattr(before, frame)[name]
                    )
                    for n, name in enumerate(checks)
                }
            )
            for frame in ("found", "exceedance", "status")
        }
        then = replace(self.known, **some, hypothetical=None)
        return replace(self, known=then, given_grip=None, given_looks=None, given_groups=None)

    def _chances(self, checks: tuple[str, ...]) -> Floats:
        """Return the chance that the hypothetical cure of each check succeeds, 0 for none."""
        size = len(self.known.units)
        if self.known.hypothetical is None:
            return np.zeros((size, len(checks)))
        chances: Floats = self.known.hypothetical.success[list(checks)].to_numpy()
        return np.nan_to_num(chances, nan=0.0)
