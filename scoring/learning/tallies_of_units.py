"""A unit's own failures without what may explain them: all that learned effects ask of a unit."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.handbook.handbook_hazard import log_base
from scoring.learning.exposure_periods import exposure_periods
from scoring.learning.failure_rows import aged_years, log_kind, plates_of
from scoring.learning.own_failures import FailureTally
from scoring.timeline import Timeline


def tallies_of_units(
    timeline: Timeline, days: NDArray[np.datetime64], *, are_kept: bool | None = None
) -> dict[str, FailureTally]:
    """Return failures and what was expected of each unit, to be counted up to any day.

    Parameters
    ----------
    timeline : Timeline
        The records.
    days : ndarray of datetime64[D], shape (n_days,)
        As for ``failure_rows``; what was written down after the last does not count.
    are_kept : bool, optional
        As for ``exposure_periods``.

    Returns
    -------
    dict of str to FailureTally
        For each failure; digit for digit those of ``failure_rows``.

    Notes
    -----
    What was expected is that of the unit's kind, so that no finding has a part in it.
    """
    periods = exposure_periods(timeline, pd.Timestamp(days[-1]), days[:-1], are_kept=are_kept)
    rows, units = periods.rows, timeline.fleet.units
    place = rows["place"].to_numpy()
    start_on, stop_on = (
        rows[column].to_numpy().astype("datetime64[D]") for column in ("start_on", "stop_on")
    )
    tallies = {}
    for mode, plate in plates_of(units).items():
        aged = aged_years(mode, periods)
        kind = log_kind(units, plate, log_base(units, plate))[place]
        failures = np.where(aged > 0, rows[mode].to_numpy(), 0).astype(np.float64)
        expected = np.exp(kind) * aged
        tallies[mode] = FailureTally(len(units), place, start_on, stop_on, failures, expected)
    return tallies
