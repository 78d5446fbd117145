"""Expected loss of units as they would be known after a look, and re-work after it."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract.events import MODES
from scoring.looking.assessed_fleet import AssessedFleet
from scoring.timeline.known import Known
from scoring.what_if.action_arrays import ACTION_NAMES, Flags
from scoring.what_if.candidates import Candidates, candidates_of
from scoring.what_if.known_after import known_after
from scoring.what_if.parts_needed import parts_needed
from scoring.what_if.what_if import ROWS_AT_ONCE

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


def losses_of_rows(
    assessed_fleet: AssessedFleet, unit: Ints, actions: Flags, outcomes: pd.DataFrame, found: Ints
) -> tuple[Floats, Floats]:
    """Return the expected loss after looks that found something, and re-work; and its cost.

    Parameters
    ----------
    assessed_fleet : AssessedFleet
        How the fleet stands.
    unit : ndarray of int, shape (n_rows,)
        Places in ``known.units``.
    actions : ndarray of bool, shape (n_rows, n_actions)
        What is done after the looks.
    outcomes : DataFrame
        With ``check`` and ``value``.
    found : ndarray of int, shape (n_rows, n_looks)
        Rows of ``outcomes``; -1 for none.

    Returns
    -------
    tuple of ndarray, shape (n_rows,)
        Loss within the horizon, re-work credited what it cures, and cost of labour and
        parts. [currency]
    """
    loss, cost = np.zeros(len(unit)), np.zeros(len(unit))
    for start in range(0, len(unit), ROWS_AT_ONCE):
        part = slice(start, start + ROWS_AT_ONCE)
        known = looked_at(assessed_fleet, unit[part], outcomes, found[part])
        done = candidates_of(assessed_fleet.assessment.known, unit[part], actions[part]).actions
        own = np.arange(len(known.units))
        after = known_after(
            known,
            assessed_fleet.assessment.limits,
            Candidates(own, done),
            assessed_fleet.success.chance,
        )
        loss[part] = _losses(assessed_fleet, after, unit[part])
        work = assessed_fleet.efforts.work(known.units["site"], done, parts_needed(known))
        cost[part] = work["cost"].to_numpy()
    return loss, cost


def looked_at(
    assessed_fleet: AssessedFleet, unit: Ints, outcomes: pd.DataFrame, found: Ints
) -> Known:
    """Return what would be known of units after looks on the as-of day.

    Parameters
    ----------
    assessed_fleet : AssessedFleet
        How the fleet stands.
    unit : ndarray of int, shape (n_rows,)
        Places in ``known.units``.
    outcomes : DataFrame
        With ``check`` and ``value``.
    found : ndarray of int, shape (n_rows, n_looks)
        Rows of ``outcomes``; -1 for none.

    Returns
    -------
    Known
        One row for each.
    """
    check = np.append(outcomes["check"].to_numpy(dtype=object), "")[found]
    value = np.append(outcomes["value"].to_numpy(dtype=object), np.nan)[found]
    columns = {}
    for name in sorted(set(check.ravel()) - {""}):
        here = check == name
        values = np.full(len(unit), None, dtype=object)
        row, turn = np.nonzero(here)
        values[row] = value[row, turn]
        columns[name] = values
    nothing = np.zeros((len(unit), len(ACTION_NAMES)), dtype=bool)
    looked = pd.DataFrame(columns, index=range(len(unit))) if columns else None
    assessment = assessed_fleet.assessment
    return known_after(assessment.known, assessment.limits, Candidates(unit, nothing, looked), None)


def _losses(assessed_fleet: AssessedFleet, known: Known, unit: Ints) -> Floats:
    assessment = assessed_fleet.assessment
    limits, costs = assessment.limits.at(unit), assessment.risk.costs
    risks = assessment.yardstick.risks(known, limits, assessment.horizon_days)
    loss = np.zeros(len(unit))
    for mode in MODES:
        loss += risks[mode].credited * costs.of_failure(mode)[unit]
    return loss
