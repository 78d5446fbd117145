"""Every set of re-work worth weighing, with what it takes and what it avoids."""

import numpy as np
import pandas as pd

from scoring.assessment import Assessment, FleetAssessor
from scoring.planning.sets_of_actions import (
    Useful,
    first_of_each,
    sets_of_actions,
    useful_actions,
)
from scoring.what_if.action_arrays import ACTION_NAMES, Flags, words_of_actions
from scoring.what_if.candidates import Candidates, candidates_of
from scoring.what_if.rework_success import ReworkSuccess
from scoring.what_if.site_efforts import SiteEfforts
from scoring.what_if.what_if import what_if

SMALLEST = 1e-9
"""Less is a rounding of the machine's arithmetic. [currency]"""


def weigh_bundles(
    assessor: FleetAssessor, assessment: Assessment, success: ReworkSuccess, efforts: SiteEfforts
) -> pd.DataFrame:
    """Weigh the sensible sets of re-work of every unit.

    Parameters
    ----------
    assessor : FleetAssessor
        The fleet.
    assessment : Assessment
        How it stands.
    success : ReworkSuccess
        How often re-work succeeds.
    efforts : SiteEfforts
        What it takes at each site.

    Returns
    -------
    DataFrame, shape (n_bundles, ...)
        As ``what_if`` answers, by unit and hours. Left out: what avoids no loss and lifts no hold,
        and what another set of the same unit betters.
    """
    useful = useful_actions(assessment)
    candidates = candidate_sets(assessor, assessment, useful, success, efforts)
    weighed = what_if(assessor, assessment, candidates, success, efforts)
    return worth_weighing(weighed)


def answered_already(bundles: pd.DataFrame, candidates: Candidates) -> pd.DataFrame | None:
    """Return what ``what_if`` answered to one question when every set was weighed.

    Parameters
    ----------
    bundles : DataFrame
        As weighed.
    candidates : Candidates
        The question.

    Returns
    -------
    DataFrame, shape (1, ...), or None
        None where it asks of several sets, or of what a look would find, or the set was left out.
    """
    if len(candidates) != 1 or candidates.looked is not None:
        return None
    start, end = np.searchsorted(bundles["unit"], candidates.unit[0] + np.array([0, 1]))
    of_unit = bundles.iloc[start:end]
    same = of_unit["actions"] == words_of_actions(candidates.actions)[0]
    return of_unit[same].reset_index(drop=True) if same.any() else None


def candidate_sets(
    assessor: FleetAssessor,
    assessment: Assessment,
    useful: Useful,
    success: ReworkSuccess,
    efforts: SiteEfforts,
) -> Candidates:
    """Return the sets of actions to be weighed, brought actions included, no set twice.

    Parameters
    ----------
    assessor, assessment : FleetAssessor, Assessment
        The fleet, and how it stands.
    useful : Useful
        What is worth thinking of at each unit.
    success : ReworkSuccess
        How often re-work succeeds.
    efforts : SiteEfforts
        What it takes at each site.

    Returns
    -------
    Candidates
    """
    unit, action = np.nonzero(useful.actions)
    singles = np.zeros((len(unit), len(ACTION_NAMES)), dtype=bool)
    singles[np.arange(len(unit)), action] = True
    alone = what_if(
        assessor, assessment, candidates_of(assessment.known, unit, singles), success, efforts
    )
    gain = (alone["expected_loss"] - alone["loss_after_credited"]).to_numpy()
    merit = np.zeros(useful.actions.shape)
    merit[unit, action] = gain / np.maximum(alone["hours"].to_numpy(), SMALLEST)
    both = candidates_of(assessment.known, *sets_of_actions(useful, merit))
    return _without_doubles(both)


def _without_doubles(candidates: Candidates) -> Candidates:
    """Leave out sets that are the same once what they bring is counted."""
    return candidates.where(first_of_each(candidates.unit, candidates.actions))


def worth_weighing(weighed: pd.DataFrame) -> pd.DataFrame:
    """Leave out what avoids nothing, and what another set of the same unit betters.

    Parameters
    ----------
    weighed : DataFrame, shape (n_sets, ...)
        With ``unit``, ``hours``, ``people``, ``crane``, ``lead_days``, ``loss_avoided`` and
        ``clears_hold``.

    Returns
    -------
    DataFrame
        By unit, hours and loss avoided.

    Notes
    -----
    A set is bettered by one that takes no more of anything, avoids no less and lifts the hold if
    it does; of two that are equal in all this the first stays.
    """
    avoids = (weighed["loss_avoided"] > SMALLEST) | weighed["clears_hold"]
    some = weighed[avoids].sort_values(
        ["unit", "hours", "loss_avoided", "cost"],
        ascending=[True, True, False, True],
        kind="stable",
    )
    some = some.reset_index(drop=True)
    return some[~_bettered(some)].reset_index(drop=True)


def _bettered(sets: pd.DataFrame) -> Flags:
    """Tell which sets another one of the same unit betters; sets are sorted by unit and hours."""
    unit = sets["unit"].to_numpy()
    less_is_better = np.column_stack(
        [
            sets["hours"],
            sets["people"],
            sets["crane"],
            sets["lead_days"],
            -sets["loss_avoided"],
            ~sets["clears_hold"],
        ]
    ).astype(np.float64)
    bettered = np.zeros(len(sets), dtype=bool)
    start = np.searchsorted(unit, unit)
    most = int(np.bincount(unit).max(initial=0)) if len(unit) else 0
    for back in range(1, most):  # against the set that stands so many places before
        here = np.flatnonzero(np.arange(len(unit)) - back >= start)
        if len(here) == 0:
            break
        one, other = less_is_better[here], less_is_better[here - back]
        bettered[here] |= (other <= one + SMALLEST).all(axis=1)
        worse = (one <= other + SMALLEST).all(axis=1) & (one < other - SMALLEST).any(axis=1)
        bettered[here[worse] - back] = True
    return bettered
