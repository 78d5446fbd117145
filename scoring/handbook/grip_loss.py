"""How much of its grip each joint has lost, as found and as is usual.

What was found is worked out as ``JointGrip`` or told by its states; what nobody has seen is as
usual as the prevalence says, and what re-work would cure is lost no more with the chance that it
succeeds.
"""

from dataclasses import dataclass
from functools import cache, cached_property
from itertools import product

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.usual_states import CHANCE_THAT_REWORK_SUCCEEDS
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.handbook.joints_found import Factors, Joints, JointsAsCured, relied_on
from scoring.handbook.shares_of_losses import at_a_loss, lose, spread_over
from scoring.handbook.unit_evidence import UnitEvidence
from scoring.handbook.what_lowers_grip import (
    CURED_TOGETHER,
    FACTORS,
    GRIP_FAULTS,
    ONE_CAUSE,
    GripFault,
)
from scoring.records import has_mounting

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

HOLDS_NOTHING = 0.05
"""How likely a joint that is not relied on truly holds nothing; planning value of ours. [-]"""


def grip_loss(evidence: UnitEvidence) -> Floats:
    """Return how likely each unit's joint has lost how much of its grip.

    Parameters
    ----------
    evidence : UnitEvidence
        What was known, limits, the grip as found, how usual faults are.

    Returns
    -------
    ndarray, shape (n_units, n_losses)
        Shares of ``LOSSES``; worked out once. A keyed bore grips by what of its key is in the
        bore. [-]

    Notes
    -----
    A worse finding moves shares to greater losses only. What nobody saw is averaged by how usual it
    is, whatever the joint has survived: so no look that finds a joint good raises a chance.
    """
    return _loss(evidence, holds_nothing=1.0).of_each


def grip_loss_of_distinct_joints(evidence: UnitEvidence) -> "DistinctLosses":
    """Return the same of each distinct joint once, for who would reckon the same for many."""
    return _loss(evidence, holds_nothing=1.0)


def grip_loss_as_likely(evidence: UnitEvidence) -> Floats:
    """Return the same, but of joints that are not relied on what is likely.

    Parameters
    ----------
    evidence : UnitEvidence
        What was known, limits, the grip as found, how usual faults are.

    Returns
    -------
    ndarray, shape (n_units, n_losses)
        Shares of ``LOSSES``: as found, and with the chance ``HOLDS_NOTHING`` all; worked out
        once. [-]

    Notes
    -----
    That nobody can work out what a joint carries is a reason to stop it, and to judge it by the
    worst; it is no sign that it slips as often as a joint without any grip, for it runs. So what a
    cure is credited is reckoned from here.
    """
    return _loss(evidence, holds_nothing=HOLDS_NOTHING).of_each


@dataclass(frozen=True)
class DistinctLosses:
    """How likely each distinct joint has lost how much of its grip.

    Attributes
    ----------
    shares : ndarray, shape (n_joints, n_losses)
        Of ``LOSSES``. [-]
    which : ndarray of int, shape (n_units,)
        The joint of each unit.
    """

    shares: Floats
    which: Ints

    @cached_property
    def of_each(self) -> Floats:
        """The shares of each unit, shape (n_units, n_losses)."""
        return self.shares[self.which]


def _loss(evidence: UnitEvidence, holds_nothing: float) -> DistinctLosses:
    """Return the shares where joints not relied on hold nothing with some chance; kept."""
    name = f"grip loss, {holds_nothing:g} hold nothing"
    found = evidence.worked_out.get(name)
    if not isinstance(found, DistinctLosses):
        found = evidence.worked_out[name] = _worked_out(evidence, holds_nothing)
    return found


