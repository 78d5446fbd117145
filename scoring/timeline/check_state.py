"""What was known of one check, at every unit, as of a day."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import Check, Seen
from scoring.timeline.known import Status
from scoring.timeline.last_per_unit import last_worst_of_each
from scoring.timeline.leaks import DRIPPING
from scoring.timeline.looks import Looks
from scoring.timeline.resets import LatestResets

SYMPTOM_MONTHS = 12
"""A symptom seen earlier is forgotten. [month]"""

Days = NDArray[np.datetime64]


@dataclass(frozen=True)
class CheckState:
    """What was known of one check, in the order of ``Fleet.units``.

    Attributes
    ----------
    row : ndarray of int, shape (n_units,)
        The walkdown whose value stands, -1 where none does.
    exceedance : ndarray of float, shape (n_units,)
        How bad that value is; missing where none stands.
    status : ndarray of int8, shape (n_units,)
        A ``Status``.
    seen_on : ndarray of datetime64[D], shape (n_units,)
        When it was seen, or its cure reported.
    ignored : tuple of ndarray of int
        Units, rows of looks that found it better without a re-hang, and rows that stand.
    """

    row: NDArray[np.int64]
    exceedance: NDArray[np.float64]
    status: NDArray[np.int8]
    seen_on: Days
    ignored: tuple[NDArray[np.int64], NDArray[np.int64], NDArray[np.int64]]


def state_of_check(
    check: Check, looks: Looks, latest: LatestResets, day_at: Days, as_of: pd.Timestamp
) -> CheckState:
    """Return what was known of a check by the end of a day.

    Parameters
    ----------
    check : Check
        The check.
    looks : Looks
        The walkdowns that saw it.
    latest : LatestResets
        The resets known by then.
    day_at : ndarray of datetime64[D], shape (n_records,)
        Day of the record at each position.
    as_of : Timestamp
        The day.

    Returns
    -------
    CheckState
    """
    size = len(latest.off_shaft)
    today = np.datetime64(as_of.date(), "D")
    void = latest.void_before(check.name)
    looks = looks.where((looks.known_from <= today) & (looks.position > void[looks.unit]))
    lasting = lasting_exceedance(check, looks)
    standing = looks.where(last_worst_of_each(looks.unit, lasting))
    ignored = _better_later(looks, lasting, standing, size)
    seen_again = np.zeros(size, dtype=bool)
    seen_again[standing.unit] = True
    if check.symptom:
        standing = standing.where(_remembered(check, standing, as_of))

    row = np.full(size, -1, dtype=np.int64)
    exceedance = np.full(size, np.nan)
    seen_on = np.full(size, np.datetime64("NaT"), dtype="datetime64[D]")
    row[standing.unit] = standing.row
    exceedance[standing.unit] = standing.exceedance
    # Once seen again, a cure is no longer what is known, even where that look is forgotten.
    cured = (latest.cure[check.name] >= 0) & (latest.cure[check.name] == void) & ~seen_again
    status = np.where(row >= 0, Status.SEEN, np.where(cured, Status.REPORTED_CURED, 0))
    seen_on[cured] = day_at[void[cured]]
    seen_on[standing.unit] = standing.day
    return CheckState(row, exceedance, status.astype(np.int8), seen_on, ignored)


def outlasts_looks(check: Check) -> bool:
    """Tell whether a finding at this check stands although a later look finds it better."""
    return check.seen is Seen.HANGING or check.name == "seal_weep"


def lasting_exceedance(check: Check, looks: Looks) -> NDArray[np.float64]:
    """Return how bad each look is as far as a later and better look cannot mend it.

    A finding made while hanging stands until the unit is hung anew; a seal that drips leaks until
    it is renewed; of everything else the newest look counts.
    """
    if check.seen is Seen.HANGING:
        return looks.exceedance
    if check.name == "seal_weep":
        return np.where(looks.exceedance == DRIPPING, 1.0, 0.0)
    return np.zeros(len(looks.exceedance))


def _remembered(check: Check, standing: Looks, as_of: pd.Timestamp) -> NDArray[np.bool_]:
    """Forget symptoms in time; a seal that drips is no symptom but a leak, and stands."""
    cutoff = np.datetime64((as_of - pd.DateOffset(months=SYMPTOM_MONTHS)).date(), "D")
    recent: NDArray[np.bool_] = standing.day >= cutoff
    return recent | (lasting_exceedance(check, standing) > 0)


def _better_later(
    looks: Looks, lasting: NDArray[np.float64], standing: Looks, size: int
) -> tuple[NDArray[np.int64], NDArray[np.int64], NDArray[np.int64]]:
    """Find looks that found the check better than a finding made before, which stands."""
    row = np.full(size, -1, dtype=np.int64)
    row[standing.unit] = standing.row
    if not lasting.any():
        return looks.unit[:0], looks.row[:0], looks.row[:0]
    worst_so_far = pd.Series(lasting).groupby(looks.unit, sort=False).cummax().to_numpy()
    better = lasting < worst_so_far
    return looks.unit[better], looks.row[better], row[looks.unit[better]]
