"""How much of its specified grip each friction joint has lost, as found and as is usual.

What was found is worked out as ``JointGrip``; what nobody has seen is as usual as the prevalence
says, and what re-work would cure is lost no more with the chance that it succeeds.
"""

from dataclasses import dataclass, replace
from itertools import product

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.joint_grip import (
    GRIP_BY_SURFACE_IN_A_BUSHING,
    GRIP_BY_SURFACE_IN_A_DISC,
)
from scoring.consequences.preload_left import UNSEEN_MEAN
from scoring.consequences.usual_states import CHANCE_THAT_REWORK_SUCCEEDS
from scoring.contract.mountings import CLAMPED, SHRINK_DISCS, TAPERED_BUSHING
from scoring.handbook.effect import Effect
from scoring.handbook.effects_of_the_joint import EFFECTS_OF_THE_JOINT
from scoring.handbook.unit_evidence import UnitEvidence
from scoring.records import has_mounting

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Ints = NDArray[np.int64]

STEP = 0.05
LOSSES = np.append(np.arange(61) * STEP, np.inf)
"""Logarithms of specified over found grip; the last stands for a grip that is not relied on. [-]"""

PRESSURE = "pressure"
"""Preload and fit: what is left of the pressure on the shaft."""

_EFFECTS = {effect.name: effect for effect in EFFECTS_OF_THE_JOINT}


@dataclass(frozen=True)
class GripFault:
    """What a state that lowers grip leaves of it where nobody has looked.

    Attributes
    ----------
    effect : str
        The effect whose states and shares it has.
    factor : str
        What it lowers, from ``found``: of the factors of ``JointGrip``, preload and fit together,
        for what the fit takes depends on how much there is.
    ratios : tuple of float
        Grip left in each state; 0 where it is not relied on. [-]
    mountings : tuple of str
        The mountings whose joints it concerns.
    """

    effect: str
    factor: str
    ratios: tuple[float, ...]
    mountings: tuple[str, ...] = CLAMPED

    @property
    def shown_by(self) -> Effect:
        """The effect."""
        return _EFFECTS[self.effect]


GRIP_FAULTS = (
    GripFault(
        "bore_surface_of_a_friction_joint",
        "friction",
        GRIP_BY_SURFACE_IN_A_BUSHING,
        (TAPERED_BUSHING,),
    ),
    GripFault(
        "bore_surface_of_a_friction_joint", "friction", GRIP_BY_SURFACE_IN_A_DISC, SHRINK_DISCS
    ),
    GripFault("torque_passes", PRESSURE, (1.0, 0.95, 0.85, 0.6)),
    GripFault("final_torque", PRESSURE, (1.0, 0.9, 0.7)),
    GripFault("shaft_size", PRESSURE, (1.0, 0.95, 0.8, 0.5), SHRINK_DISCS),
    GripFault("engagement", "engagement", (1.0, 0.75, 0.5, 0.25), SHRINK_DISCS),
    GripFault("engagement", "engagement", (1.0, 0.9, 0.7, 0.4), (TAPERED_BUSHING,)),
    GripFault("disc_offset", "offset", (1.0, 0.98, 0.9), SHRINK_DISCS),
)
"""Planning values of ours, but for friction, which is that of the joint's own calculation."""


@dataclass(frozen=True)
class _Joints:
    """The joints of some units, and what each factor of their grip lost as found."""

    evidence: UnitEvidence
    found: dict[str, Floats]
    cured: dict[str, Flags]

    @classmethod
    def of(cls, evidence: UnitEvidence) -> "_Joints":
        grip, found = evidence.grip, {}
        for factor, ratio in grip.factors.items():
            with np.errstate(divide="ignore"):
                found[factor] = -np.log(np.minimum(np.nan_to_num(ratio, nan=1.0), 1.0))
        # of what nobody saw the joint's own calculation takes a mean, which would count twice
        seen = evidence.known.found.notna()
        found["friction"] = np.where(seen["bore_condition"], found["friction"], 0.0)
        mean_passes = np.where(seen["torque_passes"], 0.0, -UNSEEN_MEAN)
        preload = np.maximum(found.pop("preload") - mean_passes, 0.0)
        found[PRESSURE] = preload + found.pop("fit")
        cured = {
            factor: np.any(
                [evidence.looked(f.shown_by).cured for f in GRIP_FAULTS if f.factor == factor],
                axis=0,
            )
            for factor in found
        }
        return cls(evidence, found, cured)

    def before(self) -> "_Joints | None":
        """Return the joints before work that is only hypothetical."""
        hypothetical = self.evidence.known.hypothetical
        if hypothetical is None:
            return None
        return _Joints.of(replace(self.evidence, known=hypothetical.before, given_grip=None))

    def chance_of_cure(self, factor: str) -> Floats:
        """Return the chance [-] that what is reported cured is cured."""
        hypothetical = self.evidence.known.hypothetical
        if hypothetical is None:
            return np.full(len(self.evidence.known.units), CHANCE_THAT_REWORK_SUCCEEDS)
        checks = [c for f in GRIP_FAULTS if f.factor == factor for c in f.shown_by.checks]
        chance: Floats = (
            hypothetical.success[list(dict.fromkeys(checks))].max(axis=1).fillna(0.0).to_numpy()
        )
        return chance


