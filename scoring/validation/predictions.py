"""What was predicted of units as of earlier days, and what became of them."""

from dataclasses import dataclass, replace

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.handbook.base_rates import BASE_RATES
from scoring.handbook.handbook_hazard import age_exposure
from scoring.learning.covariates import State
from scoring.learning.failure_rows import FailureRows, shares_of_ages
from scoring.learning.hazard_ratio import HazardRatio
from scoring.records import DAYS_PER_YEAR

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

HANDBOOK, FLEET, COUNT = "handbook", "handbook and fleet", "count of findings"
REGRESSION = "plain regression"
"""By what is predicted."""

KEYS = ("since", "failure_mode", "place")
"""Which unit is predicted, of which failure, as of which day."""

OTHERS, OTHERS_AND_FLEET = "handbook and other plants", "handbook, other plants and fleet"
"""What hazards rest on where learning began with other plants."""


@dataclass(frozen=True)
class Followed:
    """Units at risk as of one day, and what became of them.

    Attributes
    ----------
    mode : str
        The failure.
    place : ndarray of int, shape (n_units,)
        The unit, as its place in ``Fleet.units``.
    state : State
        What was known of it that day.
    log_base, age_years : ndarray, shape (n_units,)
        As in ``RowsOfMode``, that day.
    years : ndarray, shape (n_units,)
        How long it was followed: to its first failure, to its leaving, or to the next day of
        ``FailureRows.days``. [year]
    failed : ndarray of bool, shape (n_units,)
        Whether it failed.
    horizon_years : float
        From that day to the next. [year]
    """

    mode: str
    place: Ints
    state: State
    log_base: Floats
    age_years: Floats
    years: Floats
    failed: Flags
    horizon_years: float

    def predict(self, learned: HazardRatio | None) -> tuple[Floats, Floats]:
        """Return the failures expected [-] within the horizon, and within what was followed.

        Parameters
        ----------
        learned : HazardRatio, optional
            What failures up to that day said; by default the handbook alone.

        Returns
        -------
        tuple of ndarray, shape (n_units,)
        """
        horizon, followed = (
            self._expected(learned, years)
            for years in (np.full(len(self.years), self.horizon_years), self.years)
        )
        return horizon, followed

    def _expected(self, learned: HazardRatio | None, years: Floats) -> Floats:
        rate, age, end = BASE_RATES[self.mode], self.age_years, self.age_years + years
        aged = age_exposure(rate, age, end)
        logs = self.state.log_multipliers.sum(axis=1, dtype=np.float64)
        expected: Floats = np.exp(self.log_base + logs) * aged
        if learned is None:
            return expected
        early, old = shares_of_ages(self.mode, age, end)
        state = replace(self.state, early=early, old=old)
        return expected * np.exp(learned.log_ratio(state))


def followed_from(rows: FailureRows, mode: str, day: int) -> Followed:
    """Return the units at risk as of one of the days, and what became of them up to the next.

    Parameters
    ----------
    rows : FailureRows
        Failures beside what may explain them.
    mode : str
        The failure.
    day : int
        Which of ``rows.days``, not the last.

    Returns
    -------
    Followed
        A seal that leaks already is not at risk.
    """
    one = rows.modes[mode]
    after = np.flatnonzero(rows.period == day + 1)
    first = np.append(True, np.diff(rows.place[after]) > 0)[: len(after)]
    starts = after[first]
    number = np.cumsum(first) - 1
    failed_row = np.full(len(starts), len(rows))
    hit = one.events[after, -1] > 0
    np.minimum.at(failed_row, number[hit], after[hit])
    failed = failed_row < len(rows)
    last = np.append(np.flatnonzero(first)[1:], len(after)) - 1
    end = np.where(failed, failed_row, after[last] if len(after) else 0)
    since = rows.days[day]
    keep = np.flatnonzero((rows.start_on[starts] == since) & (one.years[starts] > 0))
    start, end = starts[keep], end[keep]
    years = (rows.stop_on[end] - since) / np.timedelta64(1, "D") / DAYS_PER_YEAR
    horizon = (rows.days[day + 1] - since) / np.timedelta64(1, "D") / DAYS_PER_YEAR
    return Followed(
        mode,
        rows.place[start],
        one.state_by(rows.place, day).where(start),
        one.log_base[start],
        one.age_years[start],
        years,
        failed[keep],
        float(horizon),
    )


def predictions(
    followed: Followed, since: np.datetime64, learned: HazardRatio | None
) -> pd.DataFrame:
    """Lay what was predicted beside what came true.

    Parameters
    ----------
    followed : Followed
        Units and what became of them.
    since : datetime64[D]
        The day.
    learned : HazardRatio, optional
        What failures up to that day said; where nothing was, the handbook stands for it.

    Returns
    -------
    DataFrame, shape (n_units, 11)
        ``since``, ``failure_mode``, ``place``, ``site``, ``years`` followed, ``failed``; expected
        failures within the horizon by ``handbook`` and ``handbook and fleet``, with the ``count of
        findings`` beside them; and within what was followed, ``expected_handbook`` and
        ``expected_fleet``.
    """
    horizon, within = followed.predict(None)
    learned_horizon, learned_within = followed.predict(learned)
    sites = np.array(followed.state.sites, dtype=object)
    return pd.DataFrame(
        {
            "since": np.full(len(followed.place), since).astype("datetime64[s]"),
            "failure_mode": followed.mode,
            "place": followed.place,
            "site": sites[followed.state.site],
            "years": followed.years,
            "failed": followed.failed,
            HANDBOOK: horizon,
            FLEET: learned_horizon,
            COUNT: (followed.state.bad == 1).sum(axis=1).astype(np.float64),
            "expected_handbook": within,
            "expected_fleet": learned_within,
        }
    )
