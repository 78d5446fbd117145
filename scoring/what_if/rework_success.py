"""How often re-work succeeds: learned from the look after it, drawn to what is usual."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.usual_states import CHANCE_THAT_REWORK_SUCCEEDS
from scoring.contract.rework import with_brought
from scoring.contract.walkdowns import AFTER_REWORK
from scoring.timeline import Timeline
from scoring.timeline.what_stands import WhatStands
from scoring.what_if.action_arrays import ACTION_AT, ACTION_NAMES, CHECK_NAMES, CURES, Flags

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

LOOKS_OF_THE_USUAL = 20.0
"""Looks after re-work that the usual chance is worth; planning value of ours. [-]"""

_GRID = (np.arange(20_000) + 0.5) / 20_000


@dataclass(frozen=True)
class ReworkSuccess:
    """How often each action succeeds.

    Attributes
    ----------
    table : DataFrame, shape (n_actions, 6)
        ``action``; ``looks``: jobs after which somebody looked at what had been found wrong;
        ``succeeded``: those that found it right; ``chance`` that it succeeds, and the ``low`` and
        ``high`` end of its 90 % interval. [-]
    """

    table: pd.DataFrame

    @property
    def chance(self) -> Floats:
        """Chance [-] that each action succeeds, in the order of the contract."""
        values: Floats = self.table["chance"].to_numpy(dtype=np.float64)
        return values


def learn_rework_success(timeline: Timeline, as_of: pd.Timestamp) -> ReworkSuccess:
    """Learn how often each action succeeds.

    Parameters
    ----------
    timeline : Timeline
        The records.
    as_of : Timestamp
        The day; what was written down later does not count.

    Returns
    -------
    ReworkSuccess

    Notes
    -----
    One job is one row of re-work and one of its actions. It counts if a check that the action
    cures, and no other action of that row, stood as worse than good, and if the first look at that
    check afterwards is a walkdown after re-work, before any other re-work of that check and before
    the unit is hung anew. It succeeded if every such check was found good. So no look
    counts twice. The chance is (succeeded + 20 x 0.85) / (looks + 20): a beta law, textbook. A look
    that misses a fault counts as a cure; nothing corrects for that.
    """
    jobs = _jobs(timeline, as_of)
    by_job = jobs.groupby(["rework", "action"], sort=False)["bad_after"].any()
    action = by_job.index.get_level_values("action").to_numpy(dtype=np.int64)
    size = len(ACTION_NAMES)
    looks = np.bincount(action, minlength=size)
    succeeded = np.bincount(action[~by_job.to_numpy(dtype=bool)], minlength=size)
    return rework_success(looks, succeeded)


def rework_success(looks: Ints, succeeded: Ints) -> ReworkSuccess:
    """Draw counts of jobs that succeeded towards the usual chance.

    Parameters
    ----------
    looks, succeeded : ndarray of int, shape (n_actions,)
        Jobs looked at afterwards, and those of them that succeeded.

    Returns
    -------
    ReworkSuccess

    Examples
    --------
    >>> none = np.zeros(len(ACTION_NAMES), dtype=np.int64)
    >>> rework_success(none, none).table[["chance", "low", "high"]].round(2).values[0].tolist()
    [0.85, 0.7, 0.96]
    """
    usual = LOOKS_OF_THE_USUAL * CHANCE_THAT_REWORK_SUCCEEDS
    one = succeeded.astype(np.float64) + usual
    other = (looks - succeeded).astype(np.float64) + (LOOKS_OF_THE_USUAL - usual)
    low, high = (_quantile(one, other, share) for share in (0.05, 0.95))
    columns = {
        "action": ACTION_NAMES,
        "looks": looks,
        "succeeded": succeeded,
        "chance": one / (one + other),
    }
    return ReworkSuccess(pd.DataFrame({**columns, "low": low, "high": high}))


def _quantile(one: Floats, other: Floats, share: float) -> Floats:
    """Return a quantile of beta laws, off a fine grid."""
    logs = np.outer(one - 1, np.log(_GRID)) + np.outer(other - 1, np.log1p(-_GRID))
    weight = np.exp(logs - logs.max(axis=1, keepdims=True)).cumsum(axis=1)
    place = (weight < share * weight[:, -1:]).sum(axis=1)
    quantile: Floats = _GRID[np.minimum(place, len(_GRID) - 1)]
    return quantile


def _jobs(timeline: Timeline, as_of: pd.Timestamp) -> pd.DataFrame:
    """Return checks that stood as worse than good before re-work and were looked at after it."""
    then = timeline.in_the_order_known(as_of)
    stands = then.what_stands(as_of)
    sole = _sole_action(then.fleet.rework["actions"])
    kind = (then.fleet.walkdowns["kind"] == AFTER_REWORK).to_numpy()
    parts = [
        _jobs_of_check(then, stands[name], sole[:, n], kind) for n, name in enumerate(CHECK_NAMES)
    ]
    return pd.concat(parts, ignore_index=True)


def _sole_action(actions: "pd.Series[str]") -> Ints:
    """Return the one action of each row that cures each check, -1 for none or several."""
    code, texts = pd.factorize(actions.to_numpy(dtype=object))
    flags: Flags = np.zeros((len(texts), len(ACTION_NAMES)), dtype=bool)
    for place, text in enumerate(texts):
        names = [one.name for name in text.split(";") for one in with_brought(name)]
        flags[place, [ACTION_AT[name] for name in names]] = True
    cures = flags[:, :, np.newaxis] & CURES
    sole = np.where(cures.sum(axis=1) == 1, cures.argmax(axis=1), -1)
    return sole[code].astype(np.int64).reshape(len(actions), len(CHECK_NAMES))


def _jobs_of_check(
    timeline: Timeline, stands: WhatStands, sole: Ints, is_after_rework: Flags
) -> pd.DataFrame:
    """Return for one check the jobs that cured it, whether it was bad before, and after."""
    looks = stands.looks.where(
        stands.looks.row < len(is_after_rework)
    )  # none that a slip stands for
    turns = stands.turns
    position, unit = turns.position, turns.unit
    until = np.append(position[1:], len(timeline.records.unit))
    if len(looks.position) == 0:
        return pd.DataFrame({name: [] for name in _DTYPES}).astype(_DTYPES)
    stood = stands.before(unit, position)
    before = (stood >= 0) & (stands.looks.exceedance[stood] > 0) & stands.are_cured(turns, stood)
    after = np.searchsorted(looks.position, position, side="right")
    there = after < len(looks.position)
    first = np.minimum(after, len(looks.position) - 1)
    there &= (looks.position[first] < until) & (looks.unit[first] == unit)
    there &= is_after_rework[looks.row[first]]
    row = timeline.row_of_rework(position)
    action = np.where(row >= 0, np.append(sole, -1)[row], -1)
    counts = there & before & (action >= 0)
    bad = looks.exceedance[first] > 0
    return pd.DataFrame({"rework": row, "action": action, "bad_after": bad})[counts]


_DTYPES = {"rework": "int64", "action": "int64", "bad_after": "bool"}
