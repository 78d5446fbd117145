"""How likely the cures on record succeeded, of which nobody has looked since."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.usual_states import CHANCE_THAT_REWORK_SUCCEEDS
from scoring.contract.rework import with_brought
from scoring.timeline import Timeline
from scoring.timeline.resets import LatestResets
from scoring.what_if.action_arrays import ACTION_AT, ACTION_NAMES, CHECK_NAMES, CURES, Flags
from scoring.what_if.rework_success import ReworkSuccess

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


def chance_that_cures_succeeded(
    timeline: Timeline, as_of: pd.Timestamp, success: ReworkSuccess
) -> pd.DataFrame:
    """Return for each check the chance that its latest cure on record succeeded.

    Parameters
    ----------
    timeline : Timeline
        The records.
    as_of : Timestamp
        The day; what was written down later does not count.
    success : ReworkSuccess
        How often each action succeeds.

    Returns
    -------
    DataFrame, shape (n_units_of_fleet, n_checks)
        Missing where no cure is on record; the usual chance where the repair of a failure,
        and no row of re-work, cured it. [-]
    """
    then = timeline.in_the_order_known(as_of)
    size, today = len(then.fleet.units), np.datetime64(as_of.date(), "D")
    latest = LatestResets.as_of(then.resets, today, size)
    of_rework = then.records.of_table["rework"]
    code, flags = done_in_rows(then.fleet.rework["actions"])
    of_texts = _chances(flags, success)
    columns = {}
    for place, name in enumerate(CHECK_NAMES):
        position = latest.cure[name]
        chance = np.full(size, np.nan)
        some = np.flatnonzero(position >= 0)
        chance[some] = CHANCE_THAT_REWORK_SUCCEEDS
        record = then.records.record_at[position[some]]
        by_rework = (record >= of_rework.start) & (record < of_rework.stop)
        chance[some[by_rework]] = of_texts[code[record[by_rework] - of_rework.start], place]
        columns[name] = chance
    return pd.DataFrame(columns)


def done_in_rows(actions: "pd.Series[str]") -> tuple[Ints, Flags]:
    """Return what rows of re-work did, brought actions included, each distinct text once.

    Parameters
    ----------
    actions : Series of str, shape (n_rows,)
        The column ``actions``.

    Returns
    -------
    tuple of ndarray
        Which distinct text each row has, and flags, shape (n_texts, n_actions).
    """
    code, texts = pd.factorize(actions.to_numpy(dtype=object))
    flags: Flags = np.zeros((len(texts), len(ACTION_NAMES)), dtype=bool)
    for place, text in enumerate(texts):
        done = [one.name for name in str(text).split(";") for one in with_brought(name.strip())]
        flags[place, [ACTION_AT[name] for name in done]] = True
    return code.astype(np.int64), flags


def _chances(flags: Flags, success: ReworkSuccess) -> Floats:
    """Return the chance that at least one of the actions that cure each check succeeded."""
    misses = np.where(flags[:, :, np.newaxis] & CURES, 1 - success.chance[:, np.newaxis], 1.0)
    chances: Floats = 1 - misses.prod(axis=1)
    return chances