def _worked_out(evidence: UnitEvidence, holds_nothing: float) -> DistinctLosses:
    by_states = holds_nothing < 1
    joints, cures = Joints(evidence, by_states), None
    if evidence.known.hypothetical is not None:
        cures = JointsAsCured.of(evidence, by_states=by_states)
    traits = [*joints.traits, *([] if cures is None else cures.traits)]
    rows, which = _distinct(evidence.groups, traits)
    shares, worked_on = _shares(joints, cures, rows)
    doubtful = np.flatnonzero(~relied_on(evidence)[rows] & ~worked_on)
    nothing = at_a_loss(np.array([np.inf]))
    shares[doubtful] = (1 - holds_nothing) * shares[doubtful] + holds_nothing * nothing
    return DistinctLosses(shares, which)


@cache
def usual_grip_loss(mounting: str) -> Floats:
    """Return how likely a joint has lost how much where nobody looked, by the handbook.

    Parameters
    ----------
    mounting : str
        How it holds the shaft.

    Returns
    -------
    ndarray, shape (n_losses,)
        Shares of ``LOSSES``; not to be written into. [-]

    Examples
    --------
    >>> usual_grip_loss("keyed_bore")[0].round(2)
    np.float64(0.86)
    """
    usual = [(f, np.array([f.usual])) for f in GRIP_FAULTS if mounting in f.mountings]
    shares: Floats = _spread_over_faults(at_a_loss(np.zeros(1)), usual)[0]
    shares.flags.writeable = False
    return shares


def grip_loss_where_nobody_looked(evidence: UnitEvidence) -> Floats:
    """Return the shares of ``LOSSES`` of each unit as if nobody had looked at its joint."""
    shares = at_a_loss(np.zeros(len(evidence.known.units)))
    for mounting in EVERY_MOUNTING:
        here = np.flatnonzero(has_mounting(evidence.known.units, (mounting,)))
        usual = [(f, _usual(f, evidence, here)) for f in GRIP_FAULTS if mounting in f.mountings]
        shares[here] = _spread_over_faults(shares[here], usual)
    return shares


def _distinct(groups: Ints, traits: list[NDArray[np.generic]]) -> tuple[Ints, Ints]:
    """Return a row of each distinct joint, and which of them each unit has."""
    code = groups
    for values in traits:
        codes, different = pd.factorize(values)
        code = pd.factorize(code * len(different) + codes)[0]
    _, row, which = np.unique(code, return_index=True, return_inverse=True)
    return row, which


def _shares(
    joints: Joints, cures: JointsAsCured | None, rows: Ints
) -> tuple[Floats, NDArray[np.bool_]]:
    """Return the shares of ``LOSSES`` of some units, relied on or not, and what is worked on."""
    shares, worked_on = at_a_loss(np.zeros(len(rows))), np.zeros(len(rows), dtype=bool)
    for factors in CURED_TOGETHER:
        here = np.zeros(len(rows), dtype=bool)
        if cures is not None:
            here = cures.worked_on[factors][rows]
            some = np.flatnonzero(here)
            if len(some):
                shares[some] = _as_cures_succeed(shares[some], factors, cures, rows[some])
        some = np.flatnonzero(~here)
        if len(some):
            shares[some] = _as_known(shares[some], factors, joints, rows[some])
        worked_on |= here
    return shares, worked_on


def _as_cures_succeed(shares: Floats, factors: Factors, cures: JointsAsCured, rows: Ints) -> Floats:
    """Average factors over which of their hypothetical cures succeed."""
    none = cures.none[factors][rows, np.newaxis]
    mean = none * _as_known(shares, factors, cures.before, rows)
    for weights, joints in cures.turns:
        weight = weights[factors][rows]
        some = np.flatnonzero(weight > 0)
        if len(some):
            lost = shares[some]
            for factor in factors:
                lost = _lost(lost, factor, joints, rows[some])
            mean[some] += weight[some, np.newaxis] * lost
    return mean


def _as_known(shares: Floats, factors: Factors, joints: Joints, rows: Ints) -> Floats:
    """Lose by factors what is known of them; re-work on record may not have cured it."""
    for factor in factors:
        shares = _lost(shares, factor, joints, rows)
        cured = np.flatnonzero(joints.cured[factor][rows])
        if len(cured):
            good, success = shares[cured], CHANCE_THAT_REWORK_SUCCEEDS
            faulty = _if_faulty(good, factor, joints, rows[cured])
            shares[cured] = success * good + (1 - success) * faulty
    return shares


