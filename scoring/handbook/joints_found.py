"""What each factor of a joint's grip lost as found, and as ever more cures of it succeed."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.preload_left import UNSEEN_MEAN
from scoring.contract.mountings import CLAMPED
from scoring.handbook.unit_evidence import UnitEvidence
from scoring.handbook.what_lowers_grip import (
    CURED_TOGETHER,
    ENGAGEMENT,
    FACTORS,
    FIT,
    FRICTION,
    GRIP_FAULTS,
    PRELOAD,
)
from scoring.records import has_mounting

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Factors = tuple[str, ...]

LEAST_LEFT, ROUNDING = 1e-9, 1e-12


@dataclass(frozen=True)
class HowKnown:
    """How the grip of each joint is known, each of shape (n_units,).

    Attributes
    ----------
    some, every : ndarray of bool
        Whether anything that may lower it was seen, and whether nothing was left out.
    cured : ndarray of bool
        Whether anything was only reported cured.
    """

    some: Flags
    every: Flags
    cured: Flags


def how_grip_is_known(evidence: UnitEvidence) -> HowKnown:
    """Tell how the grip of each joint is known."""
    looked = [evidence.looked(fault) for fault in GRIP_FAULTS]
    some, cured, dark = (
        np.any([getattr(one, what) for one in looked], axis=0)
        for what in ("seen", "cured", "unseen")
    )
    lost = ~relied_on(evidence)
    return HowKnown(some, ~(dark | cured) | lost, cured & ~lost)


@dataclass(frozen=True)
class Joints:
    """The joints of some units, and what each factor of their grip lost as found.

    Attributes
    ----------
    evidence : UnitEvidence
        What was known of them.
    by_states : bool
        Whether a disc on an empty hub, for which there is no number, lost what its states say, and
        not all of its grip.
    """

    evidence: UnitEvidence
    by_states: bool = False

    @cached_property
    def found(self) -> dict[str, Floats]:
        """Loss of each factor as found; what was not seen, or is reported cured, lost nothing."""
        return {factor: self._found(factor) for factor in FACTORS}

    def _found(self, factor: str) -> Floats:
        known = self.evidence.known
        losses = []
        for fault in GRIP_FAULTS:
            if fault.factor == factor:
                here = known.mounted(fault.mountings)
                losses.append(np.where(here, fault.loss_found(self.evidence), 0.0))
                if fault.worked_out:
                    losses.append(np.where(here, self._worked_out(factor), 0.0))
        # what is worked out is so once for all faults of a factor, and no other of it by states
        worst: Floats = np.max(losses, axis=0)
        return worst

    def _worked_out(self, factor: str) -> Floats:
        with np.errstate(divide="ignore"):
            ratio = np.nan_to_num(self.evidence.grip.factors[factor], nan=1.0)
            loss: Floats = -np.log(np.minimum(ratio, 1.0))
        # of what nobody saw the joint's own calculation takes a mean, which would count twice
        found = self.evidence.known.found
        if factor == FRICTION:
            return np.where(found["bore_condition"].notna(), loss, 0.0)
        unseen_passes = np.where(found["torque_passes"].notna(), 0.0, -UNSEEN_MEAN)
        if factor == ENGAGEMENT and self.by_states:
            return np.where(np.isfinite(loss), loss, 0.0)
        if factor == PRELOAD:
            return np.maximum(loss - unseen_passes, 0.0)
        if factor == FIT:
            # closing the fit takes more of a joint pulled less; of such a mean it would count, too
            pulled = -np.log(np.maximum(self.evidence.grip.factors[PRELOAD], LEAST_LEFT))
            told = found["shaft_diameter_measured_mm"].notna() | (pulled > unseen_passes + ROUNDING)
            return np.where(told, loss, 0.0)
        return loss

    @cached_property
    def cured(self) -> dict[str, Flags]:
        """Where work on record, or that is only hypothetical, has cured something of a factor."""
        return {
            factor: np.any(
                [self.evidence.looked(f).cured for f in GRIP_FAULTS if f.factor == factor], axis=0
            )
            for factor in FACTORS
        }

    @property
    def traits(self) -> list[NDArray[np.generic]]:
        """All by which joints of one mounting and crew may differ."""
        looked = [self.evidence.looked(fault) for fault in GRIP_FAULTS]
        known = [one.unseen + 2 * one.cured for one in looked]
        return [relied_on(self.evidence), *self.found.values(), *known]


@dataclass(frozen=True)
class JointsAsCured:
    """The joints as ever more of hypothetical cures succeed.

    Attributes
    ----------
    turns : list of (dict of tuple to ndarray, Joints)
        For factors cured together how likely just so many of their cures succeed [-], and the
        joints then.
    none : dict of tuple to ndarray
        For these factors how likely none does. [-]
    worked_on : dict of tuple to ndarray of bool
        Where there are any.
    before : Joints
        The joints without any.
    """

    turns: list[tuple[dict[Factors, Floats], Joints]]
    none: dict[Factors, Floats]
    worked_on: dict[Factors, Flags]
    before: Joints

    @classmethod
    def of(cls, evidence: UnitEvidence, *, by_states: bool = False) -> "JointsAsCured":
        """Work them out turn by turn."""
        checks = {some: _checks_of(some) for some in CURED_TOGETHER}
        orders = {some: evidence.as_cures_succeed(checks[some]) for some in CURED_TOGETHER}
        ranks = np.column_stack([ranks for _, ranks in orders.values()])
        names = tuple(name for of_some in checks.values() for name in of_some)
        turns = []
        for place in range(max(map(len, checks.values()))):
            weights = {some: _column(orders[some][0], place) for some in CURED_TOGETHER}
            if any(weight.any() for weight in weights.values()):
                turns.append((weights, Joints(evidence.if_cured(ranks, place, names), by_states)))
        none = {some: 1 - evidence.chance_that_any_succeeds(checks[some]) for some in checks}
        worked_on = {some: evidence.any_would_be_cured(checks[some]) for some in checks}
        return cls(turns, none, worked_on, Joints(evidence.before, by_states))

    @property
    def traits(self) -> list[NDArray[np.generic]]:
        """All by which joints of one mounting and crew may differ."""
        every = [*self.before.traits, *self.none.values(), *self.worked_on.values()]
        for weights, joints in self.turns:
            every += [*weights.values(), *joints.traits]
        return every


def _checks_of(factors: Factors) -> tuple[str, ...]:
    """Return the checks of all faults of some factors."""
    return tuple(dict.fromkeys(c for f in GRIP_FAULTS if f.factor in factors for c in f.checks))


def _column(weights: Floats, place: int) -> Floats:
    column: Floats = weights[:, place] if place < weights.shape[1] else np.zeros(len(weights))
    return column


def relied_on(evidence: UnitEvidence) -> Flags:
    """Tell on which joints one can rely at all; no keyed bore holds by grip alone."""
    relied_on: Flags = evidence.grip.relied_on | ~has_mounting(evidence.known.units, CLAMPED)
    return relied_on