def grip_loss(evidence: UnitEvidence) -> Floats:
    """Return how likely each unit's joint has lost how much of its grip.

    Parameters
    ----------
    evidence : UnitEvidence
        What was known, limits, the grip as found, how usual faults are.

    Returns
    -------
    ndarray, shape (n_units, n_losses)
        Shares of ``LOSSES``; they mean nothing at a keyed bore. [-]

    Notes
    -----
    A worse finding moves shares to greater losses only. What nobody saw is averaged by how usual it
    is, whatever the joint has survived: so no look that finds a joint good raises a chance.
    """
    joints = _Joints.of(evidence)
    before, clamped = joints.before(), has_mounting(evidence.known.units, CLAMPED)
    size = len(evidence.known.units)
    shares = np.zeros((size, len(LOSSES)))
    perhaps = [factor for factor, flags in joints.cured.items() if flags.any()]
    # Each way in which cures may take is laid on the table by itself: parted between two losses
    # once, what was not cured comes out as if nothing had been done.
    for takes in product((True, False), repeat=len(perhaps)):
        way, weight = dict(zip(perhaps, takes, strict=True)), np.ones(size)
        for factor, took in way.items():
            success = np.where(joints.cured[factor], joints.chance_of_cure(factor), 1.0)
            weight *= success if took else 1 - success
        rows = np.flatnonzero(weight > 0)
        if len(rows):
            shares[rows] += weight[rows, np.newaxis] * _one_way((joints, before), way, rows)
    none_at_all = at_a_loss(np.array([np.inf]))
    if before is not None:
        again = np.flatnonzero(~before.evidence.grip.relied_on & clamped)
        if len(again):
            chances = [joints.chance_of_cure(f) * joints.cured[f] for f in joints.found]
            success = np.max(chances, axis=0)[again, np.newaxis]
            shares[again] = success * shares[again] + (1 - success) * none_at_all
    shares[~evidence.grip.relied_on & clamped] = none_at_all
    return shares


def _one_way(joints: tuple[_Joints, "_Joints | None"], way: dict[str, bool], rows: Ints) -> Floats:
    """Return the shares at some units if some cures take and others do not."""
    now, before = joints
    as_it_was = {
        factor: now if before is None or way.get(factor, True) else before for factor in now.found
    }
    total = np.sum([left.found[factor][rows] for factor, left in as_it_was.items()], axis=0)
    shares = at_a_loss(total)
    for factor, left in as_it_was.items():
        shares = _with_unseen(shares, factor, left, rows)
        if left is now and way.get(factor, True):
            continue
        faulty = np.flatnonzero(left.cured[factor][rows])
        if len(faulty):  # on record: nobody says what it was done to
            chance = 1 - CHANCE_THAT_REWORK_SUCCEEDS if left is before else 1.0
            mixed = _if_faulty(shares[faulty], factor, left, rows[faulty])
            shares[faulty] = (1 - chance) * shares[faulty] + chance * mixed
    return shares


def usual_grip_loss(mounting: str) -> Floats:
    """Return how likely a joint has lost how much where nobody looked, by the handbook.

    Parameters
    ----------
    mounting : str
        How it holds the shaft.

    Returns
    -------
    ndarray, shape (n_losses,)
        Shares of ``LOSSES``. [-]

    Examples
    --------
    >>> usual_grip_loss("tapered_bushing")[0].round(2)
    np.float64(0.63)
    """
    shares = at_a_loss(np.zeros(1))
    for fault in GRIP_FAULTS:
        if mounting in fault.mountings:
            shares = spread_over(shares, fault.ratios, np.array([fault.shown_by.usual]))
    usual: Floats = shares[0]
    return usual


def grip_loss_where_nobody_looked(evidence: UnitEvidence) -> Floats:
    """Return the shares of ``LOSSES`` of each unit as if nobody had looked at its joint."""
    shares = at_a_loss(np.zeros(len(evidence.known.units)))
    for fault in GRIP_FAULTS:
        here = np.flatnonzero(has_mounting(evidence.known.units, fault.mountings))
        shares[here] = spread_over(shares[here], fault.ratios, _usual(fault, evidence, here))
    return shares


def _with_unseen(shares: Floats, factor: str, joints: _Joints, rows: Ints) -> Floats:
    """Average over what nobody has seen of a factor; ``shares`` are those of some rows."""
    for fault in GRIP_FAULTS:
        if fault.factor != factor:
            continue
        unseen = joints.evidence.looked(fault.shown_by).unseen & ~joints.cured[factor]
        unseen &= has_mounting(joints.evidence.known.units, fault.mountings)
        at = np.flatnonzero(unseen[rows])
        if len(at):
            usual = _usual(fault, joints.evidence, rows[at])
            shares[at] = spread_over(shares[at], fault.ratios, usual)
    return shares


