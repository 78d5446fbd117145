"""What was known of one check, at every unit, as of a day."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import Check
from scoring.timeline.known import Status
from scoring.timeline.looks import Looks
from scoring.timeline.resets import LatestResets
from scoring.timeline.what_hanging_does import GOOD_IS_LOST, lasting_exceedance
from scoring.timeline.what_stands import WhatStands

SYMPTOM_MONTHS = 12
"""A symptom seen earlier is forgotten. [month]"""

Days = NDArray[np.datetime64]
Ints = NDArray[np.int64]


@dataclass(frozen=True)
class CheckState:
    """What was known of one check, in the order of ``Fleet.units``.

    Attributes
    ----------
    row : ndarray of int, shape (n_units,)
        The walkdown whose value stands, as in ``Looks``; -1 where none does.
    exceedance : ndarray of float, shape (n_units,)
        How bad that value is; missing where none stands.
    status : ndarray of int8, shape (n_units,)
        A ``Status``.
    seen_on : ndarray of datetime64[D], shape (n_units,)
        When it was seen, or its cure reported.
    at_home : ndarray of bool, shape (n_units,)
        Whether the unit was seen home when it was seen; for two checks alone.
    ignored : tuple of ndarray of int
        Units, rows of looks that found it better without a re-hang, and rows that stand.
    """

    row: Ints
    exceedance: NDArray[np.float64]
    status: NDArray[np.int8]
    seen_on: Days
    at_home: NDArray[np.bool_]
    ignored: tuple[Ints, Ints, Ints]


def state_of_check(
    stands: WhatStands, latest: LatestResets, until: Ints, day_at: Days, as_of: pd.Timestamp
) -> CheckState:
    """Return what was known of a check by the end of a day.

    Parameters
    ----------
    stands : WhatStands
        The check, its looks and what may end them, as known by then.
    latest : LatestResets
        The resets known by then.
    until : ndarray of int, shape (n_units,)
        The position at which the records of each unit end.
    day_at : ndarray of datetime64[D], shape (n_records,)
        Day of the record at each position.
    as_of : Timestamp
        The day.

    Returns
    -------
    CheckState
    """
    check, looks = stands.check, stands.looks
    size = len(until)
    look = stands.before(np.arange(size), until)
    ignored = _better_later(stands, look)
    cured_at = _cure_that_is_known(stands, look, latest, until)
    seen = np.flatnonzero(look >= 0)
    if check.symptom:
        seen = seen[_remembered(check, looks.where(look[seen]), as_of)]
    standing = looks.where(look[seen])

    row = np.full(size, -1, dtype=np.int64)
    exceedance = np.full(size, np.nan)
    seen_on = np.full(size, np.datetime64("NaT"), dtype="datetime64[D]")
    at_home = np.zeros(size, dtype=bool)
    row[seen] = standing.row
    exceedance[seen] = standing.exceedance
    at_home[seen] = stands.at_home[look[seen]]
    cured = cured_at >= 0
    status = np.where(row >= 0, Status.SEEN, np.where(cured, Status.REPORTED_CURED, 0))
    seen_on[cured] = day_at[cured_at[cured]]
    seen_on[seen] = standing.day
    return CheckState(row, exceedance, status.astype(np.int8), seen_on, at_home, ignored)


def _cure_that_is_known(stands: WhatStands, look: Ints, latest: LatestResets, until: Ints) -> Ints:
    """Return the position of the cure that is the last that is known of a check; -1 for none.

    Once seen again, a cure is no longer what is known, even where that look is forgotten or lost.
    """
    name = stands.check.name
    cured_at = np.full(len(look), -1, dtype=np.int64)
    cured = np.flatnonzero((latest.cure[name] >= 0) & (look < 0))
    if len(cured) == 0:
        return cured_at
    cure = latest.cure[name][cured]
    seen = np.full(len(look), -1, dtype=np.int64)
    seen[stands.looks.unit] = stands.looks.position  # positions rise: the last one stays
    ends = np.append(stands.ends(damage=False), -1)
    ended = ends[np.searchsorted(ends[:-1], until[cured]) - 1]
    known = (cure == ended) & (cure > seen[cured])
    if name in GOOD_IS_LOST:
        known &= latest.off_shaft[cured] <= cure
    cured_at[cured[known]] = cure[known]
    return cured_at


def _remembered(check: Check, standing: Looks, as_of: pd.Timestamp) -> NDArray[np.bool_]:
    """Forget symptoms in time; a seal that drips is no symptom but a leak, and stands."""
    cutoff = np.datetime64((as_of - pd.DateOffset(months=SYMPTOM_MONTHS)).date(), "D")
    recent: NDArray[np.bool_] = standing.day >= cutoff
    return recent | (lasting_exceedance(check, standing) > 0)


def _better_later(stands: WhatStands, look: Ints) -> tuple[Ints, Ints, Ints]:
    """Find looks that found the check better than a finding made before, which stands."""
    looks = stands.looks
    lasting = lasting_exceedance(stands.check, looks)
    if not lasting.any():
        return looks.unit[:0], looks.row[:0], looks.row[:0]
    row = np.where(look >= 0, looks.row[look], -1)[looks.unit]
    better = stands.on_last_page & (lasting < lasting[stands.worst]) & (row >= 0)
    return looks.unit[better], looks.row[better], row[better]