def _lost(shares: Floats, factor: str, joints: Joints, rows: Ints) -> Floats:
    """Lose by a factor what was found of it, and average over what nobody has seen."""
    shares = shares.copy()
    found = joints.found[factor][rows]
    units = joints.evidence.known.units
    for mounting in EVERY_MOUNTING:
        here = np.flatnonzero(has_mounting(units, (mounting,))[rows])
        usual = [
            (f, _usual_or_good(f, joints.evidence, rows[here]))
            for f in GRIP_FAULTS
            if f.factor == factor and mounting in f.mountings
        ]
        if factor in ONE_CAUSE:
            shares[here] = _worst_of(shares[here], usual, found[here])
            continue
        shares[here] = lose(shares[here], found[here])
        for fault, states in usual:
            some = np.flatnonzero(states[:, 0] < 1)
            if len(some):
                shares[here[some]] = spread_over(shares[here[some]], fault.ratios, states[some])
    return shares


def _if_faulty(shares: Floats, factor: str, joints: Joints, rows: Ints) -> Floats:
    """Average over the faults of a factor of which re-work on record was to cure one."""
    faults = [f for f in GRIP_FAULTS if f.factor == factor]
    here = [np.flatnonzero(joints.evidence.looked(fault).cured[rows]) for fault in faults]
    count = np.bincount(np.concatenate(here), minlength=len(rows))
    mean = np.where(count[:, np.newaxis] == 0, shares, 0.0)
    for fault, at in zip(faults, here, strict=True):
        if len(at):
            faulty = np.array(fault.usual[1:])
            of_states = np.tile(faulty / faulty.sum(), (len(at), 1))
            mean[at] += spread_over(shares[at], fault.ratios[1:], of_states) / count[at, np.newaxis]
    return mean


def _usual_or_good(fault: GripFault, evidence: UnitEvidence, rows: Ints) -> Floats:
    """Return how usual each state of a fault is where nobody looked; good where it is known."""
    states = np.zeros((len(rows), len(fault.states)))
    states[:, 0] = 1.0
    unseen = np.flatnonzero(evidence.looked(fault).unseen[rows])
    states[unseen] = _usual(fault, evidence, rows[unseen])
    return states


def _usual(fault: GripFault, evidence: UnitEvidence, rows: Ints) -> Floats:
    """Return how usual each state of a fault is at some units where nobody has looked."""
    learned = evidence.prevalence.shares.get(fault.name)
    if learned is None:
        return np.tile(fault.usual, (len(rows), 1))
    flat: Floats = learned.reshape(-1, learned.shape[-1])[evidence.groups[rows]]
    return flat


def _spread_over_faults(shares: Floats, usual: list[tuple[GripFault, Floats]]) -> Floats:
    """Average over the states of faults of one mounting of which nobody saw any."""
    for factor in FACTORS:
        of_factor = [(fault, states) for fault, states in usual if fault.factor == factor]
        if factor in ONE_CAUSE:
            shares = _worst_of(shares, of_factor, np.zeros(len(shares)))
            continue
        for fault, states in of_factor:
            shares = spread_over(shares, fault.ratios, states)
    return shares


def _worst_of(shares: Floats, usual: list[tuple[GripFault, Floats]], found: Floats) -> Floats:
    """Lose by the worst of what was found and of faults that show one cause."""
    out = np.zeros_like(shares)
    for places in product(*(range(len(fault.states)) for fault, _ in usual)):
        weight, least = np.ones(len(shares)), 0.0
        for place, (fault, states) in zip(places, usual, strict=True):
            weight = weight * states[:, place]
            least = max(least, float(fault.losses[place]))
        some = np.flatnonzero(weight > 0)
        out[some] += weight[some, np.newaxis] * lose(shares[some], found[some], least)
    return out