def _if_faulty(shares: Floats, factor: str, joints: _Joints, rows: Ints) -> Floats:
    """Average over the faults of a factor of which re-work on record was to cure one."""
    here = [
        np.flatnonzero(
            has_mounting(joints.evidence.known.units, fault.mountings)[rows]
            & joints.evidence.looked(fault.shown_by).cured[rows]
        )
        if fault.factor == factor
        else np.array([], dtype=np.int64)
        for fault in GRIP_FAULTS
    ]
    count = np.bincount(np.concatenate(here), minlength=len(rows))
    mean = np.where(count[:, np.newaxis] == 0, shares, 0.0)
    for fault, at in zip(GRIP_FAULTS, here, strict=True):
        if len(at):
            faulty = np.array(fault.shown_by.usual[1:])
            of_states = np.tile(faulty / faulty.sum(), (len(at), 1))
            mean[at] += spread_over(shares[at], fault.ratios[1:], of_states) / count[at, np.newaxis]
    return mean


def _usual(fault: GripFault, evidence: UnitEvidence, rows: Ints) -> Floats:
    """Return how usual each state of a fault is at some units where nobody has looked."""
    learned = evidence.prevalence.shares.get(fault.effect)
    if learned is None:
        return np.tile(fault.shown_by.usual, (len(rows), 1))
    flat: Floats = learned.reshape(-1, learned.shape[-1])[evidence.groups[rows]]
    return flat


def at_a_loss(loss: Floats) -> Floats:
    """Return the shares of ``LOSSES`` that stand for losses known for certain.

    One between two of them is parted between both, so that a greater loss never has more of a
    smaller one.

    Examples
    --------
    >>> at_a_loss(np.array([0.0, 0.06, np.inf])).round(2)[:, [0, 1, 2, -1]].tolist()
    [[1.0, 0.0, 0.0, 0.0], [0.0, 0.8, 0.2, 0.0], [0.0, 0.0, 0.0, 1.0]]
    """
    shares = np.zeros((len(loss), len(LOSSES)))
    rows, last = np.arange(len(loss)), len(LOSSES) - 2
    finite = np.isfinite(loss)
    along = np.clip(np.where(finite, loss, 0.0) / STEP, 0.0, last)
    lower = np.minimum(along.astype(np.int64), last - 1)
    shares[rows, lower] = np.where(finite, 1 - (along - lower), 0.0)
    shares[rows, lower + 1] = np.where(finite, along - lower, 0.0)
    shares[~finite, -1] = 1.0
    return shares


def lose(shares: Floats, loss: Floats) -> Floats:
    """Let joints lose more.

    Parameters
    ----------
    shares : ndarray, shape (n_units, n_losses)
        Of ``LOSSES``. [-]
    loss : ndarray, shape (n_units,)
        What each loses besides, not below 0. [-]

    Returns
    -------
    ndarray, shape (n_units, n_losses)
    """
    last = len(LOSSES) - 2
    finite = np.isfinite(loss)
    along = np.minimum(np.where(finite, loss, 0.0) / STEP, last)
    whole = along.astype(np.int64)
    part = (along - whole)[:, np.newaxis]
    below = np.cumsum(shares[:, :-1], axis=1)
    padded = np.concatenate([np.zeros((len(shares), 1)), below], axis=1)
    place = np.arange(1, last + 2) - whole[:, np.newaxis]
    nearer = np.take_along_axis(padded, np.maximum(place, 0), axis=1)
    farther = np.take_along_axis(padded, np.maximum(place - 1, 0), axis=1)
    moved = (1 - part) * nearer + part * farther
    moved[:, -1] = below[:, -1]  # what would lose more than the table has stays at its end
    out = np.empty_like(shares)
    out[:, :-1] = np.diff(moved, axis=1, prepend=0.0)
    out[:, -1] = shares[:, -1]
    out[~finite, :-1], out[~finite, -1] = 0.0, 1.0
    return out


def spread_over(shares: Floats, ratios: tuple[float, ...], states: Floats) -> Floats:
    """Average over states that leave a part of the grip.

    Parameters
    ----------
    shares : ndarray, shape (n_units, n_losses)
        Of ``LOSSES``. [-]
    ratios : tuple of float
        Grip left in each state, 0 where it is not relied on. [-]
    states : ndarray, shape (n_units, n_states)
        How likely each is. [-]

    Returns
    -------
    ndarray, shape (n_units, n_losses)
    """
    out = np.zeros_like(shares)
    for place, ratio in enumerate(ratios):
        loss = -np.log(ratio) if ratio > 0 else np.inf
        share = states[:, [place]]
        out += share * (shares if loss == 0 else lose(shares, np.full(len(shares), loss)))
    return out
