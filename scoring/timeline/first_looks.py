"""What was first seen at each unit as it was hung first, before re-work changed anything."""

import numpy as np
import pandas as pd

from scoring.contract import CHECKS
from scoring.contract.walkdowns import AFTER_REWORK
from scoring.timeline.known import Known, Status
from scoring.timeline.looks import Looks
from scoring.timeline.timeline import Timeline


def first_looks(timeline: Timeline, as_of: pd.Timestamp) -> Known:
    """Return the first look at each check of each unit ever hung, as recorded by a day.

    Parameters
    ----------
    timeline : Timeline
        The records.
    as_of : Timestamp
        The day; what was written down later does not count.

    Returns
    -------
    Known
        One row for each unit of ``Fleet.units``, in its order, out of service or not. Looks after
        re-work of that unit, and after it was hung anew, tell of another day's work and are not in
        it. ``history`` has one column: ``crew``, who hung it first.
    """
    today = np.datetime64(as_of.date(), "D")
    then = timeline.in_the_order_known(as_of)
    units, walkdowns = then.fleet.units, then.fleet.walkdowns
    after = (walkdowns["kind"] == AFTER_REWORK).to_numpy(dtype=bool)
    first_work = np.full(len(units), np.iinfo(np.int64).max)
    recorded = then.resets.known_from <= today
    np.minimum.at(first_work, then.resets.unit[recorded], then.resets.position[recorded])

    def first(looks: Looks) -> Looks:
        counts = (looks.known_from <= today) & ~after[looks.row]
        some = looks.where(counts & (looks.position < first_work[looks.unit]))
        return some.where(np.append(True, some.unit[1:] != some.unit[:-1])[: len(some.unit)])

    found, exceedance, status, seen_on = {}, {}, {}, {}
    for check in CHECKS:
        looks = first(then.looks[check.name])
        row = np.full(len(units), -1)
        row[looks.unit] = looks.row
        said = walkdowns[check.name].array
        found[check.name] = pd.Series(pd.api.extensions.take(said, row, allow_fill=True))
        bad, day = np.full(len(units), np.nan), np.full(len(units), np.datetime64("NaT", "D"))
        bad[looks.unit], day[looks.unit] = looks.exceedance, looks.day
        exceedance[check.name], seen_on[check.name] = bad, day.astype("datetime64[s]")
        status[check.name] = np.where(row >= 0, Status.SEEN, Status.NOT_SEEN).astype(np.int8)
    return Known(
        as_of=as_of,
        units=units,
        place=np.arange(len(units)),
        found=pd.DataFrame(found, copy=False),
        exceedance=pd.DataFrame(exceedance, copy=False),
        status=pd.DataFrame(status, copy=False),
        seen_on=pd.DataFrame(seen_on, copy=False),
        history=pd.DataFrame({"crew": units["installer"]}),
        better_but_ignored=pd.DataFrame(),
    )
