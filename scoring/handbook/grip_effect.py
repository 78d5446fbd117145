"""How the grip of a joint multiplies hazards: slips by margin, bearing and seal by what is lost.

All that lowers grip counts here and nowhere else. Most of its damage comes through slip; what moves
in its bore without slipping right round wears bearing and seal too, within bounds.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.joint_grip import JointGrip
from scoring.consequences.row_sums import row_sums, rows_times
from scoring.contract.events import JOINT_SLIP, LOW_SPEED_BEARING, SEAL_LEAK
from scoring.contract.mountings import CLAMPED, EVERY_MOUNTING
from scoring.handbook.grip_loss import (
    grip_loss,
    grip_loss_as_likely,
    grip_loss_of_distinct_joints,
    grip_loss_where_nobody_looked,
    usual_grip_loss,
)
from scoring.handbook.joints_found import relied_on
from scoring.handbook.shares_of_losses import LOSSES
from scoring.handbook.slip_hazard import (
    LOG_MARGINS,
    MARGIN_AS_SPECIFIED,
    SPREAD_OF_MARGINS,
    USUAL_YEARS,
    SlipHazards,
    slip_hazards,
    slips_of_a_margin,
)
from scoring.handbook.unit_evidence import UnitEvidence
from scoring.handbook.what_lowers_grip import GRIP_FAULTS
from scoring.handbook.worked_out_effect import MeanMultiplier
from scoring.limits.assumptions import PLANNING_VALUE
from scoring.records import DAYS_PER_YEAR, has_mounting

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Ints = NDArray[np.int64]

NAME = "grip"
LABEL = "grip of the joint"
CHECKS = tuple(dict.fromkeys(check for fault in GRIP_FAULTS for check in fault.checks))

MOST = {LOW_SPEED_BEARING: 3.0, SEAL_LEAK: 1.5}
"""A grip that is lost multiplies the hazard of bearing and seal by no more; planning values. [-]"""

RATIO_OF_MOST = 0.5
"""Grip left, over that as specified, at which it is as bad as none for bearing and seal; between
that and a whole grip the logarithm follows that of what is left; planning value of ours. [-]"""

STEP_OF_SPREAD = 0.025
"""Steps in which it is told how well margins are known. [-]"""

ROWS_AT_ONCE = 1_000
"""Rows whose slips are worked out in one go, which the cache holds. Ours."""

UNCERTAINTY = {LOW_SPEED_BEARING: 0.5, SEAL_LEAK: 0.5, JOINT_SLIP: 0.3}
"""Standard deviation of the logarithm of the multiplier over that logarithm. [-]"""

_BY_RATIO = (
    "our own calculation of the grip found over that as specified; what it multiplies by: "
    f"{PLANNING_VALUE}"
)
ORIGIN = {
    LOW_SPEED_BEARING: _BY_RATIO,
    SEAL_LEAK: _BY_RATIO,
    JOINT_SLIP: "our own calculation of the slip margin, given the peaks survived; how often a "
    f"joint slips by its margin: {PLANNING_VALUE}",
}

_NODES, _WEIGHTS = np.polynomial.hermite_e.hermegauss(31)
_NORMAL = _WEIGHTS / _WEIGHTS.sum()


def grip_multiplier(mode: str, evidence: UnitEvidence) -> MeanMultiplier:
    """Return by what the grip multiplies a hazard at each unit.

    Parameters
    ----------
    mode : str
        The failure.
    evidence : UnitEvidence
        What was known, limits, the grip as found, how usual faults are.

    Returns
    -------
    MeanMultiplier
        Of bearing and seal against a joint whose grip is whole; of a slip against usual joints of
        that mounting whose nameplate says as much, which slip at the field rate, and 1 for a keyed
        bore. [-]

    Notes
    -----
    The mean over how much of the grip may be lost (``grip_loss``): for bearing and seal of
    ``times_by_loss``; for a slip of the hazard over the year ahead of a joint that has survived
    since it was hung (``slip_hazards``). Its margin as specified is drawn towards what joints
    usually have, in the measure in which rating and torque are estimated or assumed. A worse
    finding moves shares to greater losses, and no hazard falls with them: so no worse finding
    lowers the mean. A grip that is not relied on counts as none.
    """
    return _by_shares(mode, evidence, grip_loss(evidence))


def grip_mean(mode: str, evidence: UnitEvidence) -> Floats:
    """Return the mean of ``grip_multiplier`` [-] at each unit, shape (n_units,); quick.

    Parameters
    ----------
    mode : str
        The failure of bearing or seal.
    evidence : UnitEvidence
        What was known, limits, the grip as found, how usual faults are.
    """
    lost = grip_loss_of_distinct_joints(evidence)
    return rows_times(lost.shares, times_by_loss(mode))[lost.which]


def log_not_credited(mode: str, evidence: UnitEvidence) -> Floats:
    """Return what hypothetical re-work takes off a hazard's logarithm without being credited it.

    Parameters
    ----------
    mode : str
        The failure.
    evidence : UnitEvidence
        What would be known after the re-work.

    Returns
    -------
    ndarray, shape (n_units,)
        From 0 up, and 0 but where a joint would be relied on that is not. [-]

    Notes
    -----
    A joint that is not relied on is judged by the worst, which is a bound. Its cure is credited
    what it takes off what the joint likely lost (``grip_loss_as_likely``); the rest of the bound
    stays.
    """
    withheld = np.zeros(len(evidence.known.units))
    if evidence.known.hypothetical is None:
        return withheld
    lifted = _lifted(evidence)
    if not len(lifted.rows):
        return withheld
    pair = lifted.evidence, lifted.evidence.before
    after, bound = (grip_multiplier(mode, one).mean for one in pair)
    likely_after, likely = (_by_shares(mode, one, grip_loss_as_likely(one)).mean for one in pair)
    credited = np.clip(bound - likely + likely_after, after, np.maximum(bound, after))
    withheld[lifted.rows] = np.log(credited / after)
    return withheld


@dataclass(frozen=True)
class _Lifted:
    """Joints that hypothetical re-work would make ones to rely on, and what was known of them."""

    rows: Ints
    evidence: UnitEvidence


def _lifted(evidence: UnitEvidence) -> _Lifted:
    """Return them; kept, for it is asked for each failure."""
    found = evidence.worked_out.get("lifted")
    if not isinstance(found, _Lifted):
        rows = np.flatnonzero(relied_on(evidence) & ~relied_on(evidence.before))
        found = evidence.worked_out["lifted"] = _Lifted(rows, evidence.at(rows))
    return found


def grip_where_nobody_looked(mode: str, evidence: UnitEvidence) -> Floats:
    """Return the mean multiplier at each unit, had nobody looked at its joint, shape (n_units,)."""
    return _by_shares(mode, evidence, grip_loss_where_nobody_looked(evidence)).mean


def times_by_loss(mode: str) -> Floats:
    """Return what each of ``LOSSES`` multiplies the hazard of bearing or seal by.

    Parameters
    ----------
    mode : str
        Which of both.

    Returns
    -------
    ndarray, shape (n_losses,)
        Never falling, at most ``MOST``. [-]

    Examples
    --------
    >>> times_by_loss("low_speed_bearing")[[0, 4, -1]].round(2).tolist()
    [1.0, 1.37, 3.0]
    """
    share = np.minimum(LOSSES / -np.log(RATIO_OF_MOST), 1.0)
    times: Floats = MOST[mode] ** share
    return times


def usual_mean(mode: str, mounting: str) -> float:
    """Return the mean multiplier [-] where nobody has looked, by the handbook."""
    if mode == JOINT_SLIP:
        return 1.0  # against usual joints
    return float(usual_grip_loss(mounting) @ times_by_loss(mode))


def _by_shares(mode: str, evidence: UnitEvidence, lost: Floats) -> MeanMultiplier:
    if mode == JOINT_SLIP:
        return _against_usual(evidence, lost)
    times = times_by_loss(mode)
    return MeanMultiplier.of(rows_times(lost, times), rows_times(lost, times**2))


def log_margin_as_specified(grip: JointGrip) -> tuple[Floats, Floats]:
    """Return middle and deviation of each log margin as specified, drawn towards what is usual.

    Parameters
    ----------
    grip : JointGrip
        With rating and demand, and how well both are known.

    Returns
    -------
    tuple of ndarray, shape (n_units,)
        Normal laws of a margin with a normal prior, textbook. [-]
    """
    usual, prior = np.log(MARGIN_AS_SPECIFIED), SPREAD_OF_MARGINS**2
    weight = prior / (prior + grip.spread_as_specified**2)
    with np.errstate(divide="ignore"):
        computed = np.log(grip.rating / grip.demand)
    known = np.isfinite(computed)
    middle = np.where(known, usual + weight * (np.where(known, computed, usual) - usual), usual)
    return middle, np.sqrt(np.where(known, 1 - weight, 1.0) * prior)


@cache
def usual_slips(mounting: str) -> float:
    """Return the mean [-] of ``slips_of_a_margin`` over usual joints of a mounting."""
    log_margin = np.log(MARGIN_AS_SPECIFIED) + SPREAD_OF_MARGINS * _NODES
    slips = slips_of_a_margin(np.exp(log_margin[:, np.newaxis] - LOSSES))
    return float(_NORMAL @ slips @ usual_grip_loss(mounting))


@cache
def usual_hazard(mounting: str, spread: float) -> float:
    """Return the mean hazard [1/year] of usual joints whose margin is known so well.

    Parameters
    ----------
    mounting : str
        How it holds the shaft.
    spread : float
        Deviation of the log margin once it is drawn towards what is usual. [-]
    """
    of_middles = np.sqrt(max(SPREAD_OF_MARGINS**2 - spread**2, 0.0))
    middle = np.log(MARGIN_AS_SPECIFIED) + of_middles * _NODES
    hazard, _ = _by_loss(slip_hazards(spread, usual_slips(mounting)), middle, np.array(USUAL_YEARS))
    return float(_NORMAL @ hazard @ usual_grip_loss(mounting))


def without_grip(mounting: str) -> float:
    """Return the multiplier [-] of a joint without any grip, its margin known as usual.

    Parameters
    ----------
    mounting : str
        How it holds the shaft.
    """
    spread = SPREAD_OF_MARGINS
    hazards = slip_hazards(spread, usual_slips(mounting))
    worst, _ = hazards.at(LOG_MARGINS[:1], np.zeros(1))
    return float(worst[0]) / usual_hazard(mounting, spread)


def _by_loss(hazards: SlipHazards, middle: Floats, years: Floats) -> tuple[Floats, Floats]:
    """Return hazard and mean square at each loss, shape (n_units, n_losses)."""
    return hazards.at(_margins(middle), np.atleast_1d(years)[:, np.newaxis])


def _margins(middle: Floats, losses: Floats = LOSSES) -> Floats:
    """Return the logarithm of the margin at each loss, shape (n_units, n_losses)."""
    margins: Floats = np.maximum(middle[:, np.newaxis] - losses, LOG_MARGINS[0])
    return margins


def _clamped_alike(evidence: UnitEvidence) -> Iterator[tuple[Flags, SlipHazards, float, Floats]]:
    """Give the units whose margin is known as well: hazards, the usual one, middles of all."""
    middle, spread = log_margin_as_specified(evidence.grip)
    # in few steps, for each is worked out once; no finding and no load moves it
    spread = np.maximum(np.round(spread / STEP_OF_SPREAD), 3) * STEP_OF_SPREAD
    mounting = evidence.known.units["mounting"].cat.codes.to_numpy()
    for code, name in enumerate(EVERY_MOUNTING):
        if name not in CLAMPED:
            continue
        for kind in np.unique(spread[mounting == code]):
            hazards = slip_hazards(float(kind), usual_slips(name))
            alike = (mounting == code) & (spread == kind)
            yield alike, hazards, usual_hazard(name, float(kind)), middle


def _against_usual(evidence: UnitEvidence, lost: Floats) -> MeanMultiplier:
    known = evidence.known
    years = known.history["joint_age_days"].to_numpy(dtype=np.float64) / DAYS_PER_YEAR
    mean, of_means, square = np.ones((3, len(known.units)))
    for units, hazards, usual, middle in _clamped_alike(evidence):
        rows = np.flatnonzero(units)
        hazard, squared = _by_loss(hazards, middle[rows], years[rows])
        mean[rows] = row_sums(hazard * lost[rows]) / usual
        of_means[rows] = row_sums(hazard**2 * lost[rows]) / usual**2
        square[rows] = row_sums(squared * lost[rows]) / usual**2
    of_means = np.maximum(of_means, mean**2)
    return MeanMultiplier(
        mean, np.log(of_means / mean**2), np.log(np.maximum(square, of_means) / of_means)
    )


def mean_slips_since_hung(evidence: UnitEvidence, which: Ints, years: Floats) -> Floats:
    """Return the mean of ``grip_multiplier`` for a slip, of units each at several ages.

    Parameters
    ----------
    evidence : UnitEvidence
        What was known of the units.
    which : ndarray of int, shape (n_rows,)
        The unit of each row.
    years : ndarray, shape (n_rows,)
        For how long the joint has been in service since it was hung. [year]

    Returns
    -------
    ndarray, shape (n_rows,)
        Without the mean square, which takes as long again. [-]
    """
    lost, mean = grip_loss_of_distinct_joints(evidence), np.ones(len(which))
    may_be = lost.shares > 0
    farthest = (may_be[:, :-1] * np.arange(len(LOSSES) - 1)).max(axis=1)
    farthest += len(LOSSES) * may_be[:, -1]  # or all of their grip
    joint = lost.which[which]
    for units, hazards, usual, middle in _clamped_alike(evidence):
        every = np.flatnonzero(units[which])
        # joints that may have lost as much stand together, and no other loss is reckoned with
        every = every[np.argsort(farthest[joint[every]], kind="stable")]
        for start in range(0, len(every), ROWS_AT_ONCE):
            rows = every[start : start + ROWS_AT_ONCE]
            losses = np.flatnonzero(may_be[joint[rows]].any(axis=0))
            shares = lost.shares[joint[rows][:, np.newaxis], losses]
            margins = _margins(middle[which[rows]], LOSSES[losses])
            hazard = hazards.ahead_at(margins, years[rows, np.newaxis])
            mean[rows] = row_sums(hazard * shares) / usual
    return mean


def not_here(mode: str, evidence: UnitEvidence) -> Flags:
    """Tell at which units grip has no effect: no keyed bore slips by its grip."""
    friction = has_mounting(evidence.known.units, CLAMPED)
    return ~friction if mode == JOINT_SLIP else np.zeros(len(friction), dtype=bool)
