"""Sensible sets of re-work for each unit: what cures its findings, singly and together."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.assessment import Assessment
from scoring.contract.rework import ACTION_BY_NAME
from scoring.contract.walkdowns import CHECK_BY_NAME
from scoring.rules.rule import Severity
from scoring.what_if.action_arrays import (
    ACTION_AT,
    ACTION_NAMES,
    CHECK_NAMES,
    CURES,
    FITS,
    OFF_SHAFT,
    Flags,
)

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

ALL_SUBSETS_OF = 5
"""Of how many of a unit's actions, the best by the hour, every set is weighed. Ours."""


@dataclass(frozen=True)
class Useful:
    """What is worth thinking of at each unit.

    Attributes
    ----------
    actions : ndarray of bool, shape (n_units, n_actions)
        Actions that cure an open finding.
    for_holds : ndarray of bool, shape (n_units, n_actions)
        Of these the ones that the findings name which must be cured before the unit may run.
    """

    actions: Flags
    for_holds: Flags


def useful_actions(assessment: Assessment) -> Useful:
    """Return the actions that cure what was found at each unit.

    Parameters
    ----------
    assessment : Assessment
        The fleet.

    Returns
    -------
    Useful
        Findings that somebody accepted, and what is only watched, ask for no re-work.
    """
    known, open_findings = assessment.known, assessment.findings.open()
    found = open_findings[(open_findings["severity"] > Severity.WATCH)]
    unit = found["unit"].to_numpy(dtype=np.int64)
    curing = {name: CURES[:, place] for place, name in enumerate(CHECK_NAMES)}
    named = np.array([ACTION_AT.get(str(name), -1) for name in found["action"]], dtype=np.int64)
    shape = (len(known.units), len(ACTION_NAMES))
    actions, for_holds = np.zeros(shape, dtype=bool), np.zeros(shape, dtype=bool)
    for check, rows in found.groupby("check").indices.items():
        if check in CHECK_BY_NAME:
            actions[unit[rows]] |= curing[str(check)]
    actions[unit[named >= 0], named[named >= 0]] = True  # a joint that slips is no check
    hold = (found["severity"] == Severity.HOLD).to_numpy() & (named >= 0)
    for_holds[unit[hold], named[hold]] = True
    fit = FITS[known.units["mounting"].cat.codes.to_numpy()]
    return Useful(actions & fit, for_holds & fit)


def sets_of_actions(useful: Useful, merit: Floats) -> tuple[Ints, Flags]:
    """Return the sets of actions to be weighed at each unit.

    Parameters
    ----------
    useful : Useful
        What is worth thinking of.
    merit : ndarray, shape (n_units, n_actions)
        What each action alone avoids an hour of its own; decides only which sets are weighed.

    Returns
    -------
    tuple of ndarray
        Units, and actions as flags, shape (n_sets, n_actions); no set twice.

    Notes
    -----
    Every action by itself; every set of the five best; and, growing by one action at a time, best
    first: those done with the unit on its shaft, all, and all after those that lift a hold.
    """
    on_shaft = useful.actions & ~OFF_SHAFT
    best = np.where(useful.actions, merit, -np.inf)
    sets = [
        *_singles(useful.actions),
        *_subsets(useful.actions, best),
        *_growing(on_shaft, np.where(on_shaft, merit, -np.inf)),
        *_growing(useful.actions, best),
        *_growing(useful.actions, np.where(useful.for_holds, np.inf, best)),
        useful.for_holds,
    ]
    unit = np.tile(np.arange(len(useful.actions)), len(sets))
    return _distinct(unit, np.concatenate(sets))


def _distinct(unit: Ints, flags: Flags) -> tuple[Ints, Flags]:
    """Drop empty sets and those that come twice."""
    code = flags.astype(np.int64) @ (1 << np.arange(len(ACTION_NAMES)))
    some = np.flatnonzero(code > 0)
    _, first = np.unique((unit[some] << len(ACTION_NAMES)) | code[some], return_index=True)
    keep = some[first]
    return unit[keep], flags[keep]


def _singles(actions: Flags) -> list[Flags]:
    return [actions & (np.arange(len(ACTION_NAMES)) == place) for place in range(len(ACTION_NAMES))]


def _rank(merit: Floats) -> Ints:
    """Return the place of each action in its unit's order, the best first."""
    rank: Ints = np.argsort(np.argsort(-merit, axis=1, kind="stable"), axis=1)
    return rank


def _subsets(actions: Flags, merit: Floats) -> list[Flags]:
    rank = _rank(merit)
    top = actions & (rank < ALL_SUBSETS_OF)
    return [top & ((mask >> np.minimum(rank, 62)) & 1 > 0) for mask in range(1, 2**ALL_SUBSETS_OF)]


def _growing(actions: Flags, merit: Floats) -> list[Flags]:
    rank = _rank(merit)
    most = int(actions.sum(axis=1).max(initial=0))
    return [actions & (rank < size) for size in range(1, most + 1)]


if len(ACTION_BY_NAME) >= 40:
    raise AssertionError("a set of actions no longer fits beside its unit in one number")
