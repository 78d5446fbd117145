"""Days whose order a record written down late has changed.

Where all records of a unit's day have a time, the times decide their order. A record without a
time that is written down later ends that; until then the times did decide.
"""

from dataclasses import replace

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.records import Fleet
from scoring.timeline.order import Records

Ints = NDArray[np.int64]
Days = NDArray[np.datetime64]


def spans_of_another_order(records: Records) -> tuple[Ints, Days, Days]:
    """Return when the known records of some unit's day stood in another order than all of them.

    Parameters
    ----------
    records : Records
        All records.

    Returns
    -------
    unit : ndarray of int, shape (n_spans,)
        Which unit.
    since, until : ndarray of datetime64[D], shape (n_spans,)
        First day of each span, and the day after its last.
    """
    key = records.unit_day
    late = ~records.timed & (records.known_from > records.day)
    prompt = ~records.timed & ~late
    if not (late.any() and records.timed.any()):
        return records.unit[:0], records.day[:0], records.day[:0]
    # of few units: days of all others need not be looked up
    of_late = np.zeros(int(records.unit.max()) + 2, dtype=bool)
    of_late[records.unit[late]] = True
    beside, prompt = (some & of_late[records.unit] for some in (records.timed, prompt))
    changed = np.isin(key[late], key[beside]) & ~np.isin(key[late], key[prompt])
    of_day = pd.DataFrame(
        {
            "key": key[late],
            "unit": records.unit[late],
            "since": records.day[late],
            "until": records.known_from[late],
        }
    )[changed].groupby("key")
    since, until = of_day["since"].first().to_numpy(), of_day["until"].min().to_numpy()
    unit = of_day["unit"].first().to_numpy()
    return unit, since.astype("datetime64[D]"), until.astype("datetime64[D]")


def known_part(
    fleet: Fleet, exceedance: pd.DataFrame, records: Records, today: np.datetime64
) -> tuple[Fleet, pd.DataFrame]:
    """Return the fleet, and the exceedance of its walkdowns, without records not known by a day."""
    known = {name: records.known_from[part] <= today for name, part in records.of_table.items()}
    tables = {name: fleet.table(name)[here].reset_index(drop=True) for name, here in known.items()}
    return replace(fleet, **tables), exceedance[known["walkdowns"]].reset_index(drop=True)
