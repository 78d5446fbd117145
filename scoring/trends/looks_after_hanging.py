"""What was first seen of each step after a unit was hung: what the crew that hung it had left."""

import numpy as np
import pandas as pd

from scoring.contract import CHECKS, Check
from scoring.contract.declaration import About
from scoring.contract.walkdowns import AFTER_REWORK
from scoring.timeline.timeline import Timeline

WITHIN_DAYS = 90
"""Later looks tell of service as much as of the hanging; planning value of ours. [d]"""

NO_STEP_OF_HANGING = frozenset({"witness_mark", "screws_rechecked"})
"""What shows a slip, and what is done again days later, perhaps by others."""

COLUMNS = ("unit_id", "mounting", "crew", "hung_on", "check", "wrong")
"""Columns of ``looks_after_hanging``."""


def is_step(check: Check) -> bool:
    """Tell whether a check shows how well a unit was hung.

    Examples
    --------
    >>> from scoring.contract import CHECK_BY_NAME
    >>> [is_step(CHECK_BY_NAME[n]) for n in ("isolators_free", "shaft_runout_mm", "seal_weep")]
    [True, False, False]
    """
    made_by_others = check.about is About.SHAFT or check.name in NO_STEP_OF_HANGING
    return not (check.symptom or made_by_others)


def looks_after_hanging(timeline: Timeline, as_of: pd.Timestamp) -> pd.DataFrame:
    """Return the first look at each step of each hanging, as recorded by a day.

    Parameters
    ----------
    timeline : Timeline
        The records.
    as_of : Timestamp
        The day; what was written down later does not count.

    Returns
    -------
    DataFrame
        ``unit_id``, ``mounting``, ``crew`` that hung the unit (missing where not written down),
        ``hung_on``, ``check``, ``wrong``: whether it was found worse than good.

    Notes
    -----
    Looks count within ``WITHIN_DAYS`` of the hanging and before any re-work of the unit: after it
    they tell of other people's work. Of a unit hung anew only what hanging makes anew whatever it
    was counts, for what else is wrong may have been so before. How the shaft is, no crew that hangs
    a unit makes, so checks at it are no steps; nor are symptoms.
    """
    today = np.datetime64(as_of.date(), "D")
    then = timeline.in_the_order_known(as_of)
    units, walkdowns = then.fleet.units, then.fleet.walkdowns
    after_work = (walkdowns["kind"] == AFTER_REWORK).to_numpy(dtype=bool)
    resets = then.resets.where(then.resets.known_from <= today)
    installed = units["installed_on"].to_numpy().astype("datetime64[D]")
    crews = np.append(units["installer"].to_numpy(object), resets.crew_as_of(today))
    days = np.append(installed, resets.day)
    parts = []
    for check in filter(is_step, CHECKS):
        looks = then.looks[check.name]
        there = (looks.known_from <= today) & (looks.row < len(walkdowns))
        looks = looks.where(there & ~np.isnan(looks.exceedance))
        last = np.searchsorted(resets.position, looks.position) - 1
        same = np.zeros(len(last), dtype=bool)
        same[last >= 0] = resets.unit[last[last >= 0]] == looks.unit[last >= 0]
        anew = np.zeros(len(last), dtype=bool)
        if check.made_anew_by_hanging:
            anew[same] = resets.off_shaft[last[same]]
        hanging = np.where(same, len(units) + last, looks.unit)
        tells = np.where(same, anew, ~after_work[looks.row])
        tells &= (looks.day - days[hanging]).astype(np.int64) <= WITHIN_DAYS
        some = np.flatnonzero(tells)
        _, first = np.unique(hanging[some], return_index=True)
        kept = some[first]
        parts.append(
            pd.DataFrame(
                {
                    "unit": looks.unit[kept],
                    "crew": crews[hanging[kept]],
                    "hung_on": days[hanging[kept]].astype("datetime64[s]"),
                    "check": np.full(len(kept), check.name, dtype=object),
                    "wrong": looks.exceedance[kept] > 0,
                }
            )
        )
    table = pd.concat(parts, ignore_index=True)
    place = table.pop("unit").to_numpy(np.int64)
    table["unit_id"] = units["unit_id"].to_numpy(object)[place]
    table["mounting"] = units["mounting"].to_numpy(object)[place]
    return table[list(COLUMNS)]
