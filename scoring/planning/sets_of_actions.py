"""Sensible sets of re-work for each unit: what cures its findings, singly and together."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.assessment import Assessment
from scoring.contract.rework import ACTION_BY_NAME
from scoring.rules.cure_of_a_finding import curing_at, named_at
from scoring.rules.rule import Severity
from scoring.rules.rulebook import NAMED_SOMEWHERE
from scoring.what_if.action_arrays import ACTION_NAMES, FITS, OFF_SHAFT, Flags

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_NAMED_BY_NOTHING: Flags = np.array([name not in NAMED_SOMEWHERE for name in ACTION_NAMES])

ALL_SUBSETS_OF = 5
"""Of how many of a unit's actions, the best by the hour, every set is weighed. Ours."""


@dataclass(frozen=True)
class Useful:
    """What is worth thinking of at each unit.

    Attributes
    ----------
    actions : ndarray of bool, shape (n_units, n_actions)
        Actions that open findings name, and those that can cure one and that nothing names.
    for_holds : ndarray of bool, shape (n_units, n_actions)
        Of these the ones that the findings name which must be cured before the unit may run.
    """

    actions: Flags
    for_holds: Flags


def useful_actions(assessment: Assessment) -> Useful:
    """Return the actions that are weighed at each unit: those that its ranking and pages name.

    Parameters
    ----------
    assessment : Assessment
        The fleet.

    Returns
    -------
    Useful
        Findings that somebody accepted, and what is only watched, ask for no re-work.
    """
    size = len(assessment.known.units)
    found = _to_be_cured(assessment)
    named = named_at(found, size)
    unnamed = curing_at(found, assessment.known) & _NAMED_BY_NOTHING
    for_holds = named_at(found[found["severity"] == Severity.HOLD], size)
    fit = FITS[assessment.known.units["mounting"].cat.codes.to_numpy()]
    return Useful((named | unnamed) & fit, for_holds & fit)


def possible_cures(assessment: Assessment) -> Flags:
    """Return every action that can cure something that was found at each unit.

    Parameters
    ----------
    assessment : Assessment
        The fleet.

    Returns
    -------
    ndarray of bool, shape (n_units, n_actions)
    """
    found, known = _to_be_cured(assessment), assessment.known
    fit: Flags = FITS[known.units["mounting"].cat.codes.to_numpy()]
    return (curing_at(found, known) | named_at(found, len(known.units))) & fit


def _to_be_cured(assessment: Assessment) -> pd.DataFrame:
    findings = assessment.findings.open()
    return findings[findings["severity"] >= Severity.CORRECT]


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
    Every action by itself; every set of the five best, those that lift a hold before all others,
    for without them nothing is avoided; and, growing by one action at a time, best
    first: those done with the unit on its shaft, all, and all after those that lift a hold.
    """
    on_shaft = useful.actions & ~OFF_SHAFT
    best = np.where(useful.actions, merit, -np.inf)
    first_of_all = np.where(useful.for_holds, np.inf, best)  # else nothing is avoided
    sets = [
        *_singles(useful.actions),
        *_subsets(useful.actions, first_of_all),
        *_growing(on_shaft, np.where(on_shaft, merit, -np.inf)),
        *_growing(useful.actions, best),
        *_growing(useful.actions, first_of_all),
        useful.for_holds,
    ]
    unit = np.tile(np.arange(len(useful.actions)), len(sets))
    return _distinct(unit, np.concatenate(sets))


def _distinct(unit: Ints, flags: Flags) -> tuple[Ints, Flags]:
    """Drop empty sets and those that come twice."""
    some = np.flatnonzero(flags.any(axis=1))
    keep = some[first_of_each(unit[some], flags[some])]
    return unit[keep], flags[keep]


def first_of_each(unit: Ints, actions: Flags) -> Ints:
    """Return where each set of actions of a unit comes first, by unit.

    Parameters
    ----------
    unit : ndarray of int, shape (n_sets,)
        Whose sets they are.
    actions : ndarray of bool, shape (n_sets, n_actions)
        What is in each, of 30 actions or so.

    Returns
    -------
    ndarray of int, shape (n_distinct,)

    Examples
    --------
    >>> sets = np.array([[True, False], [False, True], [True, False], [True, True], [False, False]])
    >>> first_of_each(np.array([1, 0, 1, 0, 1]), sets).tolist()
    [1, 3, 4, 0]
    """
    count = actions.shape[1]
    code = actions.astype(np.int64) @ (1 << np.arange(count))
    _, first = np.unique((unit << count) | code, return_index=True)
    return first


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
