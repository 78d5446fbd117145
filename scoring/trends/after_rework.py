"""What became of re-work: cured by record, seen afterwards, found again."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.assessment import FleetAssessor
from scoring.records import units_with
from scoring.timeline import Timeline
from scoring.timeline.looks import Looks
from scoring.timeline.resets import Resets
from scoring.timeline.what_stands import WhatStands

Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

LOOK_AFTER_REWORK_DAYS = 90
"""Days within which re-work is looked at; planning value of ours. [d]"""

FOUND_WRONG, FOUND_GOOD, NOT_SEEN_BEFORE = "found wrong", "found good", "not seen"
SUCCEEDED, DID_NOT_SUCCEED, NOT_LOOKED_AT = "succeeded", "did not succeed", "not looked at since"

COLUMNS = (
    "rework_id",
    "unit_id",
    "site",
    "done_on",
    "actions",
    "crew",
    "check",
    "before",
    "after",
    "seen_on",
    "found_again_on",
    "open",
)
"""Columns of ``seen_after_rework``."""

_NO_DAY = np.datetime64("NaT", "D")


def seen_after_rework(assessor: FleetAssessor, as_of: pd.Timestamp) -> pd.DataFrame:
    """Hold what re-work cured by record against what was seen afterwards.

    Parameters
    ----------
    assessor : FleetAssessor
        The fleet.
    as_of : Timestamp
        The day; what was written down later does not count.

    Returns
    -------
    DataFrame, shape (n_cures, 12)
        One row for each row of re-work and each check that it cures: ``rework_id``, ``unit_id``,
        ``site``, ``done_on``, ``actions``, ``crew``; ``check``; ``before``: found wrong, found
        good or not seen; ``after``: succeeded, did not succeed, not looked at since; ``seen_on``:
        the day of the first look after it; ``found_again_on``: the first day after a cure seen good
        on which it was found wrong again; ``open``: whether nothing has made the cure void, so that
        it can still be looked at. What needs a part, and got none, is not cured.

    Notes
    -----
    Looks count up to the next re-work of the same check or the next renewal, at joint and arm up
    to the next time that the unit is hung anew. A walkdown of any kind is a look.
    """
    timeline = assessor.timeline.in_the_order_known(as_of)
    parts = [_of_check(timeline, stands) for stands in timeline.what_stands(as_of).values()]
    cures = pd.concat(parts, ignore_index=True)
    rework, units = timeline.fleet.rework, timeline.fleet.units
    row, unit = cures.pop("row").to_numpy(np.int64), cures.pop("unit").to_numpy(np.int64)
    of_rework = {n: rework[n].array.take(row) for n in ("rework_id", "done_on", "actions", "crew")}
    of_units = {name: units[name].array.take(unit) for name in ("unit_id", "site")}
    table: pd.DataFrame = cures.assign(**of_rework, **of_units)[list(COLUMNS)]
    return table.sort_values(["done_on", "rework_id"], kind="stable", ignore_index=True)


def overdue_looks(seen: pd.DataFrame, units: pd.DataFrame, as_of: pd.Timestamp) -> pd.DataFrame:
    """List re-work that nobody has looked at in time.

    Parameters
    ----------
    seen : DataFrame
        From ``seen_after_rework`` of the same day.
    units : DataFrame
        The table ``units``; only units in service are listed.
    as_of : Timestamp
        The day.

    Returns
    -------
    DataFrame
        One row for each row of re-work, the oldest first: ``rework_id``, ``unit_id``, ``site``,
        ``done_on``, ``actions``, ``days`` since then [d], ``checks`` to be looked at.
    """
    hung = units["installed_on"].dt.normalize() <= as_of
    in_service = hung & ~(units["out_of_service_on"].dt.normalize() <= as_of)
    there = seen["unit_id"].isin(units.loc[in_service, "unit_id"])
    days = (as_of.normalize() - seen["done_on"].dt.normalize()).dt.days
    late = (seen["after"] == NOT_LOOKED_AT) & seen["open"] & there
    some = seen.assign(days=days)[late & (days > LOOK_AFTER_REWORK_DAYS)]
    by_rework = some.groupby("rework_id", sort=False)
    columns = ["unit_id", "site", "done_on", "actions", "days"]
    table: pd.DataFrame = by_rework[columns].first()
    table["checks"] = by_rework["check"].agg(";".join) if len(some) else pd.Series(dtype=object)
    return table.reset_index()


def came_back(seen: pd.DataFrame) -> pd.DataFrame:
    """List findings that were found again after their cure had been seen.

    Parameters
    ----------
    seen : DataFrame
        From ``seen_after_rework``.

    Returns
    -------
    DataFrame
        ``unit_id``, ``site``, ``check``, ``rework_id``, ``actions``, ``done_on``, ``seen_on`` (seen
        good), ``found_again_on`` and ``days`` from the cure to it [d]; the newest first.
    """
    some = seen[seen["found_again_on"].notna()]
    days = (some["found_again_on"] - some["done_on"].dt.normalize()).dt.days
    columns = ["unit_id", "site", "check", "rework_id", "actions"]
    columns += ["done_on", "seen_on", "found_again_on"]
    table = some[columns].assign(days=days)
    return table.sort_values("found_again_on", ascending=False, kind="stable", ignore_index=True)


def _of_check(timeline: Timeline, stands: WhatStands) -> pd.DataFrame:
    """Return what became of the cures of one check."""
    check, resets = stands.check, stands.turns
    looks = stands.looks.where(stands.looks.row < len(timeline.fleet.walkdowns))
    spells = _Spells.of(resets, looks, len(timeline.records.unit))
    row = timeline.row_of_rework(resets.position)
    has_it = units_with(check, timeline.fleet.units)[resets.unit]
    stood = stands.before(resets.unit, resets.position)
    keep = np.flatnonzero(stands.are_cured(resets, stood) & (row >= 0) & has_it)
    wrong = np.append(stands.looks.exceedance, np.nan)[stood] > 0
    before = np.select([stood < 0, wrong], [NOT_SEEN_BEFORE, FOUND_WRONG], FOUND_GOOD)
    first, again = spells.first_look[keep], spells.found_again[keep]
    bad = np.append(looks.exceedance > 0, [False])[first]
    after = np.select([first < 0, bad], [NOT_LOOKED_AT, DID_NOT_SUCCEED], SUCCEEDED)
    day = np.append(looks.day, _NO_DAY)
    return pd.DataFrame(
        {
            "row": row[keep],
            "unit": resets.unit[keep],
            "check": np.full(len(keep), check.name, dtype=object),
            "before": before[keep].astype(object),
            "after": after.astype(object),
            "seen_on": day[first].astype("datetime64[s]"),
            "found_again_on": day[np.where(bad, -1, again)].astype("datetime64[s]"),
            "open": spells.last[keep],
        }
    )


@dataclass(frozen=True)
class _Spells:
    """What was seen of a check after each record from which on looks tell of something new.

    Looks are told by their place among all looks at the check; -1 for none.
    """

    first_look: Ints
    found_again: Ints
    last: Flags

    @classmethod
    def of(cls, resets: Resets, looks: Looks, n_records: int) -> "_Spells":
        position, unit = resets.position, resets.unit
        until = np.append(position[1:], n_records)[: len(position)]
        same = np.append(unit[1:] == unit[:-1], False)[: len(unit)]
        place = np.searchsorted(looks.position, position)

        def there(look: Ints) -> Ints:
            """Leave out looks at another unit, or after the spell."""
            least = np.minimum(look, len(looks.unit) - 1)
            if len(looks.unit) == 0:
                return np.full(len(unit), -1, dtype=np.int64)
            ok = (look < len(looks.unit)) & (looks.unit[least] == unit)
            return np.where(ok & (looks.position[least] < until), look, -1).astype(np.int64)

        first = there(place)
        again = there(_next_bad(looks)[np.minimum(first + 1, len(looks.unit))])
        return cls(first, np.where(first < 0, -1, again), ~same)


def _next_bad(looks: Looks) -> Ints:
    """Return for each look, and for none after the last, the place of the next bad one."""
    size = len(looks.exceedance)
    own = np.where(looks.exceedance > 0, np.arange(size), size)
    following = np.minimum.accumulate(np.append(own, size)[::-1])[::-1]
    return following.astype(np.int64)
