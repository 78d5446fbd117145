"""Open holds: how many at each month's end, and since when each has stood."""

from collections.abc import Sequence

import numpy as np
import pandas as pd

from scoring.trends.month_ends import AGE_EDGES_DAYS, AGE_LABELS, StateAtMonthEnd


def held_since(states: Sequence[StateAtMonthEnd]) -> pd.DataFrame:
    """Tell since when each unit on hold has stood so, month's end by month's end.

    Parameters
    ----------
    states : sequence of StateAtMonthEnd
        The newest first, without a gap.

    Returns
    -------
    DataFrame
        By month-end, the oldest first: ``month_end``, ``unit_id``, ``since`` and ``days`` [d].

    Notes
    -----
    A unit that is held at one month's end after the other has been held all the while, from the
    day on which what holds it was first seen, as known at the first of them. What was lifted and
    came back within a month is not told apart. A hold that began before the first month's end, and
    was seen again since, is younger here than it is.
    """
    since: pd.Series[pd.Timestamp] = pd.Series(dtype="datetime64[s]")
    tables = []
    for state in reversed(states):
        held = state.held.set_index("unit_id")["seen_on"]
        before = since.reindex(held.index)
        since = pd.concat([held, before], axis=1).min(axis=1)
        table = pd.DataFrame({"month_end": state.day, "unit_id": since.index, "since": since.array})
        tables.append(table.assign(days=(state.day - table["since"]).dt.days))
    return pd.concat(tables, ignore_index=True)


def holds_by_age(states: Sequence[StateAtMonthEnd]) -> pd.DataFrame:
    """Count open holds by month-end and age.

    Parameters
    ----------
    states : sequence of StateAtMonthEnd
        The newest first, without a gap.

    Returns
    -------
    DataFrame
        ``month_end``, ``age`` and ``holds``; every age at every month's end.
    """
    held = held_since(states)
    place = np.digitize(held["days"].to_numpy(np.float64), AGE_EDGES_DAYS, right=True)
    counts = pd.crosstab(held["month_end"], np.array(AGE_LABELS, dtype=object)[place])
    days = pd.DatetimeIndex([state.day for state in reversed(states)], name="month_end")
    counts = counts.reindex(index=days, columns=list(AGE_LABELS), fill_value=0)
    return counts.melt(ignore_index=False, var_name="age", value_name="holds").reset_index()
